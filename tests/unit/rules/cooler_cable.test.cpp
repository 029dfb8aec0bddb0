// What a cable would lose at the temperature that its amps give it: the whole drop, like for like.
#include <doctest/doctest.h>

#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

std::string lead_of(const std::string& length, const std::string& power_factor) {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\nambient = \"30 degC\"\n[supply.s]\n"
           "system = \"230 V\"\nearthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 "
           "ohm\"\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"13 "
           "A\"\nresidual = { trip = \"30 mA\", wave = \"A\" }\n[stock.house]\ntype = \"PVC "
           "sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 "
           "mm2\"\ncores = 3\n[outlet.w]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\nearth = "
           "\"tested\"\ncable = { stock = \"house\", length = \"10 m\", method = \"C\" }\n[box.j]\nfrom = "
           "\"outlet.w\"\nplug = \"CEE 7/7\"\ncable = { stock = \"lead\", length = \"" +
           length +
           "\", grip = true }\n[load.a]\nfrom = \"box.j\"\nmotor = \"universal\"\nlatched = false\nplate = { "
           "current = \"9 A\", power_factor = " +
           power_factor + ", voltage = \"230 V\" }\n";
}

const rules::Outcome& drop_of(const Judged& bench) {
    for (const auto& o : bench.judgement().outcomes)
        if (rules::registry()[o.rule].id == "volts.running-drop") return o;
    FAIL("no drop");
    return bench.judgement().outcomes.front();
}

struct Cooler {
    std::string total, words;
};
Cooler cooler(const Judged& bench, const rules::Outcome& o) {
    Cooler found;
    for (const Step& step : rules::explain(bench.situation(), bench.judgement(), o).steps) {
        if (step.symbol == "dU%,cooler") found.total = step.result;
        if (step.words.find("no warmer than its amps") != std::string::npos) found.words = step.words;
    }
    return found;
}

}  // namespace

TEST_CASE("the total of a cooler cable is the whole drop, with the verdict that it would give") {
    // By hand: theta = 30 + (9 / 16)^2 * 30 = 39.5 degC, R' = 13.7 * (1 + 0.00393 * 19.5) = 14.75 ohm/km;
    // 9 A * (2 * 10 m * 8.866 + 2 * 37 m * 14.75) mohm/m = 11.42 V = 4.97 % instead of 5.28 %.
    const Judged bench = judged(lead_of("37 m", "1.0"));
    const rules::Outcome& o = drop_of(bench);
    CHECK(o.verdict == rules::Verdict::fail);
    const Cooler told = cooler(bench, o);
    CHECK(told.total.starts_with("4.9"));
    CHECK(told.words.find("it would be a caution.") != std::string::npos);
    const Judged longer = judged(lead_of("45 m", "1.0"));
    CHECK(cooler(longer, drop_of(longer)).words.find("still be a fail") != std::string::npos);
}

TEST_CASE("a lagging current is counted with its power factor in both totals") {
    // At 0.8 the part in phase is 7.2 A: 0.8 of the volts above and next to nothing for the reactance.
    const Judged bench = judged(lead_of("45 m", "0.8"));
    const rules::Outcome& o = drop_of(bench);
    const Cooler told = cooler(bench, o);
    const double rated = number(o.value), total = std::stod(told.total);
    CHECK(rated == doctest::Approx(0.8 * 9 * (0.17732 + 2 * 45 * 0.015854) / 2.30).epsilon(0.02));
    CHECK(total == doctest::Approx(0.8 * 9 * (0.17732 + 2 * 45 * 0.014749) / 2.30).epsilon(0.02));
}

TEST_CASE("a cooler cable never loses more, in any plan") {
    std::size_t seen = 0;
    for (const auto& path : plans_in(std::string(BENCHFEED_RULE_PLANS))) {
        CAPTURE(path.filename().string());
        const auto read = check(text::Document(path.string(), read_text(path)), catalogue());
        const auto* bench = std::get_if<Judged>(&read);
        if (!bench) continue;
        for (const auto& o : bench->judgement().outcomes) {
            if (rules::registry()[o.rule].id != "volts.running-drop") continue;
            const Cooler told = cooler(*bench, o);
            if (told.words.empty() || told.total.empty()) continue;
            CHECK(std::stod(told.total) <= number(o.value) * (1 + 1e-3));
            ++seen;
        }
    }
    CHECK(seen > 3);
}
