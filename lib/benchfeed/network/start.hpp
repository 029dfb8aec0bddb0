#pragma once
// What a motor draws while it starts.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// A start and the figures it rests on.
struct StartCurrent {
    Start start;
    std::optional<tables::Figure<Ratio>> low_multiple, high_multiple;  ///< of the running current
    std::optional<tables::Citation> letter;                            ///< row of the code letter
    double letter_low = 0, letter_high = 0;                            ///< kVA per hp
    Voltage voltage{};                                                 ///< by which those kVA are divided
};

/// Start current of a load that runs with a known current.
///
///     plate; else kVA/hp * hp / U (three-phase: / (sqrt(3) U)); else multiples of the running current
///
/// Units   A, rms over the run-up; the first half cycle may be higher.
/// Valid   both ends of a range are given and both are to be judged: the low one fails, the high one warns.
///         Of an unknown kind of motor the lowest and the highest multiple of all kinds. With a soft start
///         the letter does not count, it is that of the motor alone. Letter V has no upper end: both are its
///         lower.
/// Omits   loads without a motor; what an electronic supply draws in its first millisecond.
/// Source  NEC 430.7(B); multiples by table motor-kinds (common practice).
[[nodiscard]] BENCHFEED_API std::optional<StartCurrent> start_current(const plan::Plan& plan,
                                                                      const tables::Catalogue& tables,
                                                                      const LoadPoint& running);

/// Locked-rotor current by code letter, at one end of its range. Source: NEC 430.7(B).
[[nodiscard]] Current locked_rotor_current(double kilovolt_amperes_per_horsepower, Power shaft, Voltage volts,
                                           bool three_phase);

/// The worked line of one end of the range; `running` is the value of the running current.
Value explain_start(Working& working, const plan::Plan& plan, const StartCurrent& found, Index load,
                    Value running, bool high);

}  // namespace benchfeed::network
