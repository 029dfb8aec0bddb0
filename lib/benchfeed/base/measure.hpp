#pragma once
// A quantity of one of several dimensions, for outcomes that may be amps, volts or a share.
#include <string>
#include <string_view>
#include <variant>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed {

/// monostate: there is none.
using Measure = std::variant<std::monostate, Current, Voltage, Ratio, Power, Impedance, Length, Temperature,
                             Duration, JouleIntegral>;

[[nodiscard]] BENCHFEED_API std::string to_text(const Measure& measure, int significant = 3);
/// "6.52 to 13 A"; one figure where both read alike. Either order; `none` is left out.
[[nodiscard]] BENCHFEED_API std::string range_text(const Measure& one, const Measure& other);
/// The number in the unit of unit_name(): A, V, %, W, ohm, m, degC, s, A2s. NaN for none.
[[nodiscard]] BENCHFEED_API double number(const Measure& measure);
[[nodiscard]] BENCHFEED_API std::string_view unit_name(const Measure& measure);

}  // namespace benchfeed
