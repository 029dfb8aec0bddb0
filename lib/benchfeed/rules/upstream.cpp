#include <benchfeed/rules/upstream.hpp>

#include <algorithm>

#include <benchfeed/figures/plug_mating.hpp>
#include <benchfeed/figures/residual_practice.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Device;
using plan::Kind;
using plan::Load;
using plan::Switch;

Known residual_part(const Situation& s, const Device& device) {
    if (device.residual) return Known::yes;
    if (!device.standard.known()) return Known::open;
    return electrical::functions_of(device.standard.get(), s.tables).always_residual ? Known::yes : Known::no;
}

std::vector<Index> residual_devices_above(const Situation& s, Index element) {
    std::vector<Index> found;
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent)
        if (const auto* device = s.plan[up].as<Device>(); device && residual_part(s, *device) == Known::yes)
            found.push_back(up);
    return found;
}

tables::Found<ResidualPractice> residual_practice(const Situation& s) {
    const auto region = figures::residual_practice::at(s.tables, s.practice().region);
    return region.then([&](const figures::residual_practice::Row& row) {
        ResidualPractice practice{row.trip(s.tables), row.outlets(s.tables), row.rooms().has_value()};
        const auto& local = s.plan.local.residual_trip;
        if (local.known() && *local < practice.trip.value) practice.trip.value = *local;
        return practice;
    });
}

namespace {

Protected by_device(const Situation& s, Index index, const ResidualPractice& practice) {
    using Why = Protected::Why;
    const Device& device = *s.plan[index].as<Device>();
    const Known part = residual_part(s, device);
    if (part == Known::no) return {};
    if (part == Known::open) return {Known::open, index, Why::part};
    if (!device.residual || !device.residual->trip.known()) return {Known::open, index, Why::trip};
    if (above(*device.residual->trip, practice.trip.value)) return {Known::no, index, Why::too_much};
    if (device.residual->delay.stated_unknown) return {Known::open, index, Why::delay};
    if (device.residual->delay.is(plan::Delay::s)) return {Known::no, index, Why::delayed};
    return {Known::yes, index, Why::none};
}

}  // namespace

Protected residual_protection(const Situation& s, Index element, const ResidualPractice& practice) {
    Protected result;
    bool any_device = false;
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent) {
        if (!s.plan[up].as<Device>()) continue;
        any_device = true;
        const Protected one = by_device(s, up, practice);
        if (one.by == Known::yes) return one;
        if (one.by == Known::open || (result.by == Known::no && one.device != plan::nowhere)) result = one;
    }
    if (!any_device) return {Known::open, plan::nowhere, Protected::Why::no_device};
    return result;
}

bool is_release(const Switch& sw) {
    return sw.no_volt.is(true) || sw.kind.is(plan::SwitchKind::contactor) ||
           sw.kind.is(plan::SwitchKind::emergency_stop);
}

namespace {
template <class Opener>
std::optional<plan::Conductors> opened(const Opener& opener, plan::Conductors arriving) {
    using plan::Conductor;
    if (opener.opens.known()) return *opener.opens;
    if (opener.opens.stated_unknown || !opener.poles.known()) return std::nullopt;
    plan::Conductors open;
    int poles = *opener.poles;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (arriving.has(c) && poles-- > 0) open.add(c);
    return open;
}
}  // namespace

std::optional<plan::Conductors> opened_by(const Switch& sw, plan::Conductors arriving) {
    return opened(sw, arriving);
}
std::optional<plan::Conductors> opened_by(const plan::Device& device, plan::Conductors arriving) {
    return opened(device, arriving);
}

Mating polarity_at(const Situation& s, Index element) {
    Mating result;
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent) {
        const plan::Element& e = s.plan[up];
        if (e.plug.stated_unknown) result = {Polarity::open, up};
        if (!e.plug.known() || e.parent == plan::nowhere) continue;
        const auto* outlet = s.plan[e.parent].as<plan::Outlet>();
        if (!outlet || !outlet->pattern.known()) continue;
        const auto mating = figures::plug_mating::at(s.tables, *e.plug, *outlet->pattern);
        if (mating && mating->polarised() != true) return {Polarity::reversible, up};
    }
    return result;
}

bool released_below(const Situation& s, Index above, Index load) {
    if (s.plan[load].as<Load>()->no_volt.is(true)) return true;
    for (Index up = s.plan[load].parent; up != plan::nowhere && up != above; up = s.plan[up].parent)
        if (const auto* sw = s.plan[up].as<Switch>(); sw && sw->no_volt.is(true)) return true;
    return false;
}

Known starts_and_cuts(const Load& load) {
    if (load.latched.is(false) || load.cutter.is(false)) return Known::no;
    return load.latched.is(true) && load.cutter.is(true) ? Known::yes : Known::open;
}

std::vector<Index> loads_below(const Situation& s, Index element) {
    std::vector<Index> found;
    for (Index at = s.network.enter[element]; at < s.network.leave[element]; ++at)
        if (s.plan[s.network.order[at]].kind == Kind::load) found.push_back(s.network.order[at]);
    return found;
}

bool turns(const Load& load) {
    if (load.kind.is(plan::LoadKind::light) || load.kind.is(plan::LoadKind::charger)) return false;
    return !load.motor.is(plan::Motor::none) || load.cutter.is(true);
}

bool behind_a_plug(const Situation& s, Index element) {
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent)
        if (s.plan[up].plug.written()) return true;
    return false;
}

std::vector<Index> bench_plugs(const Situation& s) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (e.kind == Kind::load || !e.plug.written() || e.parent == plan::nowhere) continue;
        if (!behind_a_plug(s, e.parent)) found.push_back(i);
    }
    return found;
}

std::string region_word(const Situation& s, std::string_view column) {
    const tables::Table* table = s.tables.table("region-words");
    const auto row = table ? table->row_of("region", s.practice().region) : std::nullopt;
    return row ? std::string(table->text(*row, column)) : std::string();
}

std::optional<std::size_t> construction_row(const Situation& s, const plan::Stock& stock) {
    const tables::Table* table = s.tables.table("cable-constructions");
    return table && stock.type.known() ? table->row_of("construction", *stock.type) : std::nullopt;
}

const plan::Stock* stock_of(const Situation& s, Index element) {
    const auto& cable = s.plan[element].cable;
    return cable && cable->stock_index != plan::nowhere ? &s.plan.stocks[cable->stock_index] : nullptr;
}

bool is_cord(const Situation& s, const plan::Stock& stock) {
    const auto row = construction_row(s, stock);
    return row && s.tables.table("cable-constructions")->text(*row, "use") == "cord";
}

}  // namespace benchfeed::rules
