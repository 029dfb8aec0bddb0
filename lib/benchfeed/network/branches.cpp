// The cable of each element as conductors: how often each runs the length, and with what impedance.
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/network/parts.hpp>

namespace benchfeed::network {

using plan::Conductor;
using plan::Element;
using plan::Plan;

namespace {

struct Range {
    Length least{}, most{};
};

/// Stated range of a run whose length nobody knows: common practice, from table `thresholds`.
Range unknown_length(const tables::Catalogue& tables) {
    const tables::Table* table = tables.table("thresholds");
    const auto least = table ? table->length("unknown_run_least") : std::nullopt;
    const auto most = table ? table->length("unknown_run_most") : std::nullopt;
    return {least ? least->value : Length{}, most ? most->value : Length{}};
}

/// Passes of each live conductor through the cable: once; twice in an out-and-back run for those that are
/// switched and not at all for the others; a quarter round a ring (two halves in parallel).
std::array<Ratio, live_conductors> passes_of(const Element& element) {
    std::array<Ratio, live_conductors> passes{};
    const plan::Conductors used = element.conductors.value_or(plan::Conductors{});
    const bool ring = element.cable->ring.value_or(false);
    const auto* sw = element.as<plan::Switch>();
    int poles = sw ? sw->poles.value_or(1) : 0;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n}) {
        if (!used.has(c)) continue;
        double times = ring ? 0.25 : 1.0;
        if (sw && sw->wiring.is(plan::Wiring::loop)) times = poles-- > 0 ? 2.0 : 0.0;
        if (sw && sw->wiring.is(plan::Wiring::control)) times = 0.0;
        passes[static_cast<std::size_t>(c)] = times * unit::one;
    }
    return passes;
}

/// The protective conductor goes on with the current; beside a switch that hangs on its own cable it stays
/// at the box.
Ratio protective_passes_of(const Element& element) {
    const auto* sw = element.as<plan::Switch>();
    if (sw && !sw->wiring.is(plan::Wiring::in_line)) return 0.0 * unit::one;
    return (element.cable->ring.value_or(false) ? 0.25 : 1.0) * unit::one;
}

void fill(Branch& branch, Length near, Length far) {
    branch.length = near;
    branch.length_most = far;
    const auto along = [&](Length length, std::size_t c) {
        return rectangular(Impedance(branch.resistance * length * branch.passes[c]),
                           Impedance(branch.reactance * length * branch.passes[c]));
    };
    for (std::size_t c = 0; c < live_conductors; ++c) {
        branch.impedance[c] = along(near, c);
        branch.far_end[c] = along(far, c);
    }
}

Core core_of(const ConductorData& data) {
    return {data.cold, data.resistance, data.least};
}

Branch branch_of(const Plan& plan, const tables::Catalogue& tables, Family family, const Element& element) {
    Branch branch;
    branch.conductors = element.conductors.value_or(plan::Conductors{});
    if (!element.cable) return branch;
    branch.cable = true;
    branch.passes = passes_of(element);
    branch.protective_passes = protective_passes_of(element);
    const plan::Cable& cable = *element.cable;
    const auto data = cable.stock_index == plan::nowhere
                          ? std::nullopt
                          : conductor_data(tables, family, plan.stocks[cable.stock_index]);
    if (!data) {
        branch.known = false;
        branch.no_resistance = true;
        return branch;
    }
    branch.table_resistance = data->table;
    branch.substituted = data->substituted;
    branch.table_temperature = data->table_temperature;
    branch.conductor_temperature = data->temperature;
    branch.resistance = data->resistance;
    if (data->reactance) branch.reactance = data->reactance->value;
    branch.line = core_of(*data);
    if (const auto core = protective_data(tables, family, plan.stocks[cable.stock_index]))
        branch.protective = core_of(*core);
    if (cable.length.known()) {
        fill(branch, *cable.length, *cable.length);
    } else {
        branch.known = false;
        const Range range = unknown_length(tables);
        fill(branch, range.least, range.most);
    }
    return branch;
}

/// A reading of line impedance at an outlet stands for everything from the panel to it: half in each line,
/// half in the neutral, less what lies before the panel.
void take_measured(const Plan& plan, Network& network, Index outlet, Impedance measured) {
    const auto before = plan.supply_of(outlet).line_impedance.value_or(0.0 * unit::ohm);
    const Impedance after = measured > before ? Impedance(measured - before) : 0.0 * unit::ohm;
    for (Index up = outlet; up != plan::nowhere; up = plan[up].parent) {
        network.branches[up].impedance = {};
        network.branches[up].far_end = {};
        network.branches[up].known = true;
        network.branches[up].no_resistance = false;
    }
    const auto half = rectangular(Impedance(after * 0.5), 0.0 * unit::ohm);
    Branch& here = network.branches[outlet];
    here.measured = true;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n}) {
        if (!here.conductors.has(c)) continue;
        here.impedance[static_cast<std::size_t>(c)] = half;
        here.far_end[static_cast<std::size_t>(c)] = half;
    }
}

/// The smallest fixed section that the tables give for the device before an outlet: what a house has at
/// least.
std::optional<plan::Stock> usual_house_stock(const Plan& plan, const tables::Catalogue& tables, Family family,
                                             Index outlet) {
    std::optional<Current> rating;
    for (Index up = outlet; up != plan::nowhere && !rating; up = plan[up].parent)
        if (const auto* device = plan[up].as<plan::Device>()) rating = device->rating.value;
    const bool nec = family == Family::nec;
    const tables::Table* table = tables.table(nec ? tables::Key("nec-310-16") : tables::Key("iec-b52-2"));
    if (!rating || !table) return std::nullopt;
    for (std::size_t row = 0; row < table->rows.size(); ++row) {
        const auto ampacity = table->current(row, nec ? tables::Key("cu_60") : tables::Key("B2"));
        const auto section = table->section(row, table->column_name(0));
        if (!ampacity || !section || ampacity->value < *rating) continue;
        plan::Stock stock;
        stock.type.value = nec ? "NM-B" : "PVC sheathed";
        stock.section.value = section->value;
        stock.conductor.value = static_cast<std::uint8_t>(plan::Metal::copper);
        stock.strands.value = static_cast<std::uint8_t>(plan::Strands::solid);
        stock.protective.value = true;
        stock.protective_section.value = section->value;
        return stock;
    }
    return std::nullopt;
}

/// A house without any cable in the plan is not a house without wire: nobody has said how far it is. The
/// outlet of a generator or an inverter sits on it.
void assume_house_run(const Plan& plan, const tables::Catalogue& tables, Network& network, Index outlet) {
    if (!plan.supply_of(outlet).source.is(plan::SupplySource::public_network)) return;
    for (Index up = outlet; up != plan::nowhere; up = plan[up].parent)
        if (network.branches[up].cable) return;
    const auto stock = usual_house_stock(plan, tables, network.practice.family, outlet);
    const auto data = stock ? conductor_data(tables, network.practice.family, *stock) : std::nullopt;
    Branch& branch = network.branches[outlet];
    branch.known = false;
    branch.no_resistance = !data.has_value();
    if (!data) return;
    branch.resistance = data->resistance;
    if (data->reactance) branch.reactance = data->reactance->value;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (branch.conductors.has(c)) branch.passes[static_cast<std::size_t>(c)] = 1.0 * unit::one;
    branch.line = core_of(*data);
    branch.protective_passes = 1.0 * unit::one;
    if (const auto core = protective_data(tables, network.practice.family, *stock))
        branch.protective = core_of(*core);
    fill(branch, Length{}, unknown_length(tables).most);
}

}  // namespace

void make_branches(const Plan& plan, const tables::Catalogue& tables, Network& network) {
    network.branches.clear();
    network.branches.reserve(plan.elements.size());
    for (const Element& element : plan.elements)
        network.branches.push_back(branch_of(plan, tables, network.practice.family, element));
    for (const Index i : network.order) {
        const auto* outlet = plan[i].as<plan::Outlet>();
        if (!outlet) continue;
        if (outlet->measured && outlet->measured->line.known())
            take_measured(plan, network, i, *outlet->measured->line);
        else if (network.house[i])
            assume_house_run(plan, tables, network, i);
    }
}

}  // namespace benchfeed::network
