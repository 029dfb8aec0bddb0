#include <benchfeed/electrical/load.hpp>

#include <algorithm>
#include <cmath>

#include <benchfeed/figures/motor_kinds.hpp>
#include <benchfeed/figures/nec_430_248.hpp>
#include <benchfeed/figures/nec_430_250.hpp>
#include <benchfeed/figures/nec_430_7_b.hpp>

namespace benchfeed::electrical {

using Kinds = figures::motor_kinds;
static_assert(static_cast<int>(Kinds::Motor::universal) == static_cast<int>(Motor::universal) &&
              static_cast<int>(Kinds::Motor::induction) == static_cast<int>(Motor::induction) &&
              static_cast<int>(Kinds::Motor::electronic) == static_cast<int>(Motor::electronic) &&
              static_cast<int>(Kinds::Motor::none) == static_cast<int>(Motor::none));

namespace {

template <class Q>
void refuse_negative(const char* member, const std::optional<Q>& quantity) {
    if (quantity) electrical::refuse_negative(member, *quantity);
}
template <class Q>
void refuse_all_but_positive(const char* member, const std::optional<Q>& quantity) {
    if (quantity) electrical::refuse_all_but_positive(member, *quantity);
}

void refuse(const Nameplate& plate, const SupplyVolts& supply) {
    refuse_negative("Nameplate::current", plate.current);
    refuse_negative("Nameplate::power_in", plate.power_in);
    refuse_negative("Nameplate::power_out", plate.power_out);
    refuse_negative("Nameplate::rated_horsepower", plate.rated_horsepower);
    refuse_negative("Nameplate::shaft", plate.shaft);
    refuse_negative("Nameplate::start_current", plate.start_current);
    refuse_all_but_positive("Nameplate::power_factor", plate.power_factor);
    refuse_all_but_positive("Nameplate::efficiency", plate.efficiency);
    if (plate.voltage) electrical::refuse_all_but_positive("Nameplate::voltage", plate.voltage->low);
    if (plate.voltage) electrical::refuse_all_but_positive("Nameplate::voltage", plate.voltage->high);
    electrical::refuse_all_but_positive("SupplyVolts::nominal", supply.nominal);
}

Kinds::Row row_of(Motor motor, const Figures& figures) {
    return Kinds::at(figures.tables, static_cast<Kinds::Motor>(motor));
}

/// By the load's own kind; of an unknown one the least of all.
template <class Column>
tables::Figure<Ratio> least(std::optional<Motor> motor, const Figures& figures, Column column) {
    if (motor) return column(row_of(*motor, figures));
    auto found = column(row_of(Motor::universal, figures));
    for (const Motor other : {Motor::induction, Motor::electronic, Motor::none})
        if (const auto here = column(row_of(other, figures)); here.value < found.value) found = here;
    return found;
}

/// sqrt(3) for three lines, 1 otherwise: power = phases * U * I * pf with U between lines.
Ratio phase_factor(const SupplyVolts& supply) {
    return (supply.three_phase ? std::sqrt(3.0) : 1.0) * unit::one;
}

void take_power_factor(LoadCurrent& found, const Nameplate& plate, const Figures& figures) {
    if (plate.power_factor) {
        found.power_factor = *plate.power_factor;
        found.power_factor_known = true;
        return;
    }
    const auto assumed = least_power_factor(plate.motor, figures);
    found.power_factor = assumed.value;
    // A heater or filament has none to assume: 1 is physics.
    found.power_factor_known = plate.motor == Motor::none;
    if (!found.power_factor_known) found.assumed_power_factor = assumed;
}

/// The amps stand by themselves; the power factor is the quotient of watts and amps, printed or assumed.
void take_amps(LoadCurrent& found, const Nameplate& plate, Ratio phases, const Figures& figures) {
    found.from = CurrentFrom::plate_current;
    found.current = *plate.current;
    if (plate.power_in && !plate.power_factor) {
        const Ratio quotient = *plate.power_in / (phases * found.voltage * found.current);
        found.power_factor = in(unit::one, quotient) > 1 ? unit::one : quotient;
        found.power_factor_known = true;
        return;
    }
    take_power_factor(found, plate, figures);
    found.assumed_power_factor.reset();  // the amps stand without it
}

void take_shaft(LoadCurrent& found, const Nameplate& plate, Ratio phases, Power shaft,
                const Figures& figures) {
    take_power_factor(found, plate, figures);
    Ratio efficiency = unit::one;
    if (plate.efficiency)
        efficiency = *plate.efficiency;
    else {
        found.assumed_efficiency = least_efficiency(plate.motor, figures);
        efficiency = found.assumed_efficiency->value;
    }
    found.from = plate.power_out ? CurrentFrom::power_out : CurrentFrom::horsepower;
    found.current = shaft / (phases * found.voltage * found.power_factor * efficiency);
}

/// 200, 208 and 230 V stand in both tables.
template <class Row>
std::optional<tables::Figure<Current>> middle_volts(const Row& row, double volts) {
    if (volts < 150 || volts >= 300) return std::nullopt;
    return volts < 204 ? row.v200() : volts < 220 ? row.v208() : row.v230();
}

}  // namespace

std::optional<tables::Figure<Current>> motor_table_current(const Figures& figures, bool three_phase,
                                                           Power shaft, Voltage volts) {
    const Power wanted = shaft * (1 - 1e-4);  // 1/6 is printed 0.1667
    const double v = in(unit::volt, volts);
    if (three_phase) {
        const auto row = figures::nec_430_250::hp_at_or_above(figures.tables, wanted);
        if (!row) return std::nullopt;
        return v < 300 ? middle_volts(*row, v) : row->v460();
    }
    const auto row = figures::nec_430_248::hp_at_or_above(figures.tables, wanted);
    if (!row) return std::nullopt;
    return v < 150 ? row->v115() : middle_volts(*row, v);
}

Voltage plate_voltage(const Nameplate& plate, const SupplyVolts& supply) {
    return plate.voltage ? plate.voltage->low : supply.nominal;
}

tables::Figure<Ratio> least_power_factor(std::optional<Motor> motor, const Figures& figures) {
    return least(motor, figures, [](const Kinds::Row& row) { return row.power_factor_low(); });
}

tables::Figure<Ratio> least_efficiency(std::optional<Motor> motor, const Figures& figures) {
    return least(motor, figures, [](const Kinds::Row& row) { return row.efficiency_low(); });
}

LoadCurrent load_current(const Nameplate& plate, const SupplyVolts& supply, const Figures& figures) {
    refuse(plate, supply);
    LoadCurrent found;
    const Ratio phases = phase_factor(supply);
    found.voltage = plate_voltage(plate, supply);
    if (plate.current) {
        take_amps(found, plate, phases, figures);
        return found;
    }
    if (plate.power_in) {
        take_power_factor(found, plate, figures);
        found.from = CurrentFrom::power_in;
        found.current = *plate.power_in / (phases * found.voltage * found.power_factor);
        return found;
    }
    if (!plate.power_out && !plate.rated_horsepower) return found;
    const Power shaft = plate.power_out ? *plate.power_out : *plate.rated_horsepower;
    if (plate.rated_horsepower && figures.code == CodeFamily::nec)
        found.table_current = motor_table_current(figures, supply.three_phase, shaft, found.voltage);
    if (!found.table_current) {
        take_shaft(found, plate, phases, shaft, figures);
        return found;
    }
    take_power_factor(found, plate, figures);
    found.assumed_power_factor.reset();
    found.from = CurrentFrom::horsepower_table;
    found.current = found.table_current->value;
    return found;
}

// ---- starts -------------------------------------------------------------------------------------------

namespace {

struct Multiples {
    tables::Figure<Ratio> low, high;
    Ratio power_factor{};
    bool long_start = false;
};

Multiples multiples_of(const Kinds::Row& row, bool soft) {
    // The factor is from memory. It only lowers the low end, so it may keep a plan from failing and never
    // makes one ok.
    return {soft ? row.soft_start_low() : row.start_low(), soft ? row.soft_start_high() : row.start_high(),
            row.start_power_factor().value, row.long_start() && !soft};
}

/// By the kind of motor; of an unknown one both ends over all kinds that have a motor.
Multiples multiples_of(const Nameplate& plate, const Figures& figures) {
    if (plate.motor) return multiples_of(row_of(*plate.motor, figures), plate.soft_start);
    Multiples found = multiples_of(row_of(Motor::universal, figures), plate.soft_start);
    for (const Motor other : {Motor::induction, Motor::electronic}) {
        const Multiples here = multiples_of(row_of(other, figures), plate.soft_start);
        if (here.low.value < found.low.value) found.low = here.low;
        if (here.high.value > found.high.value) found.high = here.high;
        found.power_factor = std::min(found.power_factor, here.power_factor);
        found.long_start = found.long_start || here.long_start;
    }
    return found;
}

bool by_letter(StartCurrent& found, const Nameplate& plate, const SupplyVolts& supply,
               const Figures& figures) {
    // The letter is that of the motor alone: electronics before it draw less.
    if (plate.code_letter.empty() || !plate.shaft || plate.soft_start) return false;
    const auto row = figures::nec_430_7_b::at(figures.tables, plate.code_letter);
    if (!row) return false;
    found.letter = row->source(figures::nec_430_7_b::Column::to);
    found.letter_low = row->from();
    found.letter_high = row->to().value_or(found.letter_low);
    found.start.from = Start::From::code_letter;
    found.start.low = locked_rotor_current(found.letter_low, *plate.shaft, found.voltage, supply.three_phase);
    found.start.high =
        locked_rotor_current(found.letter_high, *plate.shaft, found.voltage, supply.three_phase);
    return true;
}

/// A motor never starts with less than it runs with: letter A begins at 0 kVA/hp, a plate may print nonsense.
std::optional<StartCurrent> at_least_running(StartCurrent found, Current running) {
    found.start.low = std::max(found.start.low, running);
    found.start.high = std::max(found.start.high, found.start.low);
    return found.start.low > Current{} ? std::optional(found) : std::nullopt;
}

}  // namespace

Current locked_rotor_current(double kilovolt_amperes_per_horsepower, Power shaft, Voltage volts,
                             bool three_phase) {
    const double horsepower = in(unit::horsepower, shaft);
    const Power apparent = kilovolt_amperes_per_horsepower * horsepower * unit::kilowatt;  // kVA
    const Voltage across = volts * (three_phase ? std::sqrt(3.0) : 1.0);
    return apparent / across;
}

std::optional<StartCurrent> start_current(const Nameplate& plate, const SupplyVolts& supply,
                                          const LoadCurrent& running, const Figures& figures) {
    refuse(plate, supply);
    if (plate.motor == Motor::none || (!plate.motor && plate.never_a_motor)) return std::nullopt;
    const Multiples multiples = multiples_of(plate, figures);
    StartCurrent found;
    found.start.low_power_factor = multiples.power_factor;
    found.start.longer_than_a_second = multiples.long_start;
    found.voltage = plate_voltage(plate, supply);
    if (plate.start_current) {
        found.start.from = Start::From::plate;
        found.start.low = found.start.high = *plate.start_current;
        return at_least_running(found, running.current);
    }
    if (by_letter(found, plate, supply, figures)) return at_least_running(found, running.current);
    if (running.from == CurrentFrom::unknown) return std::nullopt;
    found.low_multiple = multiples.low;
    found.high_multiple = multiples.high;
    found.start.low = running.current * multiples.low.value;
    found.start.high = running.current * multiples.high.value;
    if (!(found.start.high > running.current)) return std::nullopt;
    return found;
}

}  // namespace benchfeed::electrical
