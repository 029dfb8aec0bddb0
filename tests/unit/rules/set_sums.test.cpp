#include <benchfeed/rules/set_sums.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

double number_of(const Measure& measure) {
    return std::holds_alternative<std::monostate>(measure) ? -1 : number(measure);
}

}  // namespace

TEST_CASE("a set that is added up once says of every limit what it says one limit at a time: 120 plans") {
    std::size_t volts = 0, starts = 0, on_three_lines = 0;
    for (unsigned seed = 1; seed <= test::rounds(120); ++seed) {
        CAPTURE(seed);
        BenchDice random(seed);
        BenchOptions options;
        options.loads = random.from(33, 45);
        options.extras = seed % 3 == 0;
        options.whole = seed % 2 == 0;
        options.factors_known = seed % 4 == 1;
        if (seed % 5 == 0) options.system = "120 V";
        if (seed % 11 == 0) options.system = "120/240 V";
        if (seed % 3 == 1) options.system = "230/400 V";
        if (seed % 13 == 0) options.system = "120/208 V";
        const bool three = options.system == "230/400 V";
        std::string text = random_bench(random, options);
        std::string loads;
        for (int i = 0; i < options.loads; ++i) loads += fmt::format("{}\"l{}\"", i > 0 ? ",\n" : "", i);
        if (three) {
            text +=
                "[load.press]\nfrom = \"box.main\"\nconductors = \"L1-L2-L3\"\nmotor = \"induction\"\n"
                "plate = { current = \"3 A\", voltage = \"400 V\", power_factor = 0.8 }\n";
            loads += ", \"press\"";
        }
        text += fmt::format("[[together]]\nname = \"all\"\nloads = [{}]\n", loads);
        if (seed % 7 == 0)
            text +=
                fmt::format("[[together]]\nname = \"half\"\nloads = [{}]\nstart_order = [\"l1\", \"l0\"]\n",
                            loads.substr(0, loads.find("\"l33\"") - 2));
        auto read = check(text::Document("plan.toml", text), catalogue());
        if (!std::holds_alternative<Judged>(read)) continue;  // a choice of loads that no plan allows
        const Judged judged = std::move(std::get<Judged>(read));
        const auto s = judged.situation();
        for (plan::Index set = 0; set < s.plan.sets.size(); ++set) {
            const auto& members = s.plan.sets[set].loads;
            const rules::SetSums sums(s, members);
            for (const auto& limit : judged.judgement().limits) {
                const auto one = rules::evaluate(s, limit, members), all = sums.evaluated(limit);
                REQUIRE(one.loads.empty() == all.loads.empty());
                if (one.loads.empty()) continue;
                CAPTURE(static_cast<int>(limit.reach.kind));
                CHECK(number_of(all.value) == doctest::Approx(number_of(one.value)).epsilon(2e-5));
                CHECK(number_of(all.at_weakest_source) ==
                      doctest::Approx(number_of(one.at_weakest_source)).epsilon(2e-5));
                CHECK(number_of(all.at_worst) == doctest::Approx(number_of(one.at_worst)).epsilon(2e-5));
                CHECK(rules::verdict_at(limit, all) == rules::verdict_at(limit, one));
                if (members.size() < 32) continue;
                volts += limit.reach.kind == rules::Reach::Kind::lost_to;
                starts += limit.reach.kind == rules::Reach::Kind::left_at_start;
                on_three_lines += three && limit.reach.kind == rules::Reach::Kind::left_at_start;
            }
        }
    }
    CHECK(volts > test::rounds(300));
    CHECK(starts > test::rounds(100));
    CHECK(on_three_lines > test::rounds(100));
}

TEST_CASE("added up once, the run before a coil counts while a motor on another run starts") {
    std::string text = R"(format = 1
[plan]
region = "EU"
mounting = "fixed"
[supply.s]
system = "230 V"
earthing = "TN-S"
line_impedance = "0.1 ohm"
[stock.c]
type = "H07RN-F"
section = "1.5 mm2"
cores = 3
[box.b]
from = "supply.s"
[switch.k1]
from = "box.b"
kind = "contactor"
no_volt = true
poles = 2
coil = "230 V"
cable = { stock = "c", length = "unknown" }
[load.saw]
from = "switch.k1"
motor = "induction"
plate = { current = "7 A", voltage = "230 V", power_factor = 1.0, start_current = "20 A" }
[load.press]
from = "box.b"
motor = "induction"
plate = { current = "7 A", voltage = "230 V", power_factor = 1.0, start_current = "300 A" }
)";
    std::string loads = R"("saw", "press")";
    for (int i = 0; i < 31; ++i) {
        text += fmt::format("[load.h{}]\nfrom = \"box.b\"\nkind = \"heater\"\n", i) +
                "plate = { current = \"0.1 A\", voltage = \"230 V\", power_factor = 1.0 }\n";
        loads += fmt::format(", \"h{}\"", i);
    }
    text += fmt::format("[[together]]\nname = \"all\"\nloads = [{}]\n", loads);
    const Judged result = judged(text);
    const auto s = result.situation();
    const auto& members = s.plan.sets.front().loads;
    REQUIRE(members.size() == 33);
    const rules::SetSums sums(s, members);
    std::size_t compared = 0;
    for (const auto& limit : result.judgement().limits) {
        if (limit.reach.kind != rules::Reach::Kind::left_at_start ||
            s.plan[limit.reach.element].path() != "switch.k1" ||
            s.plan[limit.reach.starter].path() != "load.press")
            continue;
        const auto one = rules::evaluate(s, limit, members), all = sums.evaluated(limit);
        REQUIRE(number_of(one.at_worst) > 0);
        CHECK(number_of(all.at_worst) == doctest::Approx(number_of(one.at_worst)).epsilon(2e-5));
        CHECK(rules::verdict_at(limit, all) == rules::verdict_at(limit, one));
        ++compared;
    }
    CHECK(compared == 1);
}
