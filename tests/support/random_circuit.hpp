#pragma once
// Random radial networks out of a seed, the same on every machine, and what the tests of the solver share.
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <benchfeed/network/solve.hpp>

namespace benchfeed::test {

using Plane = std::complex<double>;  // phasors with their SI units off

template <class Unit>
Plane plain(const bu::quantity<Unit, Plane>& phasor) {
    const auto one = bu::quantity<Unit>::from_value(1.0);
    return {in(one, real_part(phasor)), in(one, imag_part(phasor))};
}

/// Numbers out of a seed. The distributions of the standard library differ from one library to the next.
class Random {
public:
    explicit Random(std::uint64_t seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
    }
    double over_decades(double low, double high) { return low * std::exp(between(0, std::log(high / low))); }
    std::size_t below(std::size_t end) {
        return std::min(end - 1, static_cast<std::size_t>(between(0, static_cast<double>(end))));
    }
    bool chance(double share) { return between(0, 1) < share; }

private:
    std::mt19937_64 engine_;
};

struct System {
    std::string name;
    double hertz;
    std::vector<std::size_t> conductors;  // those that it has: lines, then N
    std::array<Plane, 4> source;          // L1, L2, L3, N against earth
};

/// Volts as the names say: 120/240 is two halves of one winding, the others with two voltages are stars.
inline const std::vector<System>& systems() {
    const Plane back = std::polar(1.0, -2 * std::acos(-1.0) / 3), ahead = std::conj(back);
    static const std::vector<System> all{
        {"230 V", 50, {0, 3}, {230.0, 0.0, 0.0, 0.0}},
        {"120 V", 60, {0, 3}, {120.0, 0.0, 0.0, 0.0}},
        {"120/240 V", 60, {0, 1, 3}, {120.0, -120.0, 0.0, 0.0}},
        {"120/208 V", 60, {0, 1, 2, 3}, {120.0, 120.0 * back, 120.0 * ahead, 0.0}},
        {"230/400 V", 50, {0, 1, 2, 3}, {230.0, 230.0 * back, 230.0 * ahead, 0.0}},
    };
    return all;
}

struct Wanted {
    std::size_t least_nodes = 1, most_nodes = 60;
    bool constant_current_only = false;
    double least_drop = 0.002, most_drop = 0.1;  // of the volts to neutral, in any one conductor
};

struct RandomCircuit {
    const System* system = nullptr;
    network::Circuit circuit;
};

namespace detail {

inline network::Circuit::Node random_node(Random& random, const System& system) {
    network::Circuit::Node node;
    if (random.chance(0.1)) return node;  // an element without a cable
    const double ohms = random.over_decades(0.005, 0.5);
    for (const std::size_t c : system.conductors) {
        const double r = ohms * random.between(0.5, 2);
        node.feed[c] = ComplexImpedance::from_value({r, random.chance(0.5) ? r * random.between(0, 0.6) : 0});
    }
    return node;
}

/// A draw as amps at the nominal volts; what it becomes is settled when all of them are known.
struct Amps {
    network::Index node;
    std::size_t from, to, model;  // 0 current, 1 impedance, 2 power
    Plane current;
};

inline void add_random_load(std::vector<Amps>& loads, Random& random, const System& system,
                            network::Index node, const Wanted& wanted) {
    const double size = random.over_decades(0.1, 20), power_factor = random.between(0.5, 1);
    const Plane turn = std::polar(1.0, (random.chance(0.15) ? 1 : -1) * std::acos(power_factor));
    const std::size_t model = wanted.constant_current_only ? 0 : random.below(3);
    const auto add = [&](std::size_t from, std::size_t to) {
        const Plane volts = system.source[from] - system.source[to];
        loads.push_back({node, from, to, model, size * turn * volts / std::abs(volts)});
    };
    const std::vector<std::size_t>& c = system.conductors;
    if (c.size() == 4 && random.chance(0.25)) {  // three lines, as three loads in delta or in star
        const bool delta = random.chance(0.5);
        for (std::size_t line = 0; line < 3; ++line) add(line, delta ? (line + 1) % 3 : 3);
        return;
    }
    const std::size_t from = random.below(c.size());
    const std::size_t to = (from + 1 + random.below(c.size() - 1)) % c.size();
    add(c[from], c[to]);
}

/// Highest drop in a conductor if all currents added up as plain numbers.
inline double drop_bound(const network::Circuit& circuit, const std::vector<Amps>& loads) {
    const std::size_t count = circuit.nodes.size();
    std::vector<double> amps(count), drop(count);
    for (const Amps& load : loads) amps[load.node] += std::abs(load.current);
    for (std::size_t i = count; i-- > 1;) amps[circuit.nodes[i].parent] += amps[i];
    for (std::size_t i = 0; i < count; ++i) {
        double ohms = 0;
        for (const auto& z : circuit.nodes[i].feed) ohms = std::max(ohms, std::abs(plain(z)));
        drop[i] = (i == 0 ? 0 : drop[circuit.nodes[i].parent]) + ohms * amps[i];
    }
    return *std::max_element(drop.begin(), drop.end());
}

}  // namespace detail

/// A network with loads of every model between any two lines, line and neutral, and on three lines.
/// The loads are made as large as a drop drawn at random allows, so that all networks have volts to run at.
inline RandomCircuit random_circuit(std::uint64_t seed, const Wanted& wanted = {}) {
    Random random(seed);
    RandomCircuit made;
    made.system = &systems()[seed % systems().size()];
    network::Circuit& circuit = made.circuit;
    for (std::size_t c = 0; c < 4; ++c) circuit.source[c] = VoltagePhasor::from_value(made.system->source[c]);
    const auto count = static_cast<std::size_t>(std::lround(random.over_decades(
        static_cast<double>(wanted.least_nodes), static_cast<double>(wanted.most_nodes))));
    const double chained = random.between(0, 1);  // 1: a chain; 0: a bush
    std::vector<detail::Amps> loads;
    for (std::size_t i = 0; i < count; ++i) {
        network::Circuit::Node node = detail::random_node(random, *made.system);
        if (i > 0)
            node.parent = static_cast<network::Index>(random.chance(chained) ? i - 1 : random.below(i));
        circuit.nodes.push_back(node);
        for (std::size_t k = random.below(3) + (i + 1 == count ? 1 : 0); k > 0; --k)
            detail::add_random_load(loads, random, *made.system, static_cast<network::Index>(i), wanted);
    }
    const double allowed =
        std::abs(made.system->source[0]) * random.over_decades(wanted.least_drop, wanted.most_drop);
    const double bound = detail::drop_bound(circuit, loads);
    const double scale = bound > 0 ? allowed / bound : 1;
    for (const detail::Amps& load : loads) {
        const Plane volts = made.system->source[load.from] - made.system->source[load.to];
        const Plane current = scale * load.current;
        network::LoadModel model = network::ConstantCurrent{CurrentPhasor::from_value(current)};
        if (load.model == 1)
            model = network::ConstantImpedance{ComplexImpedance::from_value(volts / current)};
        if (load.model == 2)
            model = network::ConstantPower{ComplexPower::from_value(volts * std::conj(current))};
        circuit.draws.push_back({load.node, static_cast<plan::Conductor>(load.from),
                                 static_cast<plan::Conductor>(load.to), model});
    }
    return made;
}

/// Volts between the conductors of a draw.
inline Plane across(const network::Solution& solution, const network::Draw& draw) {
    const auto& volts = solution.volts[draw.node];
    return plain(volts[static_cast<std::size_t>(draw.from)]) -
           plain(volts[static_cast<std::size_t>(draw.to)]);
}

/// Greatest volts of the source and greatest current of a solution: what errors are measured against.
inline double source_volts(const network::Circuit& circuit) {
    double most = 0;
    for (const auto& u : circuit.source) most = std::max(most, std::abs(plain(u)));
    return most;
}
inline double most_amps(const network::Solution& solution) {
    double most = 0;
    for (const auto& feed : solution.feed)
        for (const auto& i : feed) most = std::max(most, std::abs(plain(i)));
    for (const auto& i : solution.drawn) most = std::max(most, std::abs(plain(i)));
    return most;
}

}  // namespace benchfeed::test
