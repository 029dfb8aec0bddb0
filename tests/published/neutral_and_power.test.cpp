// Published worked examples about neutrals, parallel loads and power factor: source beside each check, digits
// as printed, computed by the solver.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include <benchfeed/network/circuit.hpp>
#include "published/circuits.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::add_load;
using test::at;
using test::catalogue;
using test::judged;
using test::ohms;
using test::prints_as;

namespace {

struct OnLine {
    const char* conductors;
    int amps;
};

Judged behind_one_box(const std::string& region, const std::string& system,
                      const std::vector<OnLine>& loads) {
    std::string plan = "format = 1\n[plan]\nregion = \"" + region +
                       "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + system +
                       "\"\n[box.b]\nfrom = \"supply.s\"\n";
    for (std::size_t i = 0; i < loads.size(); ++i)
        plan += "[load.x" + std::to_string(i) + "]\nfrom = \"box.b\"\nmotor = \"none\"\nconductors = \"" +
                loads[i].conductors + "\"\nplate = { current = \"" + std::to_string(loads[i].amps) +
                " A\" }\n";
    return judged(plan);
}

/// Current in the neutral that they share while all run.
double neutral_amps(const Judged& plan) {
    const auto s = plan.situation();
    const auto built =
        network::circuit_of(s.plan, s.network, s.plan.find(plan::Kind::supply, "s"), s.plan.everything.loads);
    const auto solution = network::solve(built.circuit);
    REQUIRE(solution.converged);
    const auto box = built.node_of[s.plan.find(plan::Kind::box, "b")];
    return in(unit::ampere, magnitude(solution.feed[box][test::index(plan::Conductor::n)]));
}

ComplexPower volt_amperes(double watts, double vars) {
    return rectangular(watts * unit::watt, vars * unit::watt);
}

}  // namespace

TEST_CASE("neu-3ph-01: 5, 8 and 10 A on three lines leave 4.36 A in the neutral") {
    // Source   How-to article citing J. Keljik, Electricity 2.
    const Judged plan = behind_one_box("EU", "230/400 V", {{"L1-N", 5}, {"L2-N", 8}, {"L3-N", 10}});
    CHECK(prints_as(neutral_amps(plan), "4.36"));
    // A set stands for all its subsets: with the 10 A load alone the neutral carries more.
    rules::Limit limit;
    limit.reach = {rules::Reach::Kind::neutral, plan.plan().find(plan::Kind::box, "b")};
    CHECK(prints_as(number(rules::evaluate(plan.situation(), limit, plan.plan().everything.loads).value),
                    "10"));
}

TEST_CASE("neu-split-01: 15 A against 5 A leave 10 A in the neutral; on the same leg 15 and 15 A make 30 A") {
    // Source   Wiring blog on multiwire branch circuits.
    CHECK(prints_as(neutral_amps(behind_one_box("US", "120/240 V", {{"L1-N", 15}, {"L2-N", 5}})), "10"));
    CHECK(prints_as(neutral_amps(behind_one_box("US", "120/240 V", {{"L1-N", 15}, {"L2-N", 15}})), "0"));
    CHECK(prints_as(neutral_amps(behind_one_box("US", "120/240 V", {{"L1-N", 15}, {"L1-N", 15}})), "30"));
}

TEST_CASE(
    "par-01: 8 kW leading beside 20 kVA lagging take 89.44 A at 250 V; the line of 0.05 ohm loses 400 W") {
    // Source   J. Nilsson and S. Riedel, Electric Circuits, example 10.6.
    const auto circuit_with = [](VoltagePhasor source, ComplexImpedance line) {
        network::Circuit circuit;
        circuit.source[test::index(plan::Conductor::l1)] = source;
        const auto node = test::add_run(circuit, plan::nowhere, line);
        add_load(circuit, node, network::ConstantPower{volt_amperes(8000, -6000)});
        add_load(circuit, node, network::ConstantPower{volt_amperes(20000 * 0.6, 20000 * 0.8)});
        return circuit;
    };
    const VoltagePhasor at_load = at(250.0 * unit::volt, 0);
    const auto loads = network::solve(circuit_with(at_load, ohms(0)));
    REQUIRE(loads.converged);
    const ComplexPower taken = test::power_on_l1(loads, 0);
    const CurrentPhasor current = loads.feed[0][test::index(plan::Conductor::l1)];
    CHECK(prints_as(in(unit::watt, real_part(taken)), "20000"));
    CHECK(prints_as(in(unit::watt, imag_part(taken)), "10000"));
    CHECK(prints_as(in(unit::kilowatt, magnitude(taken)), "22.36"));
    CHECK(prints_as(in(unit::ampere, magnitude(current)), "89.44"));
    CHECK(prints_as(in(unit::one, Ratio(real_part(taken) / magnitude(taken))), "0.8944"));

    // The line in front of it, sent so much more that the loads get their 250 V.
    const network::Circuit whole = circuit_with(at_load + current * ohms(0.05), ohms(0.05));
    const auto through_line = network::solve(whole);
    REQUIRE(through_line.converged);
    CHECK(prints_as(in(unit::volt, magnitude(through_line.volts[0][0])), "250"));
    const ComplexPower sent = whole.source[0] * conjugate(through_line.feed[0][0]);
    CHECK(prints_as(in(unit::watt, Power(real_part(sent) - real_part(test::power_on_l1(through_line, 0)))),
                    "400"));
}

TEST_CASE("par-03: 10 kW leading at 0.8 beside 10 kVA lagging at 0.8 are 18 kW and -1.5 kvar") {
    // Source   Graduate entrance examination question, 230 V; S = U conj(I), a leading load gives negative Q.
    network::Circuit circuit = test::one_line(230.0 * unit::volt);
    const auto node = test::add_run(circuit, plan::nowhere, ohms(0));
    add_load(circuit, node, network::ConstantPower{volt_amperes(10000, -7500)});
    add_load(circuit, node, network::ConstantPower{volt_amperes(8000, 6000)});
    const ComplexPower taken = test::power_on_l1(network::solve(circuit), node);
    CHECK(prints_as(in(unit::kilowatt, real_part(taken)), "18"));
    CHECK(prints_as(in(unit::kilowatt, imag_part(taken)), "-1.5"));
}

TEST_CASE("pf-rl-01: 600 ohm beside a reactance of 200 ohm at 440 V: 2.3 A, power factor 0.32") {
    // Source   Example after the DOE fundamentals handbook, parallel R-L circuit.
    network::Circuit circuit = test::one_line(440.0 * unit::volt);
    const auto node = test::add_run(circuit, plan::nowhere, ohms(0));
    add_load(circuit, node, network::ConstantImpedance{ohms(600)});
    add_load(circuit, node, network::ConstantImpedance{ohms(0, 200)});
    const auto solution = network::solve(circuit);
    REQUIRE(solution.converged);
    CHECK(prints_as(in(unit::ampere, magnitude(solution.feed[node][0])), "2.3"));
    const ComplexPower taken = test::power_on_l1(solution, node);
    CHECK(prints_as(in(unit::one, Ratio(real_part(taken) / magnitude(taken))), "0.32"));
}
