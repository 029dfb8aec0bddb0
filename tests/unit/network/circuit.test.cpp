#include <benchfeed/network/circuit.hpp>

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using network::CircuitChoice;
using plan::Conductor;
using test::agrees;
using test::judged;
using test::prints_as;

namespace {

/// A plan with one box `b` behind a run of 2.5 mm2 (EU) or 12 AWG (US), solved with some of its loads.
class Solved {
public:
    Solved(const std::string& region, const std::string& system, const std::string& length,
           const std::string& loads)
        : plan_(judged("format = 1\n[plan]\nregion = \"" + region +
                       "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + system +
                       "\"\n[stock.c]\ntype = \"" + (region == "US" ? "NM-B" : "PVC sheathed") +
                       "\"\nsection = \"" + (region == "US" ? "12 AWG" : "2.5 mm2") +
                       "\"\ncores = 5\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"" +
                       length + "\", method = \"" + (region == "US" ? "cable" : "C") + "\" }\n" + loads)) {}

    void run(const std::vector<std::string>& names, const CircuitChoice& choice = {}) {
        std::vector<plan::Index> running;
        for (const auto& name : names) running.push_back(load(name));
        built_ = network::circuit_of(plan_.plan(), plan_.situation().network,
                                     plan_.plan().find(plan::Kind::supply, "s"), running, choice);
        solution_ = network::solve(built_.circuit);
        REQUIRE(solution_.converged);
    }
    [[nodiscard]] double volts(const std::string& name) const {
        return in(unit::volt, network::volts_at(plan_.plan(), built_, solution_, load(name)));
    }
    /// Current in a conductor of the run.
    [[nodiscard]] double amps(Conductor conductor) const {
        const auto node = built_.node_of[plan_.plan().find(plan::Kind::box, "b")];
        return in(unit::ampere, magnitude(solution_.feed[node][static_cast<std::size_t>(conductor)]));
    }
    [[nodiscard]] plan::Index load(const std::string& name) const {
        return plan_.plan().find(plan::Kind::load, name);
    }
    [[nodiscard]] const Judged& plan() const { return plan_; }
    [[nodiscard]] const network::PlanCircuit& built() const { return built_; }

private:
    Judged plan_;
    network::PlanCircuit built_;
    network::Solution solution_;
};

std::string load(const std::string& name, const std::string& conductors, const std::string& plate,
                 const std::string& more = "motor = \"none\"\n") {
    return "[load." + name + "]\nfrom = \"box.b\"\nconductors = \"" + conductors + "\"\n" + more +
           "plate = { " + plate + " }\n";
}

}  // namespace

TEST_CASE("one load on one line: the drop by hand") {
    // 7.41 ohm/km * 1.1965 at 70 degC: 20 m out and back at 10 A lose 3.546 V; 0.08 mohm/m across them hardly
    // count.
    Solved plan("EU", "230 V", "20 m", load("x", "L-N", "current = \"10 A\""));
    plan.run({"x"});
    CHECK(prints_as(230 - plan.volts("x"), "3.546"));
    plan.run({});
    CHECK(agrees(plan.volts("x"), 230, 1e-12));
}

TEST_CASE("split phase: a load on the other line relieves the shared neutral") {
    // Router 15 A on L1, collector 11 A on L2, 0.069 ohm in each conductor: both on 15 * 0.069 + 4 * 0.069 V,
    // the router alone 2 * 15 * 0.069 V. 12 AWG solid, NEC chapter 9 table 8: 1.93 ohm/kft, 36 ft: 0.0695
    // ohm.
    Solved plan(
        "US", "120/240 V", "36 ft",
        load("router", "L1-N", "current = \"15 A\"") + load("collector", "L2-N", "current = \"11 A\""));
    plan.run({"router", "collector"});
    CHECK(prints_as(120 - plan.volts("router"), "1.3"));
    CHECK(prints_as(plan.amps(Conductor::n), "4"));
    plan.run({"router"});
    CHECK(prints_as(120 - plan.volts("router"), "2.1"));
    CHECK(prints_as(plan.amps(Conductor::n), "15"));
    CHECK(plan.volts("collector") > 120);  // what is off sees the neutral rise towards its own line
}

TEST_CASE("split phase: 240 V loads leave the neutral alone") {
    Solved plan("US", "120/240 V", "36 ft",
                load("saw", "L1-L2", "current = \"12 A\", voltage = \"240 V\"") +
                    load("range", "L1-L2-N", "current = \"12 A\", voltage = \"240 V\"") +
                    load("lamp", "L1-N", "current = \"2 A\""));
    plan.run({"saw"});
    CHECK(agrees(plan.amps(Conductor::n), 0, 1e-12));
    CHECK(plan.amps(Conductor::n) < 1e-9);
    const double saw = plan.volts("saw");
    CHECK(prints_as(240 - saw, "1.67"));  // 2 * 12 * 0.0695
    // The same load with a neutral beside it that it does not use.
    plan.run({"range"});
    CHECK(agrees(plan.volts("range"), saw, 1e-12));
    CHECK(prints_as(plan.amps(Conductor::l1), "12"));
    CHECK(prints_as(plan.amps(Conductor::l2), "12"));
}

TEST_CASE("120/208 V: two lines of three, and the neutral of both") {
    // Lines 120 degrees apart: 10 A on each of two leave 10 A in the neutral.
    Solved plan("US", "120/208 V", "36 ft",
                load("a", "L1-N", "current = \"10 A\"") + load("b", "L2-N", "current = \"10 A\"") +
                    load("c", "L3-N", "current = \"10 A\"") +
                    load("saw", "L2-L3", "current = \"10 A\", voltage = \"208 V\"") +
                    load("range", "L2-L3-N", "current = \"10 A\", voltage = \"208 V\""));
    plan.run({"a", "b"});
    CHECK(prints_as(plan.amps(Conductor::n), "10"));
    plan.run({"a", "b", "c"});
    CHECK(plan.amps(Conductor::n) < 1e-9);
    CHECK(prints_as(120 - plan.volts("a"), "0.69"));  // one way: 10 * 0.0695
    plan.run({"saw"});
    CHECK(prints_as(plan.volts("saw"), "206.46"));  // 120 sqrt 3 - 2 * 10 * 0.0695
    CHECK(plan.amps(Conductor::l1) < 1e-9);
    CHECK(plan.amps(Conductor::n) < 1e-9);
    const double saw = plan.volts("saw");
    plan.run({"range"});
    CHECK(agrees(plan.volts("range"), saw, 1e-12));
    CHECK(plan.amps(Conductor::l1) < 1e-9);
    CHECK(plan.amps(Conductor::n) < 1e-9);
    // What the limits take the load to draw is the same current.
    const auto& network = plan.plan().situation().network;
    const auto& point = network.loads[network.load_of[plan.load("range")]];
    CurrentPhasor sum{};
    for (const auto& drawn : point.draw) sum += drawn;
    CHECK(in(unit::ampere, magnitude(sum)) < 1e-9);
}

TEST_CASE("230/400 V: a motor on three lines beside a load on one") {
    // Three lines of 10 A: sqrt 3 * 10 * 0.1773 V between lines; the neutral stays empty.
    Solved plan("EU", "230/400 V", "20 m",
                load("planer", "L1-L2-L3", "current = \"10 A\", voltage = \"400 V\"") +
                    load("heater", "L3-N", "current = \"8 A\""));
    plan.run({"planer"});
    CHECK(prints_as(230 * std::sqrt(3.0) - plan.volts("planer"), "3.07"));
    CHECK(plan.amps(Conductor::n) < 1e-9);
    for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
        CHECK(agrees(plan.amps(line), 10, 1e-9));
    const double alone = plan.volts("planer");
    plan.run({"planer", "heater"});
    CHECK(prints_as(plan.amps(Conductor::n), "8"));
    CHECK(prints_as(plan.amps(Conductor::l3), "18"));
    // Its two pairs with L3 sag, L1 to L2 does not: the least of the three is what it gets.
    CHECK(plan.volts("planer") < alone - 1);
}

TEST_CASE("a power factor turns the current of the load and that of the limits by the same angle") {
    Solved plan(
        "EU", "230/400 V", "20 m",
        load("a", "L2-N", "current = \"9 A\", power_factor = 0.7", "motor = \"induction\"\n") +
            load("b", "L3-N", "current = \"5 A\", power_factor = 0.95", "motor = \"induction\"\n") +
            load("c", "L1-L2-L3", "current = \"6 A\", power_factor = 0.8", "motor = \"induction\"\n"));
    plan.run({"a", "b", "c"});
    const auto& network = plan.plan().situation().network;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n}) {
        CurrentPhasor sum{};
        for (const auto& point : network.loads) sum += point.draw[static_cast<std::size_t>(c)];
        CHECK(std::abs(plan.amps(c) - in(unit::ampere, magnitude(sum))) < 1e-9);
    }
}

TEST_CASE("heaters draw less where volts are low, motors that keep their power draw more") {
    const std::string loads = load("heater", "L-N", "power_in = \"2300 W\", voltage = \"230 V\"",
                                   "kind = \"heater\"\nmotor = \"none\"\n") +
                              load("tool", "L-N", "current = \"10 A\"", "motor = \"universal\"\n");
    Solved plan("EU", "230 V", "45 m", loads);
    plan.run({"heater"});
    const double ohms = 45 * 0.00741 * 1.1965 * 2;
    CHECK(agrees(plan.amps(Conductor::l1), 230 / (23 + ohms), 1e-5));
    Solved above_plate("UK", "240 V", "45 m", loads);  // 23 ohm stay 23 ohm
    above_plate.run({"heater"});
    CHECK(agrees(above_plate.amps(Conductor::l1), 240 / (23 + ohms), 1e-5));
    plan.run({"tool"});
    CHECK(agrees(plan.amps(Conductor::l1), 10, 1e-9));
    CircuitChoice keep;
    keep.motors_keep_power = true;
    plan.run({"tool"}, keep);
    CHECK(plan.amps(Conductor::l1) > 10);
    CHECK(agrees(plan.amps(Conductor::l1) * plan.volts("tool"), 2300, 1e-9));
}

TEST_CASE("a starting motor is an impedance; the source in front of the panel takes its part") {
    Solved plan("EU", "230 V", "20 m",
                load("saw", "L-N", "current = \"8 A\", start_current = \"40 A\"", "motor = \"induction\"\n") +
                    load("lamp", "L-N", "current = \"1 A\""));
    const double run = 2 * 20 * 0.00741 * 1.1965, motor = 230.0 / 40;
    CircuitChoice start;
    start.starting = plan.load("saw");
    plan.run({"saw"}, start);
    CHECK(agrees(plan.amps(Conductor::l1), 230 / (run + motor), 1e-5));
    CHECK(plan.volts("lamp") == plan.volts("saw"));  // both hang on the box
    start.source = 0.5 * unit::ohm;
    plan.run({"saw"}, start);
    CHECK(agrees(plan.amps(Conductor::l1), 230 / (run + motor + 0.5), 1e-5));
    // At the low end the impedance lags, 0.5 by table motor-kinds: the same size, added at an angle.
    start.high_start = false;
    plan.run({"saw"}, start);
    const double sum = std::hypot(run + 0.5 + motor * 0.5, motor * std::sqrt(0.75) + 40 * 0.00008);
    CHECK(agrees(plan.amps(Conductor::l1), 230 / sum, 1e-5));
    CHECK(plan.built().load_of.size() == 1);
}

TEST_CASE("a run of unknown length is taken at either end of its range") {
    Solved plan("EU", "230 V", "unknown", load("x", "L-N", "current = \"10 A\""));
    plan.run({"x"});
    CHECK(prints_as(230 - plan.volts("x"), "0.18"));  // 1 m
    CircuitChoice far;
    far.extent = network::Extent::far_end;
    plan.run({"x"}, far);
    CHECK(prints_as(230 - plan.volts("x"), "5.32"));  // 30 m
}

TEST_CASE("a reading of line impedance stands for the run, in every conductor of the outlet") {
    const auto lost = [](const std::string& system, const std::string& pattern,
                         const std::string& conductors) {
        const Judged plan = judged(
            "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"" + system +
            "\"\nline_impedance = \"0.2 ohm\"\n[outlet.wall]\nfrom = \"supply.s\"\npattern = \"" + pattern +
            "\"\nmeasured = { line = \"0.8 ohm\" }\n[box.b]\nfrom = \"outlet.wall\"\nplug = "
            "\"unknown\"\n[load.x]\nfrom = "
            "\"box.b\"\nconductors = \"" +
            conductors + "\"\nmotor = \"none\"\nplate = { current = \"10 A\" }\n");
        const auto s = plan.situation();
        const auto x = s.plan.find(plan::Kind::load, "x");
        const auto built =
            network::circuit_of(s.plan, s.network, s.plan.find(plan::Kind::supply, "s"), std::vector{x});
        const auto solution = network::solve(built.circuit);
        return 230 - in(unit::volt, network::volts_at(s.plan, built, solution, x));
    };
    // Less the 0.2 ohm before the panel: 0.6 ohm at 10 A.
    CHECK(agrees(lost("230 V", "CEE 7/3", "L-N"), 6, 1e-9));
    CHECK(agrees(lost("230/400 V", "IEC 60309 16 A 3P+N+E", "L2-N"), 6, 1e-9));
}
