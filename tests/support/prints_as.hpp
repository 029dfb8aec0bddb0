#pragma once
// Comparing a computed value with a printed one: the digits of the print are the tolerance.
#include <cmath>
#include <string>

namespace benchfeed::test {

/// True when `value` lies within half a unit in the last printed digit of `printed`.
inline bool prints_as(double value, const std::string& printed) {
    const auto dot = printed.find('.');
    const double decimals = dot == std::string::npos ? 0.0 : static_cast<double>(printed.size() - dot - 1);
    return std::abs(value - std::stod(printed)) <= 0.5 * std::pow(10.0, -decimals) * (1 + 1e-9);
}

/// True when two values agree to the relative tolerance.
inline bool agrees(double value, double expected, double relative) {
    return std::abs(value - expected) <= relative * std::abs(expected);
}

}  // namespace benchfeed::test
