#include <benchfeed/network/load_current.hpp>

#include <cmath>

#include <benchfeed/network/start.hpp>

namespace benchfeed::network {

using plan::Load;
using plan::Motor;
using plan::Plate;

namespace {

/// A factor that a plate may print, and the columns that hold both ends of what it may be.
struct Factor {
    std::string_view low, high;
    [[nodiscard]] std::string_view at(PlateEnd end) const { return end == PlateEnd::most ? low : high; }
};
constexpr Factor power_factors{"power_factor_low", "power_factor_high"};
constexpr Factor efficiencies{"efficiency_low", "efficiency_high"};

/// Row of motor-kinds: the load's own kind; of an unknown one the figure of all that draws most, or least.
std::optional<std::size_t> motor_row(const tables::Table& kinds, const Load& load, std::string_view column,
                                     PlateEnd end) {
    if (load.motor.known()) return kinds.row_of("motor", load.motor.word());
    std::optional<std::size_t> found;
    for (std::size_t row = 0; row < kinds.rows.size(); ++row) {
        const auto here = kinds.ratio(row, column);
        if (!here) continue;
        const auto there = found ? kinds.ratio(*found, column) : std::nullopt;
        const bool further =
            !there || (end == PlateEnd::most ? here->value < there->value : here->value > there->value);
        if (further) found = row;
    }
    return found;
}

std::optional<tables::Figure<Ratio>> assumed(const tables::Catalogue& catalogue, const Load& load,
                                             const Factor& factor, PlateEnd end) {
    const tables::Table* kinds = catalogue.table("motor-kinds");
    if (!kinds) return std::nullopt;
    const auto row = motor_row(*kinds, load, factor.at(end), end);
    return row ? kinds->ratio(*row, factor.at(end)) : std::nullopt;
}

/// Of an unknown motor the form narrows what it may be.
std::optional<tables::Figure<Ratio>> assumed_power_factor(const tables::Catalogue& catalogue,
                                                          const Load& load, PlateEnd end) {
    if (!load.motor.known() && load.form.known()) {
        const tables::Table* forms = catalogue.table("motor-forms");
        const auto row = forms ? forms->row_of("form", load.form.word()) : std::nullopt;
        return row ? forms->ratio(*row, power_factors.at(end)) : std::nullopt;
    }
    return assumed(catalogue, load, power_factors, end);
}

/// sqrt(3) for three lines, 1 otherwise: power = phases * U * I * pf with U between lines.
Ratio phase_factor(const plan::Element& element) {
    const bool three = element.conductors.known() && element.conductors->lines() == 3;
    return (three ? std::sqrt(3.0) : 1.0) * unit::one;
}

/// False: the plate prints none and no table has one.
bool take_power_factor(LoadCurrent& found, const tables::Catalogue& tables, const Load& load,
                       const Plate& plate, PlateEnd end) {
    if (plate.power_factor.known()) {
        found.power_factor = *plate.power_factor;
        found.power_factor_known = true;
        return true;
    }
    // A heater or filament has none to assume: 1 is physics.
    if (load.motor.is(Motor::none)) {
        found.power_factor = unit::one;
        found.power_factor_known = true;
        return true;
    }
    found.assumed_power_factor = assumed_power_factor(tables, load, end);
    found.power_factor = found.assumed_power_factor ? found.assumed_power_factor->value : unit::one;
    return found.assumed_power_factor.has_value();
}

/// Nothing: the plate prints none and no table has one.
std::optional<Ratio> take_efficiency(LoadCurrent& found, const tables::Catalogue& tables, const Load& load,
                                     const Plate& plate, PlateEnd end) {
    if (plate.efficiency.known()) return *plate.efficiency;
    found.assumed_efficiency = assumed(tables, load, efficiencies, end);
    return found.assumed_efficiency ? std::optional(found.assumed_efficiency->value) : std::nullopt;
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
                         Index index, PlateEnd end) {
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
            take_power_factor(found, tables, load, plate, end);
            found.assumed_power_factor.reset();  // the amps stand without it
        }
        return found;
    }
    if (plate.power_in.known()) {
        if (!take_power_factor(found, tables, load, plate, end)) return found;
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
            take_power_factor(found, tables, load, plate, end);
            found.assumed_power_factor.reset();
            found.from = CurrentFrom::horsepower_table;
            found.current = found.table_current->value;
            return found;
        }
    }
    const auto efficiency = take_efficiency(found, tables, load, plate, end);
    if (!take_power_factor(found, tables, load, plate, end) || !efficiency) return found;
    found.from = plate.power_out.known() ? CurrentFrom::power_out : CurrentFrom::horsepower;
    found.current = shaft / (phases * found.voltage * found.power_factor * *efficiency);
    return found;
}

void make_loads(const plan::Plan& plan, const tables::Catalogue& tables, Network& network) {
    network.load_of.assign(plan.elements.size(), plan::nowhere);
    for (Index i = 0; i < plan.elements.size(); ++i) {
        const Load* load = plan[i].as<Load>();
        if (!load) continue;
        const LoadCurrent found = load_current(plan, tables, network.practice, i, network.plate_end);
        LoadPoint point;
        point.element = i;
        point.from = found.from;
        point.current = found.current;
        // At the end that draws least it has the factor that goes with it: what lags more adds to every sum.
        const bool at_least = found.assumed_power_factor && network.plate_end == PlateEnd::least;
        point.power_factor_known = found.power_factor_known || at_least;
        point.power_factor = point.power_factor_known ? found.power_factor : unit::one;
        point.ranged = found.assumed_power_factor || found.assumed_efficiency;
        const auto least = assumed_power_factor(tables, *load, network.plate_end);
        point.least_power_factor = point.power_factor_known ? point.power_factor
                                   : least                  ? Ratio(least->value)
                                                            : Ratio(0.0 * unit::one);
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
