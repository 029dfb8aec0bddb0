#include <benchfeed/base/measure.hpp>

#include <algorithm>
#include <limits>

namespace benchfeed {

namespace {
template <class... F>
struct Overloaded : F... {
    using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;
}  // namespace

std::string to_text(const Measure& measure, int significant) {
    return std::visit(Overloaded{[](std::monostate) -> std::string { return "none"; },
                                 [&](const auto& q) -> std::string { return to_text(q, significant); }},
                      measure);
}

std::string range_text(const Measure& one, const Measure& other) {
    const bool first = std::holds_alternative<std::monostate>(one);
    if (first || std::holds_alternative<std::monostate>(other)) return to_text(first ? other : one);
    const bool rising = number(one) <= number(other);
    std::string low = to_text(rising ? one : other);
    std::string high = to_text(rising ? other : one);
    if (low == high) return high;
    const auto unit_of = [](std::string_view text) {
        return text.substr(std::min(text.find(' '), text.size()));
    };
    if (unit_of(low) == unit_of(high)) low.erase(low.size() - unit_of(low).size());
    return low + " to " + high;
}

double number(const Measure& measure) {
    return std::visit(
        Overloaded{[](std::monostate) { return std::numeric_limits<double>::quiet_NaN(); },
                   [](Current q) { return in(unit::ampere, q); }, [](Voltage q) { return in(unit::volt, q); },
                   [](Ratio q) { return in(unit::percent, q); }, [](Power q) { return in(unit::watt, q); },
                   [](Impedance q) { return in(unit::ohm, q); }, [](Length q) { return in(unit::metre, q); },
                   [](Temperature q) { return in_celsius(q); },
                   [](Duration q) { return in(unit::second, q); },
                   [](JouleIntegral q) { return in(unit::ampere2_second, q); }},
        measure);
}

std::string_view unit_name(const Measure& measure) {
    constexpr std::string_view names[] = {"", "A", "V", "%", "W", "ohm", "m", "degC", "s", "A2s"};
    return names[measure.index()];
}

}  // namespace benchfeed
