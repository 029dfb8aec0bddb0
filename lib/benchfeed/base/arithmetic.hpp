#pragma once
// Arithmetic as it is printed: "2 * 13.3 ohm/km * 5 m * 12.3 A", computed with its units.
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace benchfeed {

/// A number with its dimension: powers of V, A, m, s, K.
struct Dimensioned {
    double si = 0;
    std::array<int, 5> powers{};
    friend bool operator==(const Dimensioned&, const Dimensioned&) = default;
};

/// Size of a unit: "ohm/km", "%", "mm2"; nothing for an unknown word.
[[nodiscard]] std::optional<Dimensioned> unit_size(std::string_view unit);

/// Value of a printed expression.
///
/// Grammar  numbers with units, + - * / ^ ( ) sqrt(); `{}` takes the next of `operands`.
///          A unit stands behind its number and a space: "13.3 ohm/km"; a division has spaces around it.
/// Errors   nothing when the text does not follow the grammar, a unit is unknown, or unlike dimensions are
/// added.
[[nodiscard]] std::optional<Dimensioned> evaluate(std::string_view text,
                                                  std::span<const Dimensioned> operands = {});

}  // namespace benchfeed
