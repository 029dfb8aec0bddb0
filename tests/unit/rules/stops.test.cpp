// What an emergency stop acts on, where a coil hangs, which cables carry coils alone: plans of a few lines.
#include <benchfeed/rules/stops.hpp>

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/judged.hpp"

using namespace benchfeed;
using test::judged;

namespace {

std::string bench(const std::string& system, const std::string& rest, const std::string& region = "EU") {
    return "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" +
           system +
           "\"\nearthing = \"TN-S\"\nfault_current = \"1 kA\"\nline_impedance = \"0.4 ohm\"\n"
           "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"20 A\"\n[box.b]\nfrom = "
           "\"device.d\"\n" +
           rest;
}

std::string load(const std::string& name, const std::string& from, const std::string& more = "") {
    return "[load." + name + "]\nfrom = \"" + from +
           "\"\nmotor = \"induction\"\nplate = { current = \"5 A\" }\n" + more;
}

/// Every outcome of a rule: "fail at switch.stop".
std::vector<std::string> said(const Judged& result, std::string_view rule) {
    std::vector<std::string> list;
    for (const rules::Outcome& o : result.judgement().outcomes)
        if (rules::registry()[o.rule].id == rule && o.set != rules::everything_set)
            list.push_back(std::string(rules::words(o.verdict)) + " at " + result.plan()[o.at.index].path());
    return list;
}

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("a stop in line acts on what it feeds, one in a control circuit on what it names") {
    const Judged result = judged(bench(
        "230 V",
        "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" + load("saw", "switch.k1") +
            "[switch.line]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\n" + load("router", "switch.line") +
            "[switch.red]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = \"control\"\nstops = "
            "[\"switch.k1\"]\n"
            "[switch.lost]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = \"control\"\n"
            "[switch.start]\nfrom = \"box.b\"\nwiring = \"control\"\n"));
    const auto& plan = result.plan();
    const auto stops = rules::emergency_stops(result.situation());
    REQUIRE(stops.size() == 3);  // a start contact is none
    const auto saw = plan.find(plan::Kind::load, "saw"), router = plan.find(plan::Kind::load, "router");
    CHECK(rules::stopped_by(result.situation(), stops[0]) == std::vector<plan::Index>{router});
    CHECK(rules::stopped_by(result.situation(), stops[1]) == std::vector<plan::Index>{saw});
    CHECK(stops[1].known);
    CHECK_FALSE(stops[2].known);
    CHECK(rules::acts_on(result.situation(), stops[1], saw));
    CHECK_FALSE(rules::acts_on(result.situation(), stops[1], router));
}

TEST_CASE("every standing cutter of the plan counts, on whatever circuit") {
    const auto with = [](const std::string& form) {
        return judged(
            bench("230 V", "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" +
                               load("saw", "switch.k1") +
                               "[switch.red]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = "
                               "\"control\"\npoles = 2\nstops = [\"switch.k1\"]\n"
                               "[supply.other]\nsystem = \"230 V\"\n" +
                               load("planer", "supply.other", form)));
    };
    const std::string rule = "restart.stop-misses-cutter";
    CHECK(said(with("form = \"standing\"\nlatched = true\n"), rule) == Words{"fail at switch.red"});
    CHECK(said(with("form = \"standing\"\n"), rule) == Words{"cannot judge at switch.red"});
    CHECK(said(with("form = \"hand\"\n"), rule) == Words{"caution at switch.red"});
    CHECK(said(with(""), rule) == Words{"cannot judge at switch.red"});
    CHECK(said(with("form = \"standing\"\nlatched = false\n"), rule) == Words{"ok at switch.red"});
    CHECK(said(with("form = \"standing\"\ncutter = false\n"), rule) == Words{"ok at switch.red"});
}

TEST_CASE("a coil hangs where its volts fit") {
    using rules::Seat;
    const auto seat = [](const std::string& system, const std::string& coil,
                         const std::string& conductors = "") {
        const Judged result =
            judged(bench(system, "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" +
                                     coil + load("saw", "switch.k1", conductors)));
        return rules::coil_of(result.situation(), result.plan().find(plan::Kind::switch_, "k1"))->seat;
    };
    CHECK(seat("230 V", "") == Seat::line_to_neutral);
    CHECK(seat("230 V", "coil = \"240 V\"\n") == Seat::line_to_neutral);
    CHECK(seat("230 V", "coil = \"400 V\"\n") == Seat::too_high);
    CHECK(seat("230 V", "coil = \"24 V\"\n") == Seat::too_low);
    const std::string three = "conductors = \"L1-L2-L3\"\n";
    CHECK(seat("230/400 V", "coil = \"230 V\"\n", three) == Seat::line_to_neutral);
    CHECK(seat("230/400 V", "coil = \"400 V\"\n", three) == Seat::line_to_line);
    CHECK(seat("230/400 V", "coil = \"690 V\"\n", three) == Seat::too_high);
    CHECK(seat("230/400 V", "coil = \"110 V\"\n", three) == Seat::too_low);
}

TEST_CASE("a coil fits where it gets 85 to 110 % of what is marked on it, and no further") {
    using rules::Seat;
    const auto seat = [](const std::string& system, const std::string& volts,
                         const std::string& region = "EU", const std::string& conductors = "") {
        const Judged result =
            judged(bench(system,
                         "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\ncoil = \"" +
                             volts + " V\"\n" + load("saw", "switch.k1", conductors),
                         region));
        return rules::coil_of(result.situation(), result.plan().find(plan::Kind::switch_, "k1"))->seat;
    };
    // 230 V: at least 230 / 1.10 = 209.09 V, at most 230 / 0.85 = 270.6 V.
    for (const char* fits : {"210", "220", "230", "240", "270"})
        CHECK(seat("230 V", fits) == Seat::line_to_neutral);
    for (const char* low : {"208", "209"}) CHECK(seat("230 V", low) == Seat::too_low);
    for (const char* high : {"271", "275", "280"}) CHECK(seat("230 V", high) == Seat::too_high);
    // 240 V: the coil of 220 V gets 109 %, that of 218 V 110.09 %.
    CHECK(seat("240 V", "220", "UK") == Seat::line_to_neutral);
    CHECK(seat("240 V", "218", "UK") == Seat::too_low);
    // Between two lines 230 * sqrt(3) = 398.4 V: 362.2 to 468.7 V. Between the bands it fits neither.
    const std::string three = "conductors = \"L1-L2-L3\"\n";
    CHECK(seat("230/400 V", "380", "EU", three) == Seat::line_to_line);
    CHECK(seat("230/400 V", "363", "EU", three) == Seat::line_to_line);
    CHECK(seat("230/400 V", "468", "EU", three) == Seat::line_to_line);
    CHECK(seat("230/400 V", "469", "EU", three) == Seat::too_high);
    CHECK(seat("230/400 V", "362", "EU", three) == Seat::too_low);
    CHECK(seat("230/400 V", "300", "EU", three) == Seat::too_low);
    // 120 V: 109.1 to 141.1 V.
    CHECK(seat("120 V", "110", "US") == Seat::line_to_neutral);
    CHECK(seat("120 V", "109", "US") == Seat::too_low);
}

TEST_CASE("the contact of a stop and the two sides of a coil") {
    const auto caution = [](const std::string& coil, const std::string& contact) {
        return said(judged(bench("230/400 V",
                                 "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" +
                                     coil + load("saw", "switch.k1", "conductors = \"L1-L2-L3\"\n") +
                                     "[switch.red]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = "
                                     "\"control\"\nstops = [\"switch.k1\"]\n" +
                                     contact)),
                    "restart.stop-without-effect");
    };
    const std::string to_neutral = "coil = \"230 V\"\n", between_lines = "coil = \"400 V\"\n";
    CHECK(caution(to_neutral, "poles = 1\n") == Words{"ok at switch.red"});  // no plug to turn over
    CHECK(caution(to_neutral, "poles = 1\nopens = \"N\"\n") == Words{"caution at switch.red"});
    CHECK(caution(between_lines, "poles = 1\n") == Words{"caution at switch.red"});
    CHECK(caution(between_lines, "poles = 2\nopens = \"L1-L2\"\n") == Words{"ok at switch.red"});
    // What it opens decides, and nobody says: no poles, or that nobody knows them or where they are.
    for (const std::string& coil : {to_neutral, between_lines})
        for (const char* unknown : {"", "poles = \"unknown\"\n", "poles = 1\nopens = \"unknown\"\n"})
            CHECK(caution(coil, unknown) == Words{"cannot judge at switch.red"});
}

TEST_CASE("behind a box with buttons alone a cable carries coils alone, with a lamp it does not") {
    const auto alone = [](const std::string& more) {
        const Judged result = judged(bench(
            "230 V",
            "[stock.c]\ntype = \"H05VV-F\"\nsection = \"0.75 mm2\"\ncores = 4\n"
            "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" +
                load("saw", "switch.k1") +
                "[device.f]\nfrom = \"box.b\"\nkind = \"fuse\"\nrating = \"4 A\"\n"
                "[box.buttons]\nfrom = \"device.f\"\ncable = { stock = \"c\", length = \"2 m\" }\n"
                "[switch.red]\nfrom = \"box.buttons\"\nkind = \"emergency-stop\"\nwiring = \"control\"\n" +
                more));
        return rules::carries_coils_alone(result.situation(), result.plan().find(plan::Kind::box, "buttons"));
    };
    CHECK(alone(""));
    CHECK_FALSE(
        alone("[load.lamp]\nfrom = \"box.buttons\"\nkind = \"light\"\nplate = { current = \"0.1 A\" }\n"));
    CHECK_FALSE(alone("[outlet.o]\nfrom = \"box.buttons\"\npattern = \"CEE 7/3\"\n"));
}

TEST_CASE("control conductors: a coil overloads none outside the NEC, inside it the device decides") {
    const auto button = [](const std::string& type, const std::string& section, const std::string& branch,
                           const std::string& region, const std::string& system) {
        return said(
            judged(
                bench(system,
                      "[stock.c]\ntype = \"" + type + "\"\nsection = \"" + section +
                          "\"\ncores = 4\n"
                          "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\n" +
                          branch +
                          "[switch.red]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = \"control\"\n"
                          "stops = [\"switch.k1\"]\ncable = { stock = \"c\", length = \"2 m\" }\n",
                      region)),
            "heat.cable-unprotected");
    };
    const std::string motor = load("saw", "switch.k1"),
                      outlet =
                          "[outlet.o]\nfrom = \"switch.k1\"\npattern = \"5-20\"\n" + load("saw", "outlet.o");
    CHECK(button("H05VV-F", "0.75 mm2", motor, "EU", "230 V").empty());
    // Behind the motor's own 20 A device: 14 AWG by the table of control conductors as well as by itself, 16
    // AWG (10 A there) and 18 AWG (7 A) not. From memory, so none of it says ok by that table.
    CHECK(button("SJOOW", "18 AWG", motor, "US", "120 V") == Words{"fail at switch.red"});
    CHECK(button("SJOOW", "16 AWG", motor, "US", "120 V") == Words{"fail at switch.red"});
    CHECK(button("SJOOW", "14 AWG", motor, "US", "120 V") == Words{"caution at switch.red"});
    // Behind a device that feeds receptacles it is a cord like another: 15 A for four 14 AWG cores.
    CHECK(button("SJOOW", "14 AWG", outlet, "US", "120 V") == Words{"fail at switch.red"});
}
