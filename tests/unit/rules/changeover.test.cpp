// What can run behind a part at once: each position of a changeover switch has a sum of its own.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/support.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using rules::Verdict;
using test::judged;

namespace {

std::string load(const std::string& name, const std::string& from, const std::string& amps) {
    return "[load." + name + "]\nfrom = \"" + from +
           "\"\nmotor = \"universal\"\nlatched = false\nplate = { current = \"" + amps + "\" }\n";
}

/// A plug of 16 A behind a breaker of 20 A. At one position of the switch a press, at the other three tools
/// of 6 A.
Judged bench(const std::string& press, const std::string& more = "") {
    return judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nstandard = \"IEC 60898\"\nrating = "
        "\"20 A\"\n[outlet.wall]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\n"
        "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
        "[switch.turn]\nfrom = \"box.b\"\nchangeover = true\npoles = 2\nrating = \"20 A\"\n"
        "[box.left]\nfrom = \"switch.turn\"\n[box.right]\nfrom = \"switch.turn\"\n" +
        load("press", "box.left", press) + load("saw", "box.right", "6 A") +
        load("drill", "box.right", "6 A") + load("lathe", "box.right", "6 A") + more);
}

/// heat.element-unprotected at the plug of the bench, and the sum that it tells.
rules::Outcome at_plug(const Judged& result) {
    for (const rules::Outcome& o : result.judgement().outcomes)
        if (rules::registry()[o.rule].id == "heat.element-unprotected" && o.part == rules::Part::plug)
            return o;
    FAIL("nothing is said of the plug");
    return {};
}

double amps(const Measure& value) {
    return in(unit::ampere, std::get<Current>(value));
}

}  // namespace

TEST_CASE("the fullest position of a changeover switch counts, whatever hangs at the other one") {
    for (const char* press : {"1 A", "5.9 A", "6.1 A", "12 A", "17.9 A"}) {
        CAPTURE(press);
        const auto o = at_plug(bench(press));
        CHECK(o.verdict == Verdict::fail);
        CHECK(amps(o.value) == doctest::Approx(18.0));
    }
    CHECK(amps(at_plug(bench("18.5 A")).value) == doctest::Approx(18.5));
    // What hangs beside the switch runs with either.
    CHECK(amps(at_plug(bench("12 A", load("lamp", "box.b", "1 A"))).value) == doctest::Approx(19.0));
}

TEST_CASE("of two machines that share a way the larger one counts, with all that hangs in it") {
    const Judged result = judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "[box.b]\nfrom = \"supply.s\"\n[outlet.o]\nfrom = \"box.b\"\npattern = \"CEE 7/3\"\n" +
        load("saw", "outlet.o", "7 A") + load("vac", "outlet.o", "5 A") +
        "[outlet.tool]\nfrom = \"load.vac\"\npattern = \"CEE 7/3\"\n" + load("sander", "outlet.tool", "4 A"));
    const auto sum = rules::all_below(result.situation(), result.plan().find(plan::Kind::box, "b"));
    CHECK(in(unit::ampere, sum.current) == doctest::Approx(9.0));
    CHECK(sum.loads.size() == 2);
}
