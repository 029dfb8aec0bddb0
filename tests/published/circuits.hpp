#pragma once
// Circuits of published examples that give ohms instead of a cable, for the solver as it is.
#include <cmath>
#include <numbers>

#include <benchfeed/network/solve.hpp>

namespace benchfeed::test {

/// A phasor of this length and angle.
template <class Unit>
bu::quantity<Unit, std::complex<double>> at(const bu::quantity<Unit>& length, double degrees) {
    const double angle = degrees * std::numbers::pi / 180;
    return turned(length, std::cos(angle) * unit::one, std::sin(angle) * unit::one);
}
inline ComplexImpedance ohms(double resistance, double reactance = 0) {
    return rectangular(resistance * unit::ohm, reactance * unit::ohm);
}
inline std::size_t index(plan::Conductor conductor) {
    return static_cast<std::size_t>(conductor);
}

/// One line against an ideal neutral.
inline network::Circuit one_line(Voltage volts) {
    network::Circuit circuit;
    circuit.source[index(plan::Conductor::l1)] = at(volts, 0);
    return circuit;
}
/// Three lines, 120 degrees apart.
inline network::Circuit three_lines(Voltage between_lines) {
    network::Circuit circuit;
    const Voltage star = between_lines / std::sqrt(3.0);
    circuit.source[index(plan::Conductor::l1)] = at(star, 0);
    circuit.source[index(plan::Conductor::l2)] = at(star, -120);
    circuit.source[index(plan::Conductor::l3)] = at(star, 120);
    return circuit;
}
/// A run to a further node with the same impedance in each line.
inline plan::Index add_run(network::Circuit& circuit, plan::Index parent, ComplexImpedance line) {
    network::Circuit::Node node;
    node.parent = parent;
    for (const auto c : {plan::Conductor::l1, plan::Conductor::l2, plan::Conductor::l3})
        node.feed[index(c)] = line;
    circuit.nodes.push_back(node);
    return static_cast<plan::Index>(circuit.nodes.size() - 1);
}
/// A balanced load on three lines, as three loads between lines.
inline void add_balanced(network::Circuit& circuit, plan::Index node, Current line, double degrees_behind) {
    using plan::Conductor;
    struct Side {
        Conductor from, to;
        double degrees;
    };
    for (const Side& side : {Side{Conductor::l1, Conductor::l2, 30}, Side{Conductor::l2, Conductor::l3, -90},
                             Side{Conductor::l3, Conductor::l1, 150}})
        circuit.draws.push_back(
            {node, side.from, side.to,
             network::ConstantCurrent{at(Current(line / std::sqrt(3.0)), side.degrees - degrees_behind)}});
}
/// A load between L1 and N.
inline void add_load(network::Circuit& circuit, plan::Index node, network::LoadModel model) {
    circuit.draws.push_back({node, plan::Conductor::l1, plan::Conductor::n, model});
}

/// Power that goes into the feed of a node on L1, with the volts at its load end.
inline ComplexPower power_on_l1(const network::Solution& solution, plan::Index node) {
    const auto l1 = index(plan::Conductor::l1);
    return solution.volts[node][l1] * conjugate(solution.feed[node][l1]);
}

}  // namespace benchfeed::test
