// Worked lines of what the network computed.
#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>

namespace benchfeed::network {

std::string cited(const tables::Citation& c) {
    std::string out(c.source);
    const bool year = !c.edition.empty() && c.edition.front() >= '0' && c.edition.front() <= '9';
    if (year) out.append(":").append(c.edition);
    if (!c.place.empty()) out.append(year ? " " : ", ").append(c.place);
    if (const std::string cell = c.cell(); !cell.empty()) out.append(", ").append(cell);
    return out + " (" + std::string(tables::words(c.grade)) + ")";
}

Value explain_ampacity(Working& working, const Ampacity& found) {
    const Value base = working.written(found.base.written);
    if (found.factors.empty() && !found.cap) return base;  // the printed cell is the ampacity
    std::vector<Value> operands{base};
    std::string formula = "table", pattern = "{}";
    std::vector<std::string> sources{cited(found.base.source)};
    for (const Factor& factor : found.factors) {
        formula += " * " + factor.symbol;
        pattern += " * {}";
        operands.push_back(working.written(factor.figure.written));
        sources.push_back(factor.symbol + ", " + factor.words + ": " + cited(factor.figure.source));
    }
    Value iz = found.factors.empty() ? base : working.add("Iz", formula, pattern, operands, "A", sources);
    if (found.cap) {
        const Value cap = working.written(found.cap->written);
        if (working.exact(iz) > in(unit::ampere, found.cap->value)) {
            working.compare(iz, ">", cap,
                            {"the terminals end it at " + std::string(found.cap->written) + ": " +
                             cited(found.cap->source)});
            iz = cap;
        }
    }
    return iz;
}

namespace {

/// A plate figure as a Value: as the plan writes it, when its digits are its own.
Value plate_value(Working& working, Current q) {
    return working.written(to_text(q, 6));
}

std::string volts_text(Voltage q) {
    return to_text(q, 6);
}

}  // namespace

Value explain_current(Working& working, const plan::Plan& plan, const LoadCurrent& found, Index index) {
    const plan::Element& element = plan[index];
    const plan::Load& load = *element.as<plan::Load>();
    const std::string symbol = "I_" + element.name;
    const bool three = element.conductors.known() && element.conductors->lines() == 3;
    const std::string root = three ? "sqrt(3) * " : "";
    const auto factor = [&](const std::optional<tables::Figure<Ratio>>& assumed, Ratio value) {
        return working.written(assumed ? std::string(assumed->written) : digits(in(unit::one, value), 3));
    };
    std::vector<std::string> sources;
    if (found.assumed_power_factor)
        sources.push_back("power factor assumed: " + cited(found.assumed_power_factor->source));
    if (found.assumed_efficiency)
        sources.push_back("efficiency assumed: " + cited(found.assumed_efficiency->source));
    switch (found.from) {
        case CurrentFrom::plate_current:
        case CurrentFrom::unknown:
            return plate_value(working, found.current);
        case CurrentFrom::horsepower_table:
            return working.written(found.table_current->written);
        case CurrentFrom::power_in: {
            const Value watts = working.written(to_text(*load.plate->power_in, 6));
            const Value volts = working.written(volts_text(found.voltage)),
                        pf = factor(found.assumed_power_factor, found.power_factor);
            return working.add(symbol, "P_in / (" + root + "U * pf)", "{} / (" + root + "{} * {})",
                               {watts, volts, pf}, "A", sources);
        }
        case CurrentFrom::power_out:
        case CurrentFrom::horsepower: {
            const bool out = found.from == CurrentFrom::power_out;
            const Value shaft =
                working.written(out ? to_text(*load.plate->power_out, 6)
                                    : digits(in(unit::horsepower, load.plate->horsepower->power), 3) + " hp");
            const Value volts = working.written(volts_text(found.voltage)),
                        pf = factor(found.assumed_power_factor, found.power_factor);
            const Ratio efficiency = found.assumed_efficiency
                                         ? found.assumed_efficiency->value
                                         : load.plate->efficiency.value_or(1.0 * unit::one);
            const Value eff = factor(found.assumed_efficiency, efficiency);
            return working.add(
                symbol,
                out ? "P_out / (" + root + "U * pf * eff)" : "hp * 746 W / (" + root + "U * pf * eff)",
                "{} / (" + root + "{} * {} * {})", {shaft, volts, pf, eff}, "A", sources);
        }
    }
    return plate_value(working, found.current);
}

}  // namespace benchfeed::network
