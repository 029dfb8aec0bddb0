#include <benchfeed/network/network.hpp>
#include <benchfeed/network/parts.hpp>

namespace benchfeed::network {

using plan::Conductor;
using plan::System;

Network build(const plan::Plan& plan, const tables::Catalogue& tables, PlateEnd end) {
    Network network;
    network.plate_end = end;
    if (auto practice = practice_of(tables, plan.head.region.value_or("")))
        network.practice = std::move(*practice);
    make_topology(plan, network);
    make_branches(plan, tables, network);
    add_up_impedances(plan, network);
    make_loads(plan, tables, network);
    return network;
}

VoltagePhasor nominal_voltage(const plan::Supply& supply, Conductor conductor) {
    const auto volts = [&](double otherwise) { return supply.voltage.value_or(otherwise * unit::volt); };
    const auto at = [](Voltage length, double cosine, double sine) {
        return turned(length, cosine * unit::one, sine * unit::one);
    };
    if (conductor == Conductor::n || conductor == Conductor::pe) return at(0.0 * unit::volt, 1, 0);
    const double half = 0.5, root = std::sqrt(0.75);
    const auto three_phase = [&](Voltage length) {  // L1 at 0, L2 at -120, L3 at +120 degrees
        if (conductor == Conductor::l1) return at(length, 1, 0);
        return at(length, -half, conductor == Conductor::l2 ? -root : root);
    };
    switch (supply.system.get_or(System::v230)) {
        case System::v230:
            return at(volts(230), 1, 0);
        case System::v240:
            return at(volts(240), 1, 0);
        case System::v120:
            return at(volts(120), 1, 0);
        case System::v120_240:
            return at(volts(120), conductor == Conductor::l1 ? 1 : -1, 0);
        case System::v120_208:
            return three_phase(volts(120));
        case System::v230_400:
            return three_phase(volts(230));
    }
    return at(0.0 * unit::volt, 1, 0);
}

Voltage nominal_between(const plan::Supply& supply, plan::Conductors conductors) {
    if (const auto pair = pair_of(conductors))
        return magnitude(
            VoltagePhasor(nominal_voltage(supply, pair->from) - nominal_voltage(supply, pair->to)));
    if (conductors.lines() >= 2)
        return magnitude(
            VoltagePhasor(nominal_voltage(supply, Conductor::l1) - nominal_voltage(supply, Conductor::l2)));
    return magnitude(nominal_voltage(supply, Conductor::l1));
}

}  // namespace benchfeed::network
