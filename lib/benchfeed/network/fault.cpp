#include <benchfeed/network/fault.hpp>

#include <algorithm>
#include <cmath>

#include <benchfeed/figures/iec_411_4_4.hpp>
#include <benchfeed/figures/plug_patterns.hpp>
#include <benchfeed/figures/thresholds.hpp>

namespace benchfeed::network {

using plan::Conductor;
using plan::Plan;

namespace {

bool tn(const plan::Supply& supply) {
    return supply.earthing.is(plan::Earthing::tn_s) || supply.earthing.is(plan::Earthing::tn_c_s) ||
           supply.earthing.is(plan::Earthing::tn_c);
}

std::optional<Impedance> reading_at(const Plan& plan, Index element, Return back) {
    const auto* outlet = plan[element].as<plan::Outlet>();
    if (!outlet || !outlet->measured) return std::nullopt;
    if (back == Return::protective) return outlet->measured->loop.value;
    const auto line = outlet->measured->line.value;
    return line && back == Return::lines ? Impedance(*line * 0.5) : line;
}

/// Share of a tabulated loop that a cold reading may reach: a reading over it is the loop when warm.
Ratio cold_share(const tables::Catalogue& tables) {
    return figures::thresholds::cold_loop(tables).value;
}

/// So strong that the reactance of the transformer shows in it.
bool beside_a_transformer(const Plan& plan, const tables::Catalogue& tables, Index element,
                          Impedance before) {
    const Current most = figures::thresholds::resistive_source(tables).value;
    return before * most < line_to_neutral(plan, element) * (1 - 1e-9);
}

std::optional<Impedance> strongest_source(const plan::Supply& supply, Voltage volts, Return back) {
    std::optional<Impedance> least;
    const auto take = [&](std::optional<Impedance> z) {
        // Of a line and its return; the stated current is the highest already, and these only raise it.
        if (z && back == Return::lines && !supply.fault_current.known()) z = Impedance(*z * 0.5);
        if (z && (!least || *z < *least)) least = z;
    };
    if (supply.fault_current.known()) least = Impedance(volts / *supply.fault_current);
    take(supply.line_impedance.value);
    if (tn(supply)) take(supply.loop_impedance.value);
    return least;
}

std::optional<Impedance> source_of(const Plan& plan, Index supply_index, Return back, Extreme extreme) {
    const plan::Supply& supply = *plan[supply_index].as<plan::Supply>();
    if (extreme == Extreme::most)
        return strongest_source(supply, magnitude(nominal_voltage(supply, Conductor::l1)), back);
    return back == Return::protective ? supply.loop_impedance.value : line_source(plan, supply_index);
}

void add_run(Loop& loop, const Plan& plan, const Branch& branch, Index at, Return back, Extreme extreme) {
    const bool run = branch.cable || branch.length_most > Length{} || branch.no_resistance;
    if (!run) return;
    if (!(branch.line.hot > ImpedancePerLength{})) loop.missing = at;
    if (branch.length_most > branch.length) loop.uncertain = at;
    const bool cold = extreme == Extreme::most;
    const Length length = cold ? branch.length : branch.length_most;
    const auto ohms = [&](const Core& core, Ratio passes) {
        return Impedance((cold ? core.least : core.hot) * length * passes);
    };
    loop.resistance += ohms(branch.line, line_passes(branch));
    const Ratio passes = return_passes(branch, back);
    loop.reactance += Impedance(branch.reactance * length * Ratio(line_passes(branch) + passes));
    if (back == Return::neutral) {
        loop.resistance += ohms(branch.line, passes);
    } else if (passes > 0.0 * unit::one) {
        if (branch.protective) {
            loop.resistance += ohms(*branch.protective, passes);
        } else {
            const plan::Stock* stock = plan[at].cable && plan[at].cable->stock_index != plan::nowhere
                                           ? &plan.stocks[plan[at].cable->stock_index]
                                           : nullptr;
            (stock && stock->protective.is(false) ? loop.broken : loop.missing) = at;
        }
    }
}

}  // namespace

Ratio line_passes(const Branch& branch) {
    return std::max({branch.passes[0], branch.passes[1], branch.passes[2]});
}

Ratio return_passes(const Branch& branch, Return back) {
    if (back == Return::lines) return 0.0 * unit::one;
    return back == Return::neutral ? branch.passes[static_cast<std::size_t>(Conductor::n)]
                                   : branch.protective_passes;
}

Branch run_to(const Network& network, Index at, Index end) {
    Branch branch = network.branches[at];
    const bool passed = std::any_of(branch.passes.begin(), branch.passes.end(),
                                    [](Ratio passes) { return passes > 0.0 * unit::one; });
    if (at != end || !branch.cable || passed) return branch;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (branch.conductors.has(c)) branch.passes[static_cast<std::size_t>(c)] = 1.0 * unit::one;
    branch.protective_passes = 1.0 * unit::one;
    return branch;
}

Impedance Loop::impedance() const {
    const Impedance before = read_at != plan::nowhere ? read : source.value_or(0.0 * unit::ohm);
    return reactive ? magnitude(rectangular(resistance, Impedance(before + reactance)))
                    : magnitude(rectangular(Impedance(before + resistance), reactance));
}

bool may_have_earth(const plan::Outlet& outlet, const tables::Catalogue& tables) {
    if (outlet.earth.is(plan::Earth::none)) return false;
    if (!outlet.pattern.known()) return true;
    const auto pattern = figures::plug_patterns::at(tables, *outlet.pattern);
    return !pattern || pattern->earth();
}

Loop fault_loop(const Plan& plan, const tables::Catalogue& tables, const Network& network, Index element,
                Return back, Extreme extreme) {
    Loop loop;
    for (Index at = element; at != plan::nowhere; at = plan[at].parent) {
        if (const auto reading = reading_at(plan, at, back)) {
            loop.read = extreme == Extreme::most ? *reading : Impedance(*reading / cold_share(tables));
            loop.read_at = at;
            loop.reactive =
                extreme == Extreme::most && beside_a_transformer(plan, tables, element, loop.read);
            return loop;
        }
        add_run(loop, plan, run_to(network, at, element), at, back, extreme);
        const auto* outlet = plan[at].as<plan::Outlet>();
        if (back == Return::protective && outlet && !may_have_earth(*outlet, tables)) loop.broken = at;
    }
    loop.source = source_of(plan, plan.supply_index_of(element), back, extreme);
    loop.reactive =
        extreme == Extreme::most && loop.source && beside_a_transformer(plan, tables, element, *loop.source);
    return loop;
}

std::optional<Impedance> line_source(const Plan& plan, Index supply_index) {
    const plan::Supply& supply = *plan[supply_index].as<plan::Supply>();
    if (supply.line_impedance.known()) return *supply.line_impedance;
    if (!tn(supply) || !supply.loop_impedance.known()) return std::nullopt;
    const Impedance loop = *supply.loop_impedance;
    if (!supply.fault_current.known()) return loop;
    const Voltage volts = magnitude(nominal_voltage(supply, Conductor::l1));
    return std::max(loop, Impedance(volts / *supply.fault_current));
}

std::optional<Current> most_fault_current(const Plan& plan, const tables::Catalogue& tables,
                                          const Network& network, Index element) {
    const Index above = plan[element].parent;
    const Voltage volts = line_to_neutral(plan, element);
    if (above == plan::nowhere) return plan[element].as<plan::Supply>()->fault_current.value;
    const bool several = plan[element].conductors.value_or(plan::Conductors{}).lines() > 1;
    const Loop loop =
        fault_loop(plan, tables, network, above, several ? Return::lines : Return::neutral, Extreme::most);
    if (!loop.source && loop.read_at == plan::nowhere) return std::nullopt;
    const Impedance z = loop.impedance();
    if (!(z > 0.0 * unit::ohm)) return std::nullopt;
    return volts / z;
}

std::optional<Current> least_fault_current(const Plan& plan, const tables::Catalogue& tables,
                                           const Network& network, Index element, Return back) {
    const Loop loop = fault_loop(plan, tables, network, element, back, Extreme::least);
    const Ratio cmin = figures::iec_411_4_4::cmin(tables).value;
    if (!loop.known()) return std::nullopt;
    const Impedance z = loop.impedance();
    if (!(z > 0.0 * unit::ohm)) return std::nullopt;
    const auto conductors = plan[element].conductors.value_or(plan::Conductors{});
    const bool between_lines = back == Return::neutral && !conductors.has(Conductor::n);
    const Voltage volts = between_lines ? Voltage(nominal_between(plan.supply_of(element), conductors) * 0.5)
                                        : line_to_neutral(plan, element);
    return Current(cmin * volts / z);
}

Voltage line_to_neutral(const Plan& plan, Index element) {
    return magnitude(nominal_voltage(plan.supply_of(element), Conductor::l1));
}

}  // namespace benchfeed::network
