#include <benchfeed/network/start.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>

namespace benchfeed::network {

using plan::Load;
using plan::Motor;

namespace {

struct Multiples {
    tables::Figure<Ratio> low, high;
    Ratio power_factor{};
    bool long_start = false;
};

/// By the kind of motor; of an unknown one both ends over all kinds that have a motor.
std::optional<Multiples> multiples_of(const tables::Table& kinds, const Load& load) {
    const bool soft = load.soft_start.is(true);
    std::optional<Multiples> found;
    for (std::size_t row = 0; row < kinds.rows.size(); ++row) {
        const auto kind = kinds.text(row, "motor");
        if (load.motor.known() ? kind != load.motor.word() : kind == "none") continue;
        const auto low = kinds.ratio(row, soft ? tables::Key("soft_start_low") : tables::Key("start_low")),
                   high = kinds.ratio(row, soft ? tables::Key("soft_start_high") : tables::Key("start_high")),
                   factor = kinds.ratio(row, "start_power_factor");
        if (!low || !high || !factor) continue;
        // The factor is from memory. It only lowers the low end, so it may keep a plan from failing and never
        // makes one ok.
        const bool lasts = kinds.flag(row, "long_start").value_or(false) && !soft;
        if (!found) {
            found = Multiples{*low, *high, factor->value, lasts};
            continue;
        }
        if (low->value < found->low.value) found->low = *low;
        if (high->value > found->high.value) found->high = *high;
        found->power_factor = std::min(found->power_factor, factor->value);
        found->long_start = found->long_start || lasts;
    }
    return found;
}

/// Shaft power that the code letter refers to: a rated horsepower, or the watts out.
std::optional<Power> rated_shaft(const plan::Plate& plate) {
    if (plate.horsepower.known() && !plate.horsepower_kind.is(plan::HorsepowerKind::peak))
        return plate.horsepower->power;
    if (plate.power_out.known()) return *plate.power_out;
    return std::nullopt;
}

bool by_letter(StartCurrent& found, const plan::Plan& plan, const tables::Catalogue& tables, Index load) {
    const plan::Plate& plate = *plan[load].as<Load>()->plate;
    const tables::Table* letters = tables.table("nec-430-7-b");
    const auto shaft = rated_shaft(plate);
    if (!plate.code_letter.known() || !letters || !shaft) return false;
    // The letter is that of the motor alone: electronics before it draw less.
    if (plan[load].as<Load>()->soft_start.is(true)) return false;
    const auto row = letters->row_of("letter", *plate.code_letter);
    const auto low = row ? letters->number(*row, "from") : std::nullopt;
    if (!low) return false;
    found.letter = letters->cite(*row, *letters->column("to"));
    found.letter_low = *low;
    found.letter_high = letters->number(*row, "to").value_or(*low);
    const bool three = plan[load].conductors.value_or(plan::Conductors{}).lines() == 3;
    found.start.from = Start::From::code_letter;
    found.start.low = locked_rotor_current(found.letter_low, *shaft, found.voltage, three);
    found.start.high = locked_rotor_current(found.letter_high, *shaft, found.voltage, three);
    return true;
}

}  // namespace

Current locked_rotor_current(double kilovolt_amperes_per_horsepower, Power shaft, Voltage volts,
                             bool three_phase) {
    const double horsepower = in(unit::horsepower, shaft);
    const Power apparent = kilovolt_amperes_per_horsepower * horsepower * unit::kilowatt;  // kVA
    const Voltage across = volts * (three_phase ? std::sqrt(3.0) : 1.0);
    return apparent / across;
}

std::optional<StartCurrent> start_current(const plan::Plan& plan, const tables::Catalogue& tables,
                                          const LoadPoint& running) {
    const plan::Element& element = plan[running.element];
    const Load& load = *element.as<Load>();
    const bool never_a_motor = load.kind.is(plan::LoadKind::light) || load.kind.is(plan::LoadKind::heater) ||
                               load.kind.is(plan::LoadKind::charger);
    if (load.motor.is(Motor::none) || (!load.motor.known() && never_a_motor) || !load.plate)
        return std::nullopt;
    const tables::Table* kinds = tables.table("motor-kinds");
    const auto multiples = kinds ? multiples_of(*kinds, load) : std::nullopt;
    if (!multiples) return std::nullopt;
    StartCurrent found;
    found.start.low_power_factor = multiples->power_factor;
    found.start.longer_than_a_second = multiples->long_start;
    found.voltage = plate_voltage(plan, running.element);
    // A motor never starts with less than it runs with: letter A begins at 0 kVA/hp, a plate may print
    // nonsense.
    const auto at_least_running = [&] {
        found.start.low = std::max(found.start.low, running.current);
        found.start.high = std::max(found.start.high, found.start.low);
        return found.start.low > Current{} ? std::optional(found) : std::nullopt;
    };
    if (load.plate->start_current.known()) {
        found.start.from = Start::From::plate;
        found.start.low = found.start.high = *load.plate->start_current;
        return at_least_running();
    }
    if (by_letter(found, plan, tables, running.element)) return at_least_running();
    if (!running.known()) return std::nullopt;
    found.low_multiple = multiples->low;
    found.high_multiple = multiples->high;
    found.start.low = running.current * multiples->low.value;
    found.start.high = running.current * multiples->high.value;
    if (!(found.start.high > running.current)) return std::nullopt;
    return found;
}

Value explain_start(Working& working, const plan::Plan& plan, const StartCurrent& found, Index load,
                    Value running, bool high) {
    const std::string symbol = "I_start_" + plan[load].name;
    switch (found.start.from) {
        case Start::From::plate:
            return working.written(to_text(found.start.high, 6));
        case Start::From::code_letter: {
            if (!high && found.letter_low == 0)
                return working.computed(in(unit::ampere, found.start.low), "A");
            const bool three = plan[load].conductors.value_or(plan::Conductors{}).lines() == 3;
            const Power shaft = *rated_shaft(*plan[load].as<Load>()->plate);
            const double horsepower = in(unit::horsepower, shaft);
            const Value letter = working.written(digits(high ? found.letter_high : found.letter_low, 4));
            const Value hp = working.written(digits(horsepower, 4));
            const Value volts = working.written(to_text(found.voltage, 6));
            return working.add(symbol, three ? "kVA/hp * hp / (sqrt(3) * U)" : "kVA/hp * hp / U",
                               three ? "{} * {} * 1000 W / (sqrt(3) * {})" : "{} * {} * 1000 W / {}",
                               {letter, hp, volts}, "A", {cited(*found.letter)});
        }
        case Start::From::motor_kind:
            break;
    }
    const auto& multiple = high ? *found.high_multiple : *found.low_multiple;
    return working.add(symbol, high ? "highest multiple * I" : "lowest multiple * I", "{} * {}",
                       {working.written(tables::written_number(multiple)), running}, "A",
                       {cited(multiple.source)});
}

}  // namespace benchfeed::network
