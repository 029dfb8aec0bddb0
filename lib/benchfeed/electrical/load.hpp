#pragma once
// The running and the starting current of a load from what is printed on its plate.
#include <optional>
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/rating.hpp>
#include <benchfeed/electrical/figures.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::electrical {

/// What is printed on a load. What is not printed is left out: nothing is guessed for it but power factor and
/// efficiency, and that is told.
struct Nameplate {
    std::optional<Current> current;
    std::optional<Power> power_in, power_out;
    std::optional<Power> rated_horsepower;  ///< 1 hp is 746 W; a peak horsepower says nothing and is left out
    std::optional<Ratio> power_factor, efficiency;
    std::optional<VoltageRange> voltage;
    std::optional<Motor> motor;  ///< nothing: nobody knows its kind
    std::optional<Current> start_current;
    std::string code_letter = {};  ///< of the motor alone, NEC 430.7(B); "" for none
    std::optional<Power> shaft =
        {};  ///< what the letter refers to: a horsepower that is no peak, or the watts out
    bool soft_start = false;
    bool never_a_motor = false;  ///< of an unknown kind, and it is a lamp, a heater or a charger
};

/// What the load hangs on: nominal volts between its conductors, with three lines between lines.
struct SupplyVolts {
    Voltage nominal{};
    bool three_phase = false;
};

/// The volts of the plate as wired, the lower end of a range; where it prints none, the nominal ones.
[[nodiscard]] BENCHFEED_API Voltage plate_voltage(const Nameplate& plate, const SupplyVolts& supply);

/// Where the running current of a load was taken from, best first.
enum class CurrentFrom : std::uint8_t {
    plate_current,
    power_in,
    power_out,
    horsepower_table,
    horsepower,
    unknown
};

/// The running current and how it was found.
struct LoadCurrent {
    CurrentFrom from = CurrentFrom::unknown;
    Current current{};
    Voltage voltage{};  ///< at which the watts or horsepower were divided
    Ratio power_factor{};
    bool power_factor_known = false;  ///< printed, or the quotient of printed watts and amps
    std::optional<tables::Figure<Ratio>> assumed_power_factor, assumed_efficiency;
    std::optional<tables::Figure<Current>> table_current;  ///< by horsepower
};

/// Running current of a load.
///
///     plate amps; else P_in / (U pf); else P_out / (U pf eff); else the motor table by horsepower (NEC);
///     else hp 746 W / (U pf eff). Three-phase: U becomes sqrt(3) U between lines.
///
/// Units   A.
/// Valid   plate voltage as wired; of a range the lower end, which gives the larger current.
/// Omits   duty and idle running.
/// Assumes power factor and efficiency at the low end of their table where the plate is silent.
/// Throws  Refused: powers, amps or volts that are no finite numbers or below zero, shares that are not above
/// it. Source  design of the plate: IEC 60335-1/62841-1 (input), IEC 60034-1 (output); NEC 430.6(A), 430.248.
[[nodiscard]] BENCHFEED_API LoadCurrent load_current(const Nameplate& plate, const SupplyVolts& supply,
                                                     const Figures& figures);

/// Power factor that a load of this kind has at least; of an unknown kind the least of all.
[[nodiscard]] tables::Figure<Ratio> least_power_factor(std::optional<Motor> motor, const Figures& figures);

/// The same of the efficiency of a motor.
[[nodiscard]] tables::Figure<Ratio> least_efficiency(std::optional<Motor> motor, const Figures& figures);

/// Full-load current by horsepower, NEC Table 430.248 (single-phase) or 430.250 (three-phase): the column
/// whose rated volts lie nearest, the row at or above. Nothing above the last row.
[[nodiscard]] std::optional<tables::Figure<Current>> motor_table_current(const Figures& figures,
                                                                         bool three_phase, Power shaft,
                                                                         Voltage volts);

/// What a motor draws while it starts: rms over the run-up, before any cable weakens it.
struct Start {
    /// What the start current follows from.
    enum class From : std::uint8_t { plate, code_letter, motor_kind } from = From::motor_kind;
    Current low{}, high{};     ///< both ends of what is known; equal where a plate prints it
    Ratio low_power_factor{};  ///< goes with `low`; `high` is taken in phase with the drop, which is worst
    bool longer_than_a_second = false;  ///< heavy masses: induction motors and what they turn
};

/// A start and the figures it rests on.
struct StartCurrent {
    Start start;
    std::optional<tables::Figure<Ratio>> low_multiple, high_multiple;  ///< of the running current
    std::optional<tables::Citation> letter;                            ///< row of the code letter
    double letter_low = 0, letter_high = 0;                            ///< kVA per hp
    Voltage voltage{};                                                 ///< by which those kVA are divided
};

/// Start current of a load.
///
///     plate; else kVA/hp * hp / U (three-phase: / (sqrt(3) U)); else multiples of the running current
///
/// Units   A, rms over the run-up; the first half cycle may be higher.
/// Valid   both ends of a range are given and both are to be judged: the low one fails, the high one warns.
///         Of an unknown kind of motor the lowest and the highest multiple of all kinds. With a soft start
///         the letter does not count, it is that of the motor alone. Letter V has no upper end: both are its
///         lower.
/// Nothing a load without a motor; nothing on the plate tells a current; it draws no more than while it runs.
/// Omits   what an electronic supply draws in its first millisecond.
/// Throws  Refused, as load_current().
/// Source  NEC 430.7(B); multiples by table motor-kinds (common practice).
[[nodiscard]] BENCHFEED_API std::optional<StartCurrent> start_current(const Nameplate& plate,
                                                                      const SupplyVolts& supply,
                                                                      const LoadCurrent& running,
                                                                      const Figures& figures);

/// Locked-rotor current by code letter, at one end of its range. Source: NEC 430.7(B).
[[nodiscard]] Current locked_rotor_current(double kilovolt_amperes_per_horsepower, Power shaft, Voltage volts,
                                           bool three_phase);

}  // namespace benchfeed::electrical
