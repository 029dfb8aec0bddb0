// Expected readings, worked by hand, against the printed sums of resistances, and against the network's
// loops.
#include <benchfeed/rules/readings.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <benchfeed/network/fault.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using plan::Index;
using test::agrees;
using test::judged;
using test::prints_as;

namespace {

std::string text_of(const std::string& name) {
    std::ostringstream text;
    text << std::ifstream(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name).rdbuf();
    return text.str();
}
Judged demo(const std::string& name) {
    return judged(text_of(name));
}
/// Heron Lane with another supply.
Judged heron_lane_on(const std::string& earthing, const std::string& loop) {
    std::string text = text_of("heron-lane.toml");
    const auto put = [&](const std::string& field, const std::string& value) {
        const auto at = text.find(field + " ");
        REQUIRE(at != std::string::npos);
        text.replace(at, text.find('\n', at) - at, field + " = \"" + value + "\"");
    };
    put("earthing", earthing);
    put("loop_impedance", loop);
    return judged(text);
}
const rules::OutletReadings& at(const rules::Situation& s, const rules::Readings& all, const char* outlet) {
    for (const auto& r : all.outlets)
        if (s.plan[r.outlet].name == outlet) return r;
    FAIL("no reading at " << outlet);
    return all.outlets.front();
}

}  // namespace

TEST_CASE("Heron Lane by hand") {
    const Judged plan = demo("heron-lane.toml");
    const auto s = plan.situation();
    const auto all = rules::readings(s);
    REQUIRE(all.outlets.size() == 5);
    const auto& saw = at(s, all, "saw");
    // IEC 60228 class 5, 1.5 mm2, plain strands: 13.3 ohm/km; 5 m of cord and 2 m of run. Nobody stops at
    // what tinned ones read: 13.7 ohm/km and 0.1 ohm more; 0.4 ohm for 7 m is higher.
    CHECK(prints_as(in(unit::ohm, *saw.protective.expected), "0.0931"));
    CHECK(prints_as(in(unit::ohm, *saw.protective.stop), "0.1959"));
    CHECK(prints_as(in(unit::ohm, *saw.line), "0.0931"));
    CHECK(prints_as(in(unit::ohm, *saw.round), "0.1862"));
    CHECK(saw.open_when_dead);
    const auto& lamp = at(s, all, "lamp");
    CHECK(prints_as(in(unit::ohm, *lamp.protective.expected), "0.0665"));
    CHECK_FALSE(lamp.open_when_dead);
    // 0.5 ohm at the panel, 18 m of 2.5 mm2 class 1 (7.41 ohm/km) and the cords, there and back.
    CHECK(prints_as(in(unit::ohm, *saw.loop), "0.953"));
    // B16: 0.95 * 230 V / 80 A = 2.73 ohm, of which 80 % cold.
    CHECK(prints_as(in(unit::ohm, *saw.loop_stop), "2.185"));
    // IEC 60364-6 asks for two thirds of 230 V / 80 A.
    CHECK(prints_as(in(unit::ohm, *saw.loop_doubt), "1.92"));
    // 10 A: copper at 70 degC (house) and 60 degC (cords), both ways; 0.4 ohm before the panel.
    REQUIRE(saw.fall);
    CHECK(in(unit::ampere, saw.fall->load) == 10);
    CHECK(in(unit::volt, saw.fall->heater) == 230);
    const double house = 2 * 18 * 7.41e-3 * (1 + 0.00393 * 50), cords = 2 * 7 * 13.7e-3 * (1 + 0.00393 * 40);
    CHECK(saw.fall->from == rules::FallFrom::idle);
    CHECK(agrees(in(unit::volt, *saw.fall->expected), 10 * (house + cords + 0.4), 1e-3));
    CHECK(agrees(in(unit::volt, *saw.fall->stop), 1.2 * 10 * (house + cords + 0.4), 1e-3));
    REQUIRE(all.residuals.size() == 1);
    CHECK(all.residuals.front().most->written == "0.3 s");
    CHECK(all.residuals.front().most_at_high->written == "0.04 s");
    CHECK(in(unit::milliampere, *all.residuals.front().high_test) == doctest::Approx(150));
    CHECK(in(unit::volt, all.insulation_volts->value) == 500);
    CHECK(in(unit::ohm, all.insulation_least->value) == 1e6);
}

TEST_CASE("where the loop is too much for the breaker, the residual device's is what a reading is held to") {
    const auto saw_on = [](const std::string& earthing, const std::string& loop) {
        const Judged plan = heron_lane_on(earthing, loop);
        const auto s = plan.situation();
        return at(s, rules::readings(s), "saw");
    };
    // 2 ohm and 0.453 ohm of cables are above the 2.185 ohm that the breaker allows: a fifth more is a fault.
    const auto tn = saw_on("TN-S", "2.0 ohm");
    CHECK(tn.loop_by_residual);
    CHECK(prints_as(in(unit::ohm, *tn.loop), "2.453"));
    CHECK(agrees(in(unit::ohm, *tn.loop_stop), 1.2 * 2.453, 1e-3));
    // IEC 60364-4-41 411.5.3: 50 V / 30 mA = 1667 ohm, but an electrode above 200 ohm may not stay what it
    // is.
    const auto tt = saw_on("TT", "60 ohm");
    CHECK(tt.loop_by_residual);
    CHECK(in(unit::ohm, *tt.loop_stop) == 200);
    CHECK_FALSE(saw_on("TN-S", "0.5 ohm").loop_by_residual);
}

TEST_CASE("nobody is told to stop at what is expected") {
    std::size_t loops = 0, earths = 0;
    for (const std::string& folder :
         {std::string(BENCHFEED_DATA_DIR) + "/plans", std::string(BENCHFEED_RULE_PLANS)})
        for (const auto& path : test::plans_in(folder)) {
            CAPTURE(path.filename().string());
            const auto read = check(text::Document(path.string(), test::read_text(path)), test::catalogue());
            const auto* plan = std::get_if<Judged>(&read);
            if (!plan) continue;
            const auto& outcomes = plan->judgement().outcomes;
            const bool slow = std::any_of(outcomes.begin(), outcomes.end(), [](const rules::Outcome& o) {
                return rules::registry()[o.rule].id == "shock.slow-disconnection" &&
                       o.verdict != rules::Verdict::ok;
            });
            for (const auto& r : rules::readings(plan->situation()).outlets) {
                CAPTURE(plan->plan()[r.outlet].name);
                if (r.protective.expected && r.protective.stop) {
                    // 500 m of cord have more than the 1 ohm that practice lets pass, and so they are told.
                    const bool too_long = in(unit::ohm, *r.protective.stop) == 1;
                    CHECK((too_long || *r.protective.expected <= *r.protective.stop));
                    ++earths;
                }
                if (!r.loop || !r.loop_stop || slow) continue;
                CHECK(*r.loop <= *r.loop_stop);
                ++loops;
            }
        }
    CHECK(loops > 100);
    CHECK(earths > 100);
}

TEST_CASE("Maple Row: class A, 120 V, no loop and no insulation figure") {
    const Judged plan = demo("maple-row.toml");
    const auto s = plan.situation();
    const auto all = rules::readings(s);
    const auto& saw = at(s, all, "saw");
    CHECK_FALSE(saw.loop_stop);
    CHECK_FALSE(all.insulation_least);
    REQUIRE(all.residuals.size() == 1);
    // At 6 mA, (20 / 6)^1.43; at the 5 mA that it prints it need not trip at all, and below 4 mA it must not.
    CHECK(in(unit::milliampere, all.residuals.front().test) == 6);
    CHECK(prints_as(in(unit::second, all.residuals.front().most->value), "5.59"));
    CHECK(in(unit::milliampere, all.residuals.front().stays->value) == 4);
    CHECK(in(unit::volt, saw.fall->heater) == 120);
}

TEST_CASE("R1 + R2 of fixed cables") {
    // Milliohms per metre at 20 degC, IET On-Site Guide, table of R1, R2 and R1 + R2 (as remembered).
    struct Printed {
        const char *section, *protective, *sum;
    };
    for (const Printed& p : {Printed{"1.5 mm2", "1.5 mm2", "24.20"},
                             {"1.5 mm2", "1 mm2", "30.20"},
                             {"2.5 mm2", "1.5 mm2", "19.51"},
                             {"2.5 mm2", "2.5 mm2", "14.82"},
                             {"4 mm2", "1.5 mm2", "16.71"},
                             {"6 mm2", "2.5 mm2", "10.49"}}) {
        const Judged plan = judged(
            std::string(
                "format = 1\n[plan]\nregion = \"UK\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 "
                "V\"\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 "
                "A\"\n[stock.run]\ntype = \"PVC sheathed\"\nsection = \"") +
            p.section + "\"\nprotective_section = \"" + p.protective +
            "\"\ncores = 3\n[outlet.o]\nfrom = \"device.d\"\npattern = \"BS 1363\"\ncable = { stock = "
            "\"run\", length "
            "= \"10 m\" }\n[load.l]\nfrom = \"outlet.o\"\n");
        const auto r = rules::readings(plan.situation()).outlets.front();
        CHECK(prints_as(in(unit::milliohm, Impedance(*r.line + *r.protective.expected)) / 10, p.sum));
    }
}

TEST_CASE("what is measured dead is the difference of two loops of the network") {
    for (const char* name : {"heron-lane.toml", "hawthorn-yard.toml", "crooked-barn.toml"}) {
        const Judged plan = demo(name);
        const auto s = plan.situation();
        const auto loop = [&](Index element) {
            const auto found = network::fault_loop(s.plan, s.tables, s.network, element,
                                                   network::Return::protective, network::Extreme::most);
            return found.resistance + found.read;
        };
        for (const auto& r : rules::readings(s).outlets) {
            if (!r.protective.expected || !r.line) continue;
            Index wall = r.outlet;
            while (!s.network.house[wall]) wall = s.plan[wall].parent;
            CHECK(agrees(in(unit::ohm, Impedance(*r.line + *r.protective.expected)),
                         in(unit::ohm, Impedance(loop(r.outlet) - loop(wall))), 1e-9));
        }
    }
}

TEST_CASE("the fall of volts is read where what lies before is known") {
    using Lines = std::vector<std::pair<std::string, std::string>>;
    const auto fall_with = [](const Lines& changes) {
        std::string text = text_of("heron-lane.toml");
        for (const auto& [from, to] : changes) {
            const auto at_field = text.find(from);
            REQUIRE(at_field != std::string::npos);
            text.replace(at_field, text.find('\n', at_field) - at_field, to);
        }
        const Judged plan = judged(text);
        const auto s = plan.situation();
        return *at(s, rules::readings(s), "saw").fall;
    };
    const double cords = 2 * 7 * 13.7e-3 * (1 + 0.00393 * 40), house = 2 * 18 * 7.41e-3 * (1 + 0.00393 * 50);
    // A stiff or a weak source belongs to the reading: 1.0 ohm more takes 10 V more.
    const auto weak = fall_with({{"line_impedance", "line_impedance = \"1.5 ohm\""}});
    CHECK(weak.from == rules::FallFrom::idle);
    CHECK(agrees(in(unit::volt, *weak.expected), 10 * (house + cords + 1.5), 1e-3));
    // Nobody knows it: a second meter at the panel takes it off.
    const auto unknown = fall_with({{"line_impedance", ""}, {"loop_impedance", ""}});
    CHECK(unknown.from == rules::FallFrom::source);
    CHECK(agrees(in(unit::volt, *unknown.expected), 10 * (house + cords), 1e-3));
    // Nor the run in the wall: at the wall outlet.
    const auto bench = fall_with({{"cable    = { stock = \"house\"",
                                   "cable = { stock = \"house\", length = \"unknown\", method = \"C\" }"}});
    CHECK(bench.from == rules::FallFrom::wall);
    CHECK(agrees(in(unit::volt, *bench.expected), 10 * cords, 1e-3));
}
