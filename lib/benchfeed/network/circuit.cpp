#include <benchfeed/network/circuit.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_set>

#include <benchfeed/network/load_current.hpp>

namespace benchfeed::network {

using plan::Conductor;

namespace {

VoltagePhasor between(const plan::Supply& supply, Pair pair) {
    return nominal_voltage(supply, pair.from) - nominal_voltage(supply, pair.to);
}

/// A current of this size and power factor through a load on these volts, lagging.
CurrentPhasor lagging(Current amps, Ratio power_factor, VoltagePhasor volts) {
    const double cosine = in(unit::one, power_factor), sine = -std::sqrt(std::max(0.0, 1 - cosine * cosine));
    const Voltage length = magnitude(volts);
    const double c = in(unit::one, Ratio(real_part(volts) / length)),
                 s = in(unit::one, Ratio(imag_part(volts) / length));
    return turned(amps, (c * cosine - s * sine) * unit::one, (s * cosine + c * sine) * unit::one);
}

struct Drawn {
    Current amps{};
    Ratio power_factor{};
    enum class As : std::uint8_t { current, impedance, power } as = As::current;
};

Drawn drawn_by(const plan::Plan& plan, const LoadPoint& load, const CircuitChoice& choice) {
    if (load.element == choice.starting && load.start)
        return choice.high_start ? Drawn{load.start->high, unit::one, Drawn::As::impedance}
                                 : Drawn{load.start->low, load.start->low_power_factor, Drawn::As::impedance};
    const bool heats = plan[load.element].as<plan::Load>()->kind.is(plan::LoadKind::heater);
    if (heats) return {load.current, unit::one, Drawn::As::impedance};
    return {load.current, load.power_factor,
            choice.motors_keep_power ? Drawn::As::power : Drawn::As::current};
}

LoadModel model_of(const Drawn& drawn, VoltagePhasor volts, Voltage plate) {
    const CurrentPhasor current = lagging(drawn.amps, drawn.power_factor, volts);
    switch (drawn.as) {
        case Drawn::As::impedance:
            return ConstantImpedance{ComplexImpedance(volts / current * Ratio(plate / magnitude(volts)))};
        case Drawn::As::power:
            return ConstantPower{ComplexPower(volts * conjugate(current))};
        case Drawn::As::current:
            break;
    }
    return ConstantCurrent{current};
}

void add_load(PlanCircuit& built, const plan::Plan& plan, const LoadPoint& load,
              const CircuitChoice& choice) {
    const plan::Supply& supply = plan.supply_of(load.element);
    const Index node = built.node_of[load.element];
    Drawn drawn = drawn_by(plan, load, choice);
    if (!(drawn.amps > 0.0 * unit::ampere)) return;
    const Voltage plate = plate_voltage(plan, load.element);
    if (load.conductors.lines() == 3) drawn.amps = drawn.amps / std::sqrt(3.0);  // line -> between two lines
    for (const Pair& pair : pairs_of(load.conductors)) {
        built.circuit.draws.push_back(
            {node, pair.from, pair.to, model_of(drawn, between(supply, pair), plate)});
        built.load_of.push_back(load.element);
    }
}

PerConductor<ComplexImpedance> source_feed(const plan::Plan& plan, Index supply, Impedance source) {
    PerConductor<ComplexImpedance> feed{};
    const auto conductors = plan[supply].conductors.value_or(plan::Conductors{});
    const auto half = rectangular(Impedance(source * 0.5), 0.0 * unit::ohm);
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (conductors.has(c)) feed[static_cast<std::size_t>(c)] = half;
    return feed;
}

/// The supply and what lies between it and a load that runs, parents before children: nothing flows
/// elsewhere.
std::vector<Index> carrying(const plan::Plan& plan, const Network& network, Index supply,
                            std::span<const Index> running) {
    std::vector<Index> found{supply};
    std::unordered_set<Index> seen{supply};
    for (const Index load : running) {
        if (!network.hangs_below(load, supply)) continue;
        for (Index up = load; seen.insert(up).second; up = plan[up].parent) found.push_back(up);
    }
    std::sort(found.begin(), found.end(),
              [&](Index a, Index b) { return network.enter[a] < network.enter[b]; });
    return found;
}

}  // namespace

PlanCircuit circuit_of(const plan::Plan& plan, const Network& network, Index supply,
                       std::span<const Index> running, const CircuitChoice& choice) {
    PlanCircuit built;
    built.node_of.assign(plan.elements.size(), plan::nowhere);
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        built.circuit.source[static_cast<std::size_t>(c)] =
            nominal_voltage(*plan[supply].as<plan::Supply>(), c);
    const std::vector<Index> nodes =
        choice.carrying_only ? carrying(plan, network, supply, running) : network.order;
    for (const Index element : nodes) {
        if (!network.hangs_below(element, supply)) continue;
        built.node_of[element] = static_cast<Index>(built.element_of.size());
        built.element_of.push_back(element);
        Circuit::Node node;
        if (element == supply) {
            if (choice.source) node.feed = source_feed(plan, supply, *choice.source);
        } else {
            const Branch& branch = network.branches[element];
            node.parent = built.node_of[plan[element].parent];
            node.feed = choice.extent == Extent::near_end ? branch.impedance : branch.far_end;
        }
        built.circuit.nodes.push_back(node);
    }
    for (const Index element : running) {
        const Index position = network.load_of[element];
        if (position != plan::nowhere && built.node_of[element] != plan::nowhere)
            add_load(built, plan, network.loads[position], choice);
    }
    return built;
}

Voltage volts_at(const plan::Plan& plan, const PlanCircuit& built, const Solution& solution, Index element) {
    const auto& volts = solution.volts[built.node_of[element]];
    const auto across = [&](Pair pair) {
        return magnitude(VoltagePhasor(volts[static_cast<std::size_t>(pair.from)] -
                                       volts[static_cast<std::size_t>(pair.to)]));
    };
    Voltage fewest = std::numeric_limits<double>::infinity() * unit::volt;
    for (const Pair& pair : pairs_of(plan[element].conductors.value_or(plan::Conductors{})))
        fewest = std::min(fewest, across(pair));
    return fewest;
}

}  // namespace benchfeed::network
