// Amps of sets as reports tell them: by supply circuit, as they flow, and nothing left where nobody can say.
#include <doctest/doctest.h>

#include <benchfeed/advice/headroom.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/report/card.hpp>
#include <benchfeed/report/sheet.hpp>
#include <benchfeed/report/together_text.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

std::string joined(const std::vector<std::string>& lines) {
    std::string all;
    for (const std::string& line : lines) all += line + "\n";
    return all;
}

/// A table of its own for each of two circuits of one panel: a saw of 7 A behind 16 A, a lamp of 2 A behind
/// 10 A.
std::string two_circuits() {
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.p]\nsystem = \"230 V\"\n"
        "earthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 ohm\"\n"
        "[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
        "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";
    for (const auto& [name, rating] : {std::pair{"a", "16 A"}, std::pair{"b", "10 A"}}) {
        const std::string n = name;
        plan += "[device." + n +
                "]\nfrom = \"supply.p\"\nkind = \"circuit breaker\"\ncurve = \"B\"\nrating = \"" + rating +
                "\"\nresidual = { trip = \"30 mA\", wave = \"A\" }\n[outlet.w" + n + "]\nfrom = \"device." +
                n +
                "\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\ncable = { stock = \"house\", length = \"10 "
                "m\", method = \"C\" }\n[box." +
                n + "]\nfrom = \"outlet.w" + n +
                "\"\nplug = \"CEE 7/7\"\ncable = { stock = \"lead\", length = \"5 m\", grip = true }\n";
    }
    return plan +
           "[load.saw]\nfrom = \"box.a\"\nkind = \"tool\"\nmotor = \"universal\"\nlatched = false\noverload "
           "= "
           "\"hand\"\n"
           "plate = { current = \"7 A\", power_factor = 1.0, voltage = \"230 V\" }\n"
           "[load.lamp]\nfrom = \"box.b\"\nkind = \"light\"\nmotor = \"none\"\nlatched = true\n"
           "plate = { current = \"2 A\", power_factor = 1.0, voltage = \"230 V\" }\n";
}

std::string together_of(const Judged& bench) {
    const auto answer = advice::together(bench.situation(), bench.judgement());
    return report::together_text(bench.situation(), bench.judgement(), answer, {}, {});
}

std::string card_of(const text::Document& document, const Judged& bench) {
    return report::sheet_text(
        report::card_sheet(document, bench.situation(), bench.judgement(), {"benchfeed", "0"}, {}), {});
}

}  // namespace

TEST_CASE("amps of two circuits are two figures, the weakest first") {
    const Judged bench = judged(two_circuits());
    CHECK(rules::several_circuits(bench.situation()));
    const auto everything = rules::amps_by_circuit(bench.situation(), bench.plan().everything.loads);
    REQUIRE(everything.size() == 2);
    CHECK(bench.plan()[everything[0].at].path() == "device.a");  // 7 of 16 A before 2 of 10 A
    CHECK(in(unit::ampere, everything[0].drawn) == doctest::Approx(7));
    CHECK(bench.plan()[everything[1].at].path() == "device.b");
    CHECK(in(unit::ampere, everything[1].drawn) == doctest::Approx(2));
    const std::string told = together_of(bench),
                      lines = joined(rules::set_lines(bench.situation(), bench.judgement()));
    CAPTURE(told);
    CAPTURE(lines);
    CHECK(told.find("7 A of 16 A at device a, 2 A of 10 A at device b") != std::string::npos);
    CHECK(told.find(": 9 A") == std::string::npos);
    CHECK(
        lines.find("7 A of 16 A at the plug of the a box, 44 %; 9 A left; 2 A of 10 A at device b, 20 %; 8 A "
                   "left") != std::string::npos);
}

TEST_CASE("a plan with one circuit has one figure for a set, and of no other circuit") {
    const Judged lane = judged(read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml"));
    CHECK_FALSE(rules::several_circuits(lane.situation()));
    for (rules::Index set = 0; set < lane.plan().sets.size(); ++set)
        CHECK(rules::weakest_by_circuit(lane.situation(), lane.judgement(), set).size() == 1);
}

TEST_CASE("amps that count loads for hours more than once say so, and what flows stands beside them") {
    const std::string path = std::string(BENCHFEED_RULE_PLANS) + "/device-overloaded-us-continuous.toml";
    const Judged bench = judged(read_text(path));
    // By hand: 10 A + 8 A flow; 1.25 * 10 A + 8 A = 20.5 A are held against 20 A.
    const std::string lines = joined(rules::set_lines(bench.situation(), bench.judgement()));
    CAPTURE(lines);
    CHECK(lines.find("18 A (counted as 20.5 A: loads that run for hours x 1.25) of 20 A at device c9") !=
          std::string::npos);
    bool seen = false;
    for (const auto& o : bench.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "heat.device-overloaded" || o.verdict != rules::Verdict::fail)
            continue;
        const std::string headline = rules::explain(bench.situation(), bench.judgement(), o).headline;
        CAPTURE(headline);
        CHECK(headline.find("18 A through device c9, counted as 20.5 A") != std::string::npos);
        seen = true;
    }
    CHECK(seen);
}

TEST_CASE("nothing is left, and nothing is without a limit, where amps or parts are not known") {
    std::string plan = two_circuits();
    plan.replace(plan.find("current = \"7 A\", "), std::string("current = \"7 A\", ").size(), "");
    const text::Document document("plan.toml", plan);
    const Judged bench = judged(plan);
    const std::string lines = joined(rules::set_lines(bench.situation(), bench.judgement())),
                      told = together_of(bench), card = card_of(document, bench);
    CAPTURE(lines);
    CAPTURE(told);
    CAPTURE(card);
    CHECK(lines.find("0 A of") == std::string::npos);
    CHECK(lines.find("the amps of the saw are not known") != std::string::npos);
    CHECK(told.find("all may run at once") == std::string::npos);
    CHECK(told.find("but the saw could not be judged") != std::string::npos);
    CHECK(card.find("nothing is forbidden") == std::string::npos);
    CHECK(card.find("0 A of") == std::string::npos);
}

TEST_CASE("of no plan is said that all may run, or that amps are left, while something is open") {
    std::size_t open = 0;
    for (const std::string& folder :
         {std::string(BENCHFEED_RULE_PLANS), std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios",
          std::string(BENCHFEED_DATA_DIR) + "/plans"})
        for (const auto& path : plans_in(folder)) {
            CAPTURE(path.filename().string());
            const text::Document document(path.string(), read_text(path));
            const auto read = check(document, catalogue());
            const auto* bench = std::get_if<Judged>(&read);
            if (!bench) continue;
            const auto figures = rules::set_figures(bench->situation(), bench->judgement());
            const auto lines = rules::set_lines(bench->situation(), bench->judgement());
            REQUIRE(figures.size() == lines.size());
            for (std::size_t i = 0; i < lines.size(); ++i) {
                CAPTURE(lines[i]);
                CHECK(lines[i].find(": 0 A of") == std::string::npos);
                if (figures[i].unknown_load) CHECK_FALSE(lines[i].ends_with(" left"));
            }
            if (!bench->judgement().essential_undecided) continue;
            ++open;
            CHECK(card_of(document, *bench).find("nothing is forbidden") == std::string::npos);
            CHECK(together_of(*bench).find("all may run at once") == std::string::npos);
        }
    CHECK(open > 20);
}
