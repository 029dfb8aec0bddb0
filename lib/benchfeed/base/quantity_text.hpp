#pragma once
// Quantities as text: "1.5 mm2", "14 AWG", "30 mA". Reading checks the dimension and says what to write.
#include <cstddef>
#include <string>
#include <string_view>
#include <variant>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/rating.hpp>
#include <benchfeed/base/section.hpp>

namespace benchfeed {

/// Why a text is not the quantity that was wanted.
struct QuantityFault {
    std::string message;           ///< "length is a length; \"3 A\" is a current"
    std::string help;              ///< what to write
    std::size_t from = 0, to = 0;  ///< byte range in the text
};

template <class Q>
using Read = std::variant<Q, QuantityFault>;

/// Read a quantity: a number, then a unit; the space between may be missing.
///
/// Units   Length m ft in cm mm; Section mm2 AWG; Current A mA kA; Voltage V; Power W kW; SourcePower W kW VA
/// kVA; Horsepower hp;
///         Impedance ohm mohm; Temperature degC degF; Volume cm3 in3; Frequency Hz; Ratio %;
///         VoltageRange "230 V" or "220-240 V". Also mm² Ω °C °F cm³ in³. Case counts.
/// Valid   a point as decimal sign, no sign except for temperatures, no exponent, above zero (a percentage
/// and
///         an ampere may be 0) and below a greatest value that a bench cannot reach.
/// `field` is what the message calls it: "length".
template <class Q>
[[nodiscard]] BENCHFEED_API Read<Q> read_quantity(std::string_view text, std::string_view field);

/// "m, ft or in": the units a field of this kind could have had.
template <class Q>
[[nodiscard]] std::string units_of();
/// What read_quantity() takes, as a regular expression (ECMA 262) without its bounds: "^([0-9]+(\\.[0-9]+)?
/// *(A|mA|kA))$".
template <class Q>
[[nodiscard]] std::string pattern_of();

// Printing: plain digits, a point, no exponent, independent of the locale.
[[nodiscard]] BENCHFEED_API std::string digits(double value, int significant);
/// Without trailing zeros: a rating reads 16 A, not 16.0 A.
[[nodiscard]] BENCHFEED_API std::string plain_digits(double value, int significant = 6);
[[nodiscard]] BENCHFEED_API std::string to_text(Current q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Voltage q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Power q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(ApparentPower q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Impedance q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(ImpedancePerLength q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Length q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text_us(Length q, int significant = 3);  ///< in feet
[[nodiscard]] BENCHFEED_API std::string to_text(Temperature q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Duration q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(JouleIntegral q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Volume q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Frequency q, int significant = 3);
[[nodiscard]] BENCHFEED_API std::string to_text(Ratio q, int significant = 3);  ///< as a percentage

}  // namespace benchfeed
