#pragma once
// Random radial networks of every system, with loads of every kind between any two conductors.
#include <cmath>
#include <random>
#include <vector>

#include "network/solve.hpp"

namespace benchfeed::test {

/// The systems of the plan format, as source volts against earth.
inline network::PerConductor<VoltagePhasor> source_of(unsigned system) {
    const auto volts = [](double re, double im) { return rectangular(re * unit::volt, im * unit::volt); };
    const auto none = volts(0, 0);
    const auto three = [&](double u) {
        return network::PerConductor<VoltagePhasor>{volts(u, 0), volts(-u / 2, -u * std::sqrt(0.75)),
                                                    volts(-u / 2, u * std::sqrt(0.75)), none};
    };
    switch (system % 5) {
        case 0:
            return {volts(230, 0), none, none, none};
        case 1:
            return {volts(120, 0), none, none, none};
        case 2:
            return {volts(120, 0), volts(-120, 0), none, none};
        case 3:
            return three(120);
        default:
            return three(230);
    }
}
inline unsigned lines_of(unsigned system) {
    constexpr unsigned lines[] = {1, 1, 2, 3, 3};
    return lines[system % 5];
}

/// A tree of 1 to `most` nodes; what it draws is kept small enough for some voltage to serve it.
inline network::Circuit random_circuit(unsigned seed, std::size_t most) {
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const auto pair = [&](double re, double im) { return std::complex<double>(re, im); };
    const auto pick = [&](unsigned below) { return static_cast<unsigned>(random() % below); };
    const unsigned system = pick(5), lines = lines_of(system);
    network::Circuit circuit;
    circuit.source = source_of(system);
    const double volts = in(unit::volt, real_part(circuit.source[0]));
    const std::size_t count = 1 + random() % most;
    const double share = 40.0 / static_cast<double>(count);  // about 40 A in all
    for (std::size_t i = 0; i < count; ++i) {
        network::Circuit::Node node;
        // Mostly near the last node, so that long chains occur.
        if (i > 0) node.parent = static_cast<network::Index>(random() % 3 ? i - 1 : random() % i);
        for (auto& z : node.feed)
            z = rectangular(between(0.0005, 0.02) * unit::ohm, between(0, 0.004) * unit::ohm);
        circuit.nodes.push_back(node);
        const unsigned from = pick(lines);
        const bool to_line = lines > 1 && random() % 2;
        const unsigned to = to_line ? (from + 1) % lines : 3;
        const double current = between(0.1, 1) * share, lag = between(0, 0.6);
        const auto size = pair(current * std::cos(lag), current * std::sin(lag));
        network::Draw draw{static_cast<network::Index>(i), static_cast<plan::Conductor>(from),
                           static_cast<plan::Conductor>(to), network::ConstantCurrent{}};
        switch (random() % 3) {
            case 0:
                draw.model = network::ConstantCurrent{
                    rectangular(size.real() * unit::ampere, -size.imag() * unit::ampere)};
                break;
            case 1: {
                const auto ohms = volts / std::conj(size);
                draw.model =
                    network::ConstantImpedance{rectangular(ohms.real() * unit::ohm, ohms.imag() * unit::ohm)};
                break;
            }
            default:
                draw.model = network::ConstantPower{
                    rectangular(volts * size.real() * unit::watt, volts * size.imag() * unit::watt)};
        }
        circuit.draws.push_back(draw);
    }
    return circuit;
}

}  // namespace benchfeed::test
