// Values that the format assumes or takes as plain defaults, where the plan is silent. Assumed ones are
// printed; "unknown" stays unknown.
#include <algorithm>

#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

template <class T>
void set_assumed(Field<T>& field, T value) {
    if (field.known() || field.stated_unknown) return;
    field.value = std::move(value);
    field.origin = Origin::assumed;
}
template <class T>
void set_plain(Field<T>& field, T value) {
    if (field.known() || field.stated_unknown) return;
    field.value = std::move(value);
}
template <class E>
void set_assumed(Choice<E>& field, E value) {
    if (!field.known() && !field.stated_unknown) field.assume(value);
}
template <class E>
void set_plain(Choice<E>& field, E value) {
    if (!field.known() && !field.stated_unknown) field.value = static_cast<std::uint8_t>(value);
}

const Words::Region* region_of(const Words& words, const Plan& plan) {
    for (const auto& region : words.regions)
        if (plan.head.region.known() && region.name == *plan.head.region) return &region;
    return nullptr;
}

const Words::Construction* construction_of(const Words& words, const Stock& stock) {
    for (const auto& construction : words.constructions)
        if (stock.type.known() && construction.name == *stock.type) return &construction;
    return nullptr;
}

void assume_supply(Supply& supply, const Words::Region* region) {
    set_plain(supply.source, SupplySource::public_network);
    set_assumed(supply.circuit, Circuit::shared);
    if (region) set_plain(supply.frequency, region->frequency);
    // What every network of the region has says nothing of a generator.
    const bool network = supply.source.is(SupplySource::public_network);
    if (region && region->earthing && network) set_assumed(supply.earthing, *region->earthing);
}

DeviceStandard usual_standard(const Words::Region& region, const Device& device) {
    if (device.kind.is(DeviceKind::residual_current_device)) return region.residual_device;
    if (device.kind.is(DeviceKind::fuse)) return region.fuse;
    return device.residual ? region.breaker_residual : region.breaker;
}

void assume_device(const Words::Region* region, const Element& e, Device& device) {
    if (region) set_assumed(device.standard, usual_standard(*region, device));
    set_plain(device.poles, e.conductors.known() ? e.conductors->lines() : 1);
    set_plain(device.tied, true);
    set_plain(device.reset, Reset::hand);
    set_assumed(device.other_load, 0.0 * unit::ampere);
    if (device.residual) set_plain(device.residual->delay, Delay::none);
}

void assume_switch(Switch& sw, const Words::Region* region) {
    set_assumed(sw.kind, region ? region->usual_switch : SwitchKind::rocker);
    set_plain(sw.no_volt, false);
    set_plain(sw.changeover, false);
    set_assumed(sw.indicator, false);
    set_plain(sw.wiring, Wiring::in_line);
}

void assume_load(Load& load) {
    set_plain(load.kind, LoadKind::tool);
    const LoadKind kind = load.kind.get();
    set_assumed(load.soft_start, false);
    set_assumed(load.latched, true);
    set_plain(load.no_volt, false);
    set_assumed(load.cutter, kind == LoadKind::tool && !load.motor.is(Motor::none));
    set_assumed(load.drive, Drive::none);
    set_assumed(load.protection_class, ProtectionClass::i);
    set_assumed(load.duty, kind == LoadKind::light || kind == LoadKind::heater ? Duty::hours : Duty::minutes);
    set_assumed(load.self_starting,
                kind == LoadKind::compressor || kind == LoadKind::heater || kind == LoadKind::charger);
}

/// A load without a plug takes the one that fits its outlet: of several the first that connects the earth.
void assume_plug(const Words& words, const Plan& plan, Element& e) {
    if (e.kind != Kind::load || e.plug.known() || e.plug.stated_unknown || e.parent == nowhere) return;
    const auto* outlet = plan[e.parent].as<Outlet>();
    if (!outlet || !outlet->pattern.known()) return;
    const Words::Mating* best = nullptr;
    for (const auto& mating : words.matings)
        if (mating.outlet == *outlet->pattern && (!best || (mating.earth && !best->earth))) best = &mating;
    // The outlet's own pattern is the natural plug where it is one.
    for (const auto& mating : words.matings)
        if (mating.outlet == *outlet->pattern && mating.plug == *outlet->pattern) best = &mating;
    if (best) set_assumed(e.plug, best->plug);
}

void assume_cable(Cable& cable) {
    set_assumed(cable.grouped, 1);
    set_plain(cable.ring, false);
    set_plain(cable.reel, Reel::none);
    set_plain(cable.own, false);
    set_plain(cable.listed, false);
}

void assume_stock(const Words& words, Stock& stock) {
    const auto* construction = construction_of(words, stock);
    set_plain(stock.protective, true);
    set_assumed(stock.conductor, Metal::copper);
    set_plain(stock.existing, false);
    if (!construction) return;
    set_plain(stock.strands, construction->strands);
    if (!stock.section.known() || stock.protective_section.known() || stock.protective_section.stated_unknown)
        return;
    Section protective = *stock.section;
    if (construction->flat_pvc)
        for (const auto& pair : words.flat_pvc)
            if (pair.section == *stock.section) protective = pair.protective;
    set_plain(stock.protective_section, protective);
}

}  // namespace

void assume_defaults(Context& context, Plan& plan) {
    const Words::Region* region = region_of(context.words, plan);
    set_assumed(plan.head.mounting, Mounting::mobile);
    set_assumed(plan.head.ambient, celsius(30));
    set_assumed(plan.site.wet, Wet::dry);
    set_assumed(plan.site.dust, true);
    set_assumed(plan.site.children, false);
    set_plain(plan.local.ambient_credit, false);
    for (Stock& stock : plan.stocks) assume_stock(context.words, stock);
    for (Element& e : plan.elements) {
        set_plain(e.existing, false);
        if (e.cable) assume_cable(*e.cable);
        if (auto* supply = std::get_if<Supply>(&e.what)) assume_supply(*supply, region);
        if (auto* device = std::get_if<Device>(&e.what)) assume_device(region, e, *device);
        if (auto* sw = std::get_if<Switch>(&e.what)) assume_switch(*sw, region);
        if (auto* load = std::get_if<Load>(&e.what)) assume_load(*load);
        if (auto* outlet = std::get_if<Outlet>(&e.what)) {
            set_plain(outlet->ways, 1);
            set_assumed(outlet->faces, Faces::side);
        }
    }
    for (Element& e : plan.elements) assume_plug(context.words, plan, e);
}

}  // namespace benchfeed::plan
