// Values that the format assumes or takes as plain defaults, where the plan is silent. Assumed ones are
// printed; "unknown" stays unknown.
#include <algorithm>

#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

template <class T>
void assume(Field<T>& field, T value) {
    if (field.known() || field.stated_unknown) return;
    field.value = std::move(value);
    field.origin = Origin::assumed;
}
template <class T>
void plain(Field<T>& field, T value) {
    if (field.known() || field.stated_unknown) return;
    field.value = std::move(value);
}
template <class E>
void assume(Choice<E>& field, E value) {
    if (!field.known() && !field.stated_unknown) field.assume(value);
}
template <class E>
void plain(Choice<E>& field, E value) {
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
    plain(supply.source, SupplySource::public_network);
    assume(supply.circuit, Circuit::shared);
    if (region) plain(supply.frequency, region->frequency);
    // What every network of the region has says nothing of a generator.
    const bool network = supply.source.is(SupplySource::public_network);
    if (region && region->earthing && network) assume(supply.earthing, *region->earthing);
}

DeviceStandard usual_standard(const Words::Region& region, const Device& device) {
    if (device.kind.is(DeviceKind::residual_current_device)) return region.residual_device;
    if (device.kind.is(DeviceKind::fuse)) return region.fuse;
    return device.residual ? region.breaker_residual : region.breaker;
}

void assume_device(const Words::Region* region, const Element& e, Device& device) {
    if (region) assume(device.standard, usual_standard(*region, device));
    plain(device.poles, e.conductors.known() ? e.conductors->lines() : 1);
    plain(device.tied, true);
    plain(device.reset, Reset::hand);
    assume(device.other_load, 0.0 * unit::ampere);
    if (device.residual) plain(device.residual->delay, Delay::none);
}

void assume_switch(Switch& sw, const Words::Region* region) {
    assume(sw.kind, region ? region->usual_switch : SwitchKind::rocker);
    plain(sw.no_volt, false);
    plain(sw.changeover, false);
    assume(sw.indicator, false);
    plain(sw.wiring, Wiring::in_line);
}

void assume_load(Load& load) {
    plain(load.kind, LoadKind::tool);
    const LoadKind kind = load.kind.get();
    assume(load.soft_start, false);
    assume(load.latched, true);
    plain(load.no_volt, false);
    assume(load.cutter, kind == LoadKind::tool && !load.motor.is(Motor::none));
    assume(load.drive, Drive::none);
    assume(load.protection_class, ProtectionClass::i);
    assume(load.duty, kind == LoadKind::light || kind == LoadKind::heater ? Duty::hours : Duty::minutes);
    assume(load.self_starting,
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
    if (best) assume(e.plug, best->plug);
}

void assume_cable(Cable& cable) {
    assume(cable.grouped, 1);
    plain(cable.ring, false);
    plain(cable.reel, Reel::none);
    plain(cable.own, false);
    plain(cable.listed, false);
}

void assume_stock(const Words& words, Stock& stock) {
    const auto* construction = construction_of(words, stock);
    plain(stock.protective, true);
    assume(stock.conductor, Metal::copper);
    plain(stock.existing, false);
    if (!construction) return;
    plain(stock.strands, construction->strands);
    if (!stock.section.known() || stock.protective_section.known() || stock.protective_section.stated_unknown)
        return;
    Section protective = *stock.section;
    if (construction->flat_pvc)
        for (const auto& pair : words.flat_pvc)
            if (pair.section == *stock.section) protective = pair.protective;
    plain(stock.protective_section, protective);
}

}  // namespace

void assume_defaults(Context& context, Plan& plan) {
    const Words::Region* region = region_of(context.words, plan);
    assume(plan.head.mounting, Mounting::mobile);
    assume(plan.head.ambient, celsius(30));
    assume(plan.site.wet, Wet::dry);
    assume(plan.site.dust, true);
    assume(plan.site.children, false);
    plain(plan.local.ambient_credit, false);
    for (Stock& stock : plan.stocks) assume_stock(context.words, stock);
    for (Element& e : plan.elements) {
        plain(e.existing, false);
        if (e.cable) assume_cable(*e.cable);
        if (auto* supply = std::get_if<Supply>(&e.what)) assume_supply(*supply, region);
        if (auto* device = std::get_if<Device>(&e.what)) assume_device(region, e, *device);
        if (auto* sw = std::get_if<Switch>(&e.what)) assume_switch(*sw, region);
        if (auto* load = std::get_if<Load>(&e.what)) assume_load(*load);
        if (auto* outlet = std::get_if<Outlet>(&e.what)) {
            plain(outlet->ways, 1);
            assume(outlet->faces, Faces::side);
        }
    }
    for (Element& e : plan.elements) assume_plug(context.words, plan, e);
}

}  // namespace benchfeed::plan
