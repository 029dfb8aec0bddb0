#include <benchfeed/network/load_current.hpp>

#include <algorithm>
#include <cmath>

#include <benchfeed/network/parts.hpp>
#include <benchfeed/network/start.hpp>

namespace benchfeed::network {

using plan::Load;
using plan::Motor;
using plan::Plate;

namespace {

/// A share that can be divided by.
std::optional<Ratio> share_of(const plan::Field<Ratio>& field) {
    return field.known() && *field > Ratio{} ? field.value : std::nullopt;
}

std::optional<Power> horsepower_of(const Plate& plate, bool rated_alone) {
    if (!plate.horsepower.known() || plate.horsepower_kind.is(plan::HorsepowerKind::peak))
        return std::nullopt;
    if (rated_alone && !plate.horsepower_kind.is(plan::HorsepowerKind::rated)) return std::nullopt;
    return plate.horsepower->power;
}

}  // namespace

electrical::Nameplate nameplate_of(const Load& load) {
    electrical::Nameplate found;
    if (load.motor.known()) found.motor = load.motor.get();
    found.soft_start = load.soft_start.is(true);
    found.never_a_motor = load.kind.is(plan::LoadKind::light) || load.kind.is(plan::LoadKind::heater) ||
                          load.kind.is(plan::LoadKind::charger);
    if (!load.plate) return found;
    const Plate& plate = *load.plate;
    found.current = plate.current.value;
    found.power_in = plate.power_in.value;
    found.power_out = plate.power_out.value;
    found.rated_horsepower = horsepower_of(plate, true);
    found.power_factor = share_of(plate.power_factor);
    found.efficiency = share_of(plate.efficiency);
    found.voltage = plate.voltage.value;
    found.start_current = plate.start_current.value;
    found.code_letter = plate.code_letter.value_or("");
    found.shaft = horsepower_of(plate, false);
    if (!found.shaft) found.shaft = plate.power_out.value;
    return found;
}

electrical::SupplyVolts supply_volts(const plan::Plan& plan, Index load) {
    const plan::Conductors conductors = plan[load].conductors.value_or(plan::Conductors{});
    return {nominal_between(plan.supply_of(load), conductors), conductors.lines() == 3};
}

Voltage plate_voltage(const plan::Plan& plan, Index load) {
    return electrical::plate_voltage(nameplate_of(*plan[load].as<Load>()), supply_volts(plan, load));
}

Ratio volts_above_plate(const plan::Plan& plan, Index load) {
    const auto& plate = plan[load].as<Load>()->plate;
    const Voltage nominal = supply_volts(plan, load).nominal;
    if (!plate || !plate->voltage.known() || nominal <= plate->voltage->high) return unit::one;
    return nominal / plate->voltage->high;
}

LoadCurrent load_current(const plan::Plan& plan, const tables::Catalogue& tables, const Practice& practice,
                         Index index) {
    const Load& load = *plan[index].as<Load>();
    if (!load.plate) return {};
    return electrical::load_current(nameplate_of(load), supply_volts(plan, index), {tables, practice.family});
}

void make_loads(const plan::Plan& plan, const tables::Catalogue& tables, Network& network) {
    network.load_of.assign(plan.elements.size(), plan::nowhere);
    for (Index i = 0; i < plan.elements.size(); ++i) {
        const Load* load = plan[i].as<Load>();
        if (!load) continue;
        LoadPoint point;
        point.element = i;
        point.found = load_current(plan, tables, network.practice, i);
        const LoadCurrent& found = point.found;
        point.from = found.from;
        point.current = found.current;
        point.power_factor = found.power_factor_known ? found.power_factor : unit::one;
        point.power_factor_known = found.power_factor_known;
        const electrical::Nameplate plate = nameplate_of(*load);
        point.least_power_factor =
            found.power_factor_known
                ? point.power_factor
                : electrical::least_power_factor(plate.motor, {tables, network.practice.family}).value;
        point.motor = load->motor.known()
                          ? load->motor.is(Motor::universal) || load->motor.is(Motor::induction)
                          : !plate.never_a_motor;
        point.hours = load->duty.is(plan::Duty::hours);
        point.electronic = load->motor.known() ? load->motor.is(Motor::electronic)
                                               : load->kind.is(plan::LoadKind::charger) ||
                                                     load->kind.is(plan::LoadKind::light);
        point.conductors = plan[i].conductors.value_or(plan::Conductors{});
        const double cosine = in(unit::one, point.power_factor),
                     sine = -std::sqrt(std::max(0.0, 1 - cosine * cosine));
        const auto drawn_at =
            [&](const VoltagePhasor& volts) {  // current lags the volts by the angle of the power factor
                const Voltage length = magnitude(volts);
                const double c = in(unit::one, Ratio(real_part(volts) / length)),
                             s = in(unit::one, Ratio(imag_part(volts) / length));
                return turned(found.current, (c * cosine - s * sine) * unit::one,
                              (s * cosine + c * sine) * unit::one);
            };
        const plan::Supply& supply = plan.supply_of(i);
        if (const auto pair = pair_of(point.conductors)) {
            const CurrentPhasor drawn =
                drawn_at(nominal_voltage(supply, pair->from) - nominal_voltage(supply, pair->to));
            point.draw[static_cast<std::size_t>(pair->from)] += drawn;
            point.draw[static_cast<std::size_t>(pair->to)] -= drawn;
        } else {
            for (const auto line : {plan::Conductor::l1, plan::Conductor::l2, plan::Conductor::l3})
                if (point.conductors.has(line))
                    point.draw[static_cast<std::size_t>(line)] += drawn_at(nominal_voltage(supply, line));
        }
        if (const auto start = start_current(plan, tables, point)) point.start = start->start;
        network.load_of[i] = static_cast<Index>(network.loads.size());
        network.loads.push_back(point);
    }
}

}  // namespace benchfeed::network
