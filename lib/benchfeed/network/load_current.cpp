#include <benchfeed/network/load_current.hpp>

#include <cmath>

#include <benchfeed/network/start.hpp>

namespace benchfeed::network {

using plan::Load;
using plan::Motor;
using plan::Plate;

namespace {

/// Row of motor-kinds: the load's own kind; of an unknown one the worse figures of all.
std::optional<std::size_t> motor_row(const tables::Table& kinds, const Load& load, std::string_view column) {
    if (load.motor.known()) return kinds.row_of("motor", load.motor.word());
    std::optional<std::size_t> worst;
    for (std::size_t row = 0; row < kinds.rows.size(); ++row) {
        const auto here = kinds.ratio(row, column);
        if (here && (!worst || here->value < kinds.ratio(*worst, column)->value)) worst = row;
    }
    return worst;
}

std::optional<tables::Figure<Ratio>> assumed(const tables::Catalogue& catalogue, const Load& load,
                                             std::string_view column) {
    const tables::Table* kinds = catalogue.table("motor-kinds");
    if (!kinds) return std::nullopt;
    const auto row = motor_row(*kinds, load, column);
    return row ? kinds->ratio(*row, column) : std::nullopt;
}

/// sqrt(3) for three lines, 1 otherwise: power = phases * U * I * pf with U between lines.
Ratio phase_factor(const plan::Element& element) {
    const bool three = element.conductors.known() && element.conductors->lines() == 3;
    return (three ? std::sqrt(3.0) : 1.0) * unit::one;
}

void take_power_factor(LoadCurrent& found, const tables::Catalogue& tables, const Load& load,
                       const Plate& plate) {
    if (plate.power_factor.known()) {
        found.power_factor = *plate.power_factor;
        found.power_factor_known = true;
        return;
    }
    found.assumed_power_factor = assumed(tables, load, "power_factor_low");
    found.power_factor = found.assumed_power_factor ? found.assumed_power_factor->value : unit::one;
    // A heater or filament has none to assume: 1 is physics.
    found.power_factor_known = load.motor.is(Motor::none);
    if (found.power_factor_known) found.assumed_power_factor.reset();
}

Ratio take_efficiency(LoadCurrent& found, const tables::Catalogue& tables, const Load& load,
                      const Plate& plate) {
    if (plate.efficiency.known()) return *plate.efficiency;
    found.assumed_efficiency = assumed(tables, load, "efficiency_low");
    return found.assumed_efficiency ? found.assumed_efficiency->value : unit::one;
}

}  // namespace

std::optional<tables::Figure<Current>> motor_table_current(const tables::Catalogue& tables, bool three_phase,
                                                           Power shaft, Voltage volts) {
    const tables::Table* motors =
        tables.table(three_phase ? tables::Key("nec-430-250") : tables::Key("nec-430-248"));
    if (!motors) return std::nullopt;
    const auto row =
        motors->row_at_or_above("hp", in(unit::horsepower, shaft) * (1 - 1e-4));  // 1/6 is printed 0.1667
    if (!row) return std::nullopt;
    const double v = in(unit::volt, volts);
    const std::string_view column = v < 150   ? "v115"
                                    : v < 204 ? "v200"
                                    : v < 220 ? "v208"
                                    : v < 300 ? "v230"
                                              : "v460";
    return motors->current(*row, column);
}

Voltage plate_voltage(const plan::Plan& plan, Index index) {
    const plan::Element& element = plan[index];
    const auto& plate = element.as<Load>()->plate;
    if (plate && plate->voltage.known()) return plate->voltage->low;
    return nominal_between(plan.supply_of(index), element.conductors.value_or(plan::Conductors{}));
}

Ratio volts_above_plate(const plan::Plan& plan, Index index) {
    const auto& plate = plan[index].as<Load>()->plate;
    const Voltage nominal =
        nominal_between(plan.supply_of(index), plan[index].conductors.value_or(plan::Conductors{}));
    if (!plate || !plate->voltage.known() || nominal <= plate->voltage->high) return unit::one;
    return nominal / plate->voltage->high;
}

LoadCurrent load_current(const plan::Plan& plan, const tables::Catalogue& tables, const Practice& practice,
                         Index index) {
    LoadCurrent found;
    const plan::Element& element = plan[index];
    const Load& load = *element.as<Load>();
    if (!load.plate) return found;
    const Plate& plate = *load.plate;
    const Ratio phases = phase_factor(element);
    found.voltage = plate_voltage(plan, index);
    if (plate.current.known()) {
        found.from = CurrentFrom::plate_current;
        found.current = *plate.current;
        if (plate.power_in.known() && !plate.power_factor.known()) {
            const Ratio quotient = *plate.power_in / (phases * found.voltage * found.current);
            found.power_factor = in(unit::one, quotient) > 1 ? unit::one : quotient;
            found.power_factor_known = true;
        } else {
            take_power_factor(found, tables, load, plate);
            found.assumed_power_factor.reset();  // the amps stand without it
        }
        return found;
    }
    if (plate.power_in.known()) {
        take_power_factor(found, tables, load, plate);
        found.from = CurrentFrom::power_in;
        found.current = *plate.power_in / (phases * found.voltage * found.power_factor);
        return found;
    }
    const bool rated_horsepower =
        plate.horsepower.known() && plate.horsepower_kind.is(plan::HorsepowerKind::rated);
    if (!plate.power_out.known() && !rated_horsepower) return found;
    const Power shaft = plate.power_out.known() ? *plate.power_out : plate.horsepower->power;
    if (rated_horsepower && practice.family == Family::nec) {
        found.table_current = motor_table_current(tables, in(unit::one, phases) > 1, shaft, found.voltage);
        if (found.table_current) {
            take_power_factor(found, tables, load, plate);
            found.assumed_power_factor.reset();
            found.from = CurrentFrom::horsepower_table;
            found.current = found.table_current->value;
            return found;
        }
    }
    take_power_factor(found, tables, load, plate);
    const Ratio efficiency = take_efficiency(found, tables, load, plate);
    found.from = plate.power_out.known() ? CurrentFrom::power_out : CurrentFrom::horsepower;
    found.current = shaft / (phases * found.voltage * found.power_factor * efficiency);
    return found;
}

void make_loads(const plan::Plan& plan, const tables::Catalogue& tables, Network& network) {
    network.load_of.assign(plan.elements.size(), plan::nowhere);
    for (Index i = 0; i < plan.elements.size(); ++i) {
        const Load* load = plan[i].as<Load>();
        if (!load) continue;
        const LoadCurrent found = load_current(plan, tables, network.practice, i);
        LoadPoint point;
        point.element = i;
        point.from = found.from;
        point.current = found.current;
        point.power_factor = found.power_factor_known ? found.power_factor : unit::one;
        point.power_factor_known = found.power_factor_known;
        const auto least = assumed(tables, *load, "power_factor_low");
        point.least_power_factor =
            found.power_factor_known || !least ? point.power_factor : Ratio(least->value);
        const bool never_a_motor = load->kind.is(plan::LoadKind::light) ||
                                   load->kind.is(plan::LoadKind::heater) ||
                                   load->kind.is(plan::LoadKind::charger);
        point.motor = load->motor.known()
                          ? load->motor.is(Motor::universal) || load->motor.is(Motor::induction)
                          : !never_a_motor;
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
