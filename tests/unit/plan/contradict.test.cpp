// What cannot both be true, at its edge: the last value that is taken, and the first that is a fault and at
// which field. What the faults say is approved with the bad plans.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include <benchfeed/check.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

const std::string bench =
    "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230/400 V\"\n"
    "[device.d]\nfrom = \"supply.s\"\nconductors = \"L1-N\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n"
    "[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
    "[stock.cord]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
    "[outlet.wall]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\n"
    "cable = { stock = \"house\", length = \"10 m\", method = \"C\" }\n"
    "[box.j]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = \"cord\", length = \"3 m\" }\n"
    "[switch.k]\nfrom = \"box.j\"\nrating = \"16 A\"\n"
    "[outlet.o]\nfrom = \"switch.k\"\npattern = \"CEE 7/3\"\n"
    "[load.saw]\nfrom = \"outlet.o\"\nmotor = \"universal\"\n"
    "plate = { current = \"6 A\", voltage = \"230 V\" }\n";

struct Case {
    std::vector<std::string> set;  ///< as --set has them
    std::string fault;             ///< path of the one fault; "" where the plan is taken
};

std::string faults(const std::string& text, const std::vector<std::string>& set) {
    std::vector<plan::Override> overrides;
    for (const std::string& one : set) overrides.push_back({one});
    std::string paths;
    for (const Diagnostic& problem :
         plan::read_plan(text::Document("p.toml", text), plan_words(catalogue()), overrides).problems)
        paths += (paths.empty() ? "" : " ") + problem.path;
    return paths;
}

void hold(const std::vector<Case>& cases, const std::string& text = bench) {
    for (const Case& one : cases) {
        std::string words;
        for (const std::string& value : one.set) words += value + "; ";
        CAPTURE(words);
        CHECK(faults(text, one.set) == one.fault);
    }
}

}  // namespace

TEST_CASE("feeds: plugs, fuses in them, inlets, reels, cords") {
    hold({{{}, ""},
          {{"switch.k.plug=CEE 7/7"}, "switch.k.plug"},
          {{"box.j.plug=CEE 7/3"}, "box.j.plug"},
          {{"box.j.fuse=10 A"}, "box.j.fuse"},
          {{"switch.k.fuse=10 A"}, "switch.k.fuse"},
          {{"box.j.inlet=IEC 60320 C20"}, ""},
          {{"box.j.inlet=IEC 60320 C20", "box.j.inlet_rating=16 A"}, ""},
          {{"box.j.inlet_rating=16 A"}, "box.j.inlet_rating"},
          {{"box.j.cable.length=50 mm"}, ""},
          {{"box.j.cable.length=49 mm"}, "box.j.cable.length"},
          {{"box.j.cable.method=C"}, "box.j.cable.method"},
          {{"outlet.wall.cable.ring=true"}, ""},
          {{"box.j.cable.ring=true"}, "box.j.cable.ring"},
          {{"box.j.cable.ring=false"}, ""},
          {{"box.j.cable.reel=wound", "box.j.cable.wound_limit=1000 W"}, ""},
          {{"box.j.cable.reel=unwound", "box.j.cable.wound_limit=1000 W"}, ""},
          {{"box.j.cable.reel=unknown", "box.j.cable.wound_limit=1000 W"}, ""},
          {{"box.j.cable.reel=none", "box.j.cable.wound_limit=1000 W"}, "box.j.cable.wound_limit"},
          {{"box.j.cable.wound_limit=1000 W"}, "box.j.cable.wound_limit"},
          {{"box.j.cable.reel=wound", "box.j.cable.unwound_limit=3000 W"}, ""},
          {{"box.j.cable.unwound_limit=3000 W"}, "box.j.cable.unwound_limit"},
          {{"outlet.wall.cable.reel=wound"}, "outlet.wall.cable.reel"},
          {{"outlet.wall.cable.reel=none"}, ""},
          {{"box.j.cable.own=true"}, "box.j.cable.own"}});
}

TEST_CASE("supplies: what a generator gives") {
    const auto of = [](const char* source, const char* power, const char* start) {
        return std::vector<std::string>{std::string("supply.s.source=") + source,
                                        std::string("supply.s.power=") + power,
                                        std::string("supply.s.start_power=") + start};
    };
    hold({{{"supply.s.power=3000 W"}, "supply.s.power"},
          {{"supply.s.current=13 A"}, "supply.s.current"},
          {{"supply.s.start_power=3000 W"}, "supply.s.start_power"},
          {of("generator", "3000 W", "3000 W"), ""},
          {of("generator", "3000 W", "2999 W"), "supply.s.start_power"},
          {of("generator", "3000 VA", "3000 VA"), ""},
          {of("generator", "3000 VA", "2999 VA"), "supply.s.start_power"},
          {of("inverter", "3000 W", "2999 VA"), ""}});
}

TEST_CASE("devices and switches: standards, curves, poles, what they open") {
    hold({{{"device.d.standard=IEC 60898", "device.d.curve=C"}, ""},
          {{"device.d.standard=BS 88-3"}, "device.d.standard"},
          {{"device.d.kind=fuse", "device.d.standard=BS 88-3", "device.d.curve=C"}, "device.d.curve"},
          {{"device.d.poles=2"}, ""},
          {{"device.d.poles=3"}, "device.d.poles"},
          {{"device.d.opens=L1-N"}, ""},
          {{"device.d.opens=L1-L2"}, "device.d.opens"},
          {{"switch.k.poles=2"}, ""},
          {{"switch.k.poles=3"}, "switch.k.poles"},
          {{"switch.k.poles=1", "switch.k.opens=L1"}, ""},
          {{"switch.k.poles=2", "switch.k.opens=L1"}, "switch.k.opens"},
          {{"switch.k.opens=L2"}, "switch.k.opens"},
          {{"switch.k.motor_rating=16 A"}, ""},
          {{"switch.k.motor_rating=16.1 A"}, "switch.k.motor_rating"},
          {{"switch.k.wiring=loop"}, "switch.k.wiring"},
          {{"switch.k.wiring=in line"}, ""}});
}

TEST_CASE("outlets: as many plugs as ways") {
    const std::string two = bench +
                            "[box.k]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = "
                            "\"cord\", length = \"3 m\" }\n";
    hold({{{}, "outlet.wall.ways"}, {{"outlet.wall.ways=2"}, ""}}, two);
    hold({{{"outlet.o.pattern=CEE 7/7"}, "outlet.o.pattern"}});
    // A load that is plugged in beside them takes turns.
    hold({{{}, ""}}, bench + "[load.lamp]\nfrom = \"outlet.wall\"\nplate = { current = \"1 A\" }\n");
}

TEST_CASE("loads: figures of a plate that cannot all be read off it") {
    hold({{{"load.saw.plate.power_in=1518 W"}, ""},  // 1.1 times 6 A at 230 V
          {{"load.saw.plate.power_in=1519 W"}, "load.saw.plate.power_in"},
          {{"load.saw.plate.power_in=1000 W", "load.saw.plate.power_out=1000 W"}, ""},
          {{"load.saw.plate.power_in=1000 W", "load.saw.plate.power_out=1001 W"}, "load.saw.plate.power_out"},
          {{"load.saw.plate.start_current=6 A"}, ""},
          {{"load.saw.plate.start_current=5.9 A"}, "load.saw.plate.start_current"},
          {{"load.saw.plate.horsepower_kind=rated"}, "load.saw.plate.horsepower_kind"},
          {{"load.saw.plate.horsepower_kind=rated", "load.saw.plate.horsepower=1 hp"}, ""},
          {{"load.saw.plate.code_letter=A"}, ""},
          {{"load.saw.plate.code_letter=V"}, ""},
          {{"load.saw.plate.code_letter=W"}, "load.saw.plate.code_letter"},
          {{"load.saw.plate.code_letter=AB"}, "load.saw.plate.code_letter"},
          {{"load.saw.starts_with=saw"}, "load.saw.starts_with"}});
}

TEST_CASE("stocks: protective cores") {
    hold({{{"stock.cord.protective_section=1.5 mm2", "stock.cord.protective=true"}, ""},
          {{"stock.cord.protective_section=1.5 mm2", "stock.cord.protective=false"},
           "stock.cord.protective_section"},
          {{"stock.cord.cores=2", "stock.cord.protective=true"}, ""},
          {{"stock.cord.cores=1", "stock.cord.protective=true"}, "stock.cord.cores"},
          {{"stock.cord.cores=1"}, ""}});
}

TEST_CASE("the head: dates and the local limit") {
    hold({{{"local.voltage_drop_limit=8 %", "local.source=seen"}, ""},
          {{"local.voltage_drop_limit=8.1 %", "local.source=seen"}, "local.voltage_drop_limit"}});
    for (const char* date : {"2026-01-01", "2026-12-31", "0000-09-09", "9999-10-30"})
        CHECK(faults(bench, {std::string("plan.date=") + date}).empty());
    // Below '0' and above '9' at each place; months and days that are none; another length.
    for (const char* date :
         {"/026-01-01", "2/26-01-01", "20/6-01-01", "202/-01-01", "2026-/1-01", "2026-0/-01",
          "2026-01-/1", "2026-01-0/", ":026-01-01", "2:26-01-01", "20:6-01-01", "202:-01-01",
          "2026-:1-01", "2026-0:-01", "2026-01-:1", "2026-01-0:", "2026/01-01", "2026-01/01",
          "2026-00-01", "2026-13-01", "2026-01-00", "2026-01-32", "2026-01-1",  "2026-01-010"}) {
        CAPTURE(date);
        CHECK(faults(bench, {std::string("plan.date=") + date}) == "plan.date");
    }
}

TEST_CASE("an accepted finding is at something of the plan") {
    const auto at = [](const std::string& path) {
        return faults(bench +
                          "[metal.frame]\nbonded = \"box.j\"\n[[accept]]\nrule = \"heat.plug-overloaded\"\n"
                          "reason = \"seen\"\nrevision = \"1\"\nat = \"" +
                          path + "\"\n",
                      {"plan.revision=1"});
    };
    for (const char* path : {"plan", "box.j", "stock.cord", "metal.frame", "together.all"})
        CHECK_MESSAGE(at(path).empty(), path);
    for (const char* path : {"box.k", "stock.wire", "metal.leg", "frame", "all"})
        CHECK_MESSAGE(at(path) == "accept.at", path);
}
