#pragma once
// The running current of a load from what is printed on its plate.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// What a plate gives.
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
/// Omits   a peak horsepower is never used: it says nothing about the current. Duty and idle running.
/// Assumes power factor and efficiency where the plate is silent: at the low end of their table, which draws
///         most, or at the high end. Of an unknown kind of motor: of all kinds, or of what its form comes
///         with.
/// Source  design of the plate: IEC 60335-1/62841-1 (input), IEC 60034-1 (output); NEC 430.6(A), 430.248.
[[nodiscard]] BENCHFEED_API LoadCurrent load_current(const plan::Plan& plan, const tables::Catalogue& tables,
                                                     const Practice& practice, Index load,
                                                     PlateEnd end = PlateEnd::most);

/// Volts of the plate as wired, the lower end of a range; where it is silent, nominal between the load's
/// conductors.
[[nodiscard]] Voltage plate_voltage(const plan::Plan& plan, Index load);
/// Nominal volts over the highest that the plate prints; 1 where the plate covers them.
[[nodiscard]] Ratio volts_above_plate(const plan::Plan& plan, Index load);

/// Full-load current by horsepower, NEC Table 430.248 (single-phase) or 430.250 (three-phase): the column
/// whose rated volts lie nearest, the row at or above. Nothing above the last row.
[[nodiscard]] std::optional<tables::Figure<Current>> motor_table_current(const tables::Catalogue& tables,
                                                                         bool three_phase, Power shaft,
                                                                         Voltage volts);

/// The worked step that shows it; nothing to show where the plate prints the amps.
Value explain_current(Working& working, const plan::Plan& plan, const LoadCurrent& found, Index load);

}  // namespace benchfeed::network
