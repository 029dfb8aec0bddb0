// Quantities as text: plain digits, a point, no exponent, whatever the locale.
#include <benchfeed/base/quantity_text.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace benchfeed {

std::string digits(double value, int significant) {
    if (value == 0 || !std::isfinite(value)) return value == 0 ? "0" : "unknown";
    const int before = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
    const auto printed = [&](int decimals) {
        char buffer[400];  // 308 digits before the point, and what a caller may want behind it
        const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed,
                                       std::clamp(decimals, 0, 80))
                             .ptr;
        return std::string(buffer, end);
    };
    std::string out = printed(significant - before);
    // 9.996 to three digits is 10.0, not 10.00: rounding may carry into a new digit.
    double rounded = 0;
    std::from_chars(out.data() + (out.front() == '-' ? 1 : 0), out.data() + out.size(), rounded);
    const int after = rounded == 0 ? before : static_cast<int>(std::floor(std::log10(rounded) + 1e-12)) + 1;
    return after == before ? out : printed(significant - after);
}

std::string plain_digits(double value, int significant) {
    std::string number = digits(value, significant);
    if (number.find('.') == std::string::npos) return number;
    number.erase(number.find_last_not_of('0') + 1);
    if (number.back() == '.') number.pop_back();
    return number;
}

std::string to_text(Current q, int n) {
    const double a = in(unit::ampere, q);
    if (a != 0 && std::abs(a) < 0.1) return plain_digits(in(unit::milliampere, q), n) + " mA";
    return plain_digits(a, n) + " A";
}
std::string to_text(Voltage q, int n) {
    return plain_digits(in(unit::volt, q), n) + " V";
}
std::string to_text(Power q, int n) {
    return plain_digits(in(unit::watt, q), n) + " W";
}
std::string to_text(ApparentPower q, int n) {
    return plain_digits(in(unit::watt, q.size), n) + " VA";
}
std::string to_text(Impedance q, int n) {
    return plain_digits(in(unit::ohm, q), n) + " ohm";
}
std::string to_text(ImpedancePerLength q, int n) {
    return plain_digits(in(unit::ohm_per_kilometre, q), n) + " ohm/km";
}
std::string to_text(Length q, int n) {
    return plain_digits(in(unit::metre, q), n) + " m";
}
std::string to_text_us(Length q, int n) {
    return plain_digits(in(unit::foot, q), n) + " ft";
}
std::string to_text(Temperature q, int n) {
    return plain_digits(in_celsius(q), n) + " degC";
}
std::string to_text(Duration q, int n) {
    return plain_digits(in(unit::second, q), n) + " s";
}
std::string to_text(JouleIntegral q, int n) {
    return plain_digits(in(unit::ampere2_second, q), n) + " A2s";
}
std::string to_text(Volume q, int n) {
    return plain_digits(in(unit::cm3, q), n) + " cm3";
}
std::string to_text(Frequency q, int n) {
    return plain_digits(in(unit::hertz, q), n) + " Hz";
}
std::string to_text(Ratio q, int n) {
    return plain_digits(in(unit::percent, q), n) + " %";
}

}  // namespace benchfeed
