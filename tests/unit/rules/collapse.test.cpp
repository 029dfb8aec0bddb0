// Where volts.collapse asks: at the load or behind the run that nobody knows, however long the ways are, and
// once for each supply.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

std::string lead(const std::string& name, const std::string& from, const std::string& length) {
    return "[box." + name + "]\nfrom = \"" + from + "\"\ncable = { stock = \"c\", length = " + length +
           " }\n";
}
std::string tool(const std::string& name, const std::string& from, const std::string& amps) {
    return "[load." + name + "]\nfrom = \"" + from +
           "\"\nmotor = \"universal\"\nplate = { current = " + amps +
           ", voltage = \"230 V\", power_factor = 1.0 }\n";
}
/// What runs at once: a saw on one lead and a vac on another one.
std::string bench(const std::string& rest) {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
           "earthing = \"TN-S\"\nline_impedance = \"0.3 ohm\"\n"
           "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n" +
           rest + "[[together]]\nname = \"both\"\nloads = [\"saw\", \"vac\"]\n";
}

/// "cannot judge at load.saw: load.saw.plate", a line each.
std::string told(const std::string& plan) {
    const Judged result = test::judged(plan);
    std::string lines;
    for (const rules::Outcome& o : result.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "volts.collapse") continue;
        const auto e = rules::explain(result.situation(), result.judgement(), o);
        lines += std::string(rules::words(o.verdict)) + " at " + rules::path_of(result.plan(), o.at) +
                 (e.questions.empty() ? "" : ": " + e.questions.front().path) + "\n";
    }
    return lines;
}

}  // namespace

TEST_CASE("a load of unknown amps is asked for at that load, whichever lead is the longer one") {
    for (const char* length : {"\"2 m\"", "\"20 m\""}) {
        CAPTURE(length);
        CHECK(told(bench(lead("a", "supply.s", length) + tool("saw", "box.a", "\"6 A\"") +
                         lead("b", "supply.s", "\"10 m\"") + tool("vac", "box.b", "\"unknown\""))) ==
              "cannot judge at load.vac: load.vac.plate\n");
    }
}

TEST_CASE("the amps of a load concern its own supply alone") {
    CHECK(told(bench("[supply.t]\nsystem = \"230 V\"\nearthing = \"TN-S\"\nline_impedance = \"0.3 ohm\"\n" +
                     lead("a", "supply.s", "\"2 m\"") + tool("saw", "box.a", "\"6 A\"") +
                     lead("b", "supply.t", "\"2 m\"") + tool("vac", "box.b", "\"unknown\""))) ==
          "cannot judge at load.vac: load.vac.plate\nok at load.saw\n");
}

TEST_CASE("a run that decides is asked for where it leads, though another way is longer") {
    // 30 m of 1.5 mm2 have 0.8 ohm and more; with 0.3 ohm before them no more than 230 V squared / 4.4 ohm,
    // 12 kW, can pass, and 60 A are 13.8 kW.
    CHECK(told(bench(lead("a", "supply.s", "\"unknown\"") + tool("saw", "box.a", "\"60 A\"") +
                     lead("b", "supply.s", "\"10 m\"") + tool("vac", "box.b", "\"1 A\""))) ==
          "cannot judge at load.saw: box.a.cable.length\n");
}
