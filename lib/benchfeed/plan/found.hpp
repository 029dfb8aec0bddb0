#pragma once
// What a meter showed, as people write it down: "0.9 ohm", "> 500 Mohm", "28 ms", "open", "no trip", "as
// marked".
#include <optional>
#include <string>
#include <string_view>

#include <benchfeed/base/measure.hpp>
#include <benchfeed/plan/plan.hpp>

namespace benchfeed::plan {

/// A reading with its unit, or none at all.
struct Found {
    /// What the meter said.
    enum class Kind : std::uint8_t {
        value,
        below,      ///< "< 0.1 ohm"
        above,      ///< "> 500 Mohm": beyond the range of the meter
        open,       ///< nothing joined
        no_trip,    ///< the device stayed on
        as_marked,  ///< it turns as it should
        backwards
    } kind = Kind::value;
    Measure value;  ///< of what is said in words: none
};

/// Units  ohm, mohm, kohm, Mohm (also Ω); V; s, ms; A, mA. A point as decimal sign, no sign, no exponent.
[[nodiscard]] std::optional<Found> read_found(std::string_view text);
/// A reading of that test can be this one: ohms or open; volts; seconds or milliamperes or no trip; which way
/// it turns.
[[nodiscard]] bool fits(Test test, const Found& found);
/// What read_found() takes of that test, as a regular expression (ECMA 262) without its bounds.
[[nodiscard]] std::string pattern_of(Test test);
/// What the reading of a test looks like: "such as \"28 ms\" or \"no trip\"".
[[nodiscard]] std::string_view such_as(Test test);
/// It is made at a residual current device, not at an outlet.
[[nodiscard]] bool of_a_residual_device(Test test);
/// It is made with the power on.
[[nodiscard]] bool is_live(Test test);
/// It is a number of volts: by how much they fall or rise, or how many they are.
[[nodiscard]] bool of_volts(Test test);

}  // namespace benchfeed::plan
