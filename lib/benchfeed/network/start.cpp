#include <benchfeed/network/start.hpp>

#include <string>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>

namespace benchfeed::network {

std::optional<StartCurrent> start_current(const plan::Plan& plan, const tables::Catalogue& tables,
                                          const LoadPoint& running) {
    const plan::Load& load = *plan[running.element].as<plan::Load>();
    if (!load.plate) return std::nullopt;
    return electrical::start_current(nameplate_of(load), supply_volts(plan, running.element), running.found,
                                     {tables});
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
            const Power shaft = *nameplate_of(*plan[load].as<plan::Load>()).shaft;
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
