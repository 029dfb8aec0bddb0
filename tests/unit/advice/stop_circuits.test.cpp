// Emergency stops in front of the coils of other contactors, traced as a continuity tester would.
#include <benchfeed/advice/schedule.hpp>

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include <benchfeed/advice/continuity.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using advice::Point;
using advice::Terminal;
using plan::Conductor;
using plan::Index;
using test::judged;

namespace {

/// Two contactors with buttons at the end of their cables, and whatever stops them.
std::string two_contactors(const std::string& stops) {
    std::string text =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "earthing = \"TN-S\"\n[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
        "[stock.control]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 5\n"
        "[outlet.wall]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
        "[box.middle]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
        "cable = { stock = \"lead\", length = \"3 m\" }\n";
    for (const std::string name : {"saw", "lathe"})
        text += "[switch." + name +
                "]\nfrom = \"box.middle\"\ncable = { stock = \"control\", length = \"2 m\" }\n"
                "kind = \"contactor\"\nwiring = \"control\"\npoles = 2\n[outlet." +
                name + "]\nfrom = \"switch." + name +
                "\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load." + name + "]\nfrom = \"outlet." +
                name + "\"\nplate = { current = \"5 A\", voltage = \"230 V\" }\n";
    return text + stops;
}
std::string stop_of(const std::string& name, const std::string& what) {
    return "[switch." + name +
           "]\nfrom = \"box.middle\"\ncable = { stock = \"lead\", length = \"2 m\" }\n"
           "kind = \"emergency-stop\"\nwiring = \"control\"\npoles = 2\nstops = [" +
           what + "]\n";
}
const std::string both = "\"switch.saw\", \"switch.lathe\"";

/// A tester between pin L of the plug and the fed end of a coil that is held in, with some stops pressed.
bool coil_reads(const rules::Situation& s, const std::string& coil, const std::vector<std::string>& pressed) {
    std::vector<advice::Stand> stands(s.plan.elements.size());
    for (const std::string& name : pressed) stands[s.plan.find(plan::Kind::switch_, name)].closed = false;
    const advice::Continuity copper(advice::schedule(s), stands);
    return copper.joined({Point::pin, s.plan.find(plan::Kind::box, "middle"), Conductor::l1},
                         {Point::coil_fed, s.plan.find(plan::Kind::switch_, coil), Conductor::l1});
}

}  // namespace

TEST_CASE("an emergency stop opens the coil of every contactor that it drops out, core by core") {
    const Judged plan = judged(two_contactors(stop_of("stop", both)));
    const auto s = plan.situation();
    REQUIRE(advice::schedule(s).complete());
    for (const std::string coil : {"saw", "lathe"}) {
        CHECK(coil_reads(s, coil, {}));
        CHECK_FALSE(coil_reads(s, coil, {"stop"}));
        CHECK_FALSE(coil_reads(s, coil, {coil}));  // it has let go, and nobody presses start
    }
    CHECK(coil_reads(s, "saw", {"lathe"}));
    const Index stop = s.plan.find(plan::Kind::switch_, "stop"), box = s.plan.find(plan::Kind::box, "middle");
    int behind = 0;
    for (const advice::Ways& ways : advice::schedule(s).ways)
        if (ways.terminal == Terminal{Point::stopped, stop, Conductor::l1}) {
            CHECK(ways.box == box);
            behind += ways.wires;
        }
    CHECK(behind == 3);  // from the stop, to the buttons of both
}

TEST_CASE(
    "stops of the same contactors stand in series, and one of a single contactor leaves the other alone") {
    const Judged two = judged(two_contactors(stop_of("left", both) + stop_of("right", both)));
    const auto s = two.situation();
    REQUIRE(advice::schedule(s).complete());
    for (const std::string coil : {"saw", "lathe"}) {
        CHECK(coil_reads(s, coil, {}));
        CHECK_FALSE(coil_reads(s, coil, {"left"}));
        CHECK_FALSE(coil_reads(s, coil, {"right"}));
    }
    const Judged one = judged(two_contactors(stop_of("stop", "\"switch.saw\"")));
    CHECK_FALSE(coil_reads(one.situation(), "saw", {"stop"}));
    CHECK(coil_reads(one.situation(), "lathe", {"stop"}));
}

TEST_CASE("a stop that no core of the plan leads to is refused, and says why") {
    const auto why = [](const std::string& text) -> std::string {
        const Judged plan = judged(text);
        const auto s = plan.situation();
        for (const advice::Run& run : advice::schedule(s).runs)
            if (run.element == s.plan.find(plan::Kind::switch_, "stop")) return run.refused;
        return "no run";
    };
    CHECK(why(two_contactors(stop_of("stop", both))).empty());
    const std::string inside =
        "[switch.drill]\nfrom = \"box.middle\"\nno_volt = true\npoles = 2\n[outlet.drill]\n"
        "from = \"switch.drill\"\npattern = \"CEE 7/3\"\n";
    CHECK(
        why(two_contactors(inside + stop_of("stop", both + ", \"switch.drill\""))).find("which is inside") !=
        std::string::npos);
    CHECK(why(two_contactors(stop_of("other", "\"switch.saw\"") + stop_of("stop", both)))
              .find("the other switch drops out some") != std::string::npos);
    const std::string far =
        "[box.far]\nfrom = \"box.middle\"\ncable = { stock = \"lead\", length = \"3 m\" }\n[switch.drill]\n"
        "from = \"box.far\"\ncable = { stock = \"control\", length = \"2 m\" }\nkind = \"contactor\"\n"
        "wiring = \"control\"\npoles = 2\n[outlet.drill]\nfrom = \"switch.drill\"\npattern = \"CEE 7/3\"\n";
    CHECK(why(two_contactors(far + stop_of("stop", "\"switch.drill\""))).find("starts at the far box") !=
          std::string::npos);
}
