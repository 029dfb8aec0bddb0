#pragma once
// In what time a fault to earth has to be switched off, and which loop still does that.
#include <optional>

#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// Longest time until a fault to earth is switched off at an outlet.
///
/// Valid   final circuits with socket outlets up to 63 A.
/// Source  IEC 60364-4-41 Table 41.1.
[[nodiscard]] tables::Found<tables::Figure<Duration>> longest_time(const Situation& s, Index element);

/// Greatest loop with which an overcurrent device opens in that time.
///
///     Zs = Cmin * U0 / Ia     Ia: the least current that opens it in time
///
/// Source  IEC 60364-4-41 411.4.4.
struct AllowedLoop {
    Impedance loop{};
    network::Opening opening;
    network::Guard guard;
};
/// What a search for that loop found.
struct LoopSearch {
    std::optional<AllowedLoop> best;              ///< the greatest that any device upstream allows
    Index undecided = plan::nowhere;              ///< a device without a published point
    std::optional<tables::Missing> missing = {};  ///< no time is printed for these volts
};
[[nodiscard]] LoopSearch allowed_loop(const Situation& s, Index element);

/// The quickest residual current device upstream: the one with the least trip current.
struct ResidualDevice {
    Index device = plan::nowhere;
    std::optional<Current> trip;
};
[[nodiscard]] std::optional<ResidualDevice> residual_above(const Situation& s, Index element);
/// @{ Volts that may stay on what is touched (Zs * I_dn <= 50 V), and the electrode that stays what it was
/// measured. Source  IEC 60364-4-41 411.5.3.
[[nodiscard]] tables::Figure<Voltage> touch_voltage(const Situation& s);
[[nodiscard]] tables::Figure<Impedance> stable_electrode(const Situation& s);
/// @}

}  // namespace benchfeed::rules
