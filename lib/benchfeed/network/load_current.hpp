#pragma once
// The running current of a load of a plan.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::LoadCurrent;

/// What a plan says of a load's plate. A share of 0 % is none: nobody prints it.
[[nodiscard]] electrical::Nameplate nameplate_of(const plan::Load& load);
/// Nominal volts between the conductors of a load.
[[nodiscard]] electrical::SupplyVolts supply_volts(const plan::Plan& plan, Index load);

/// Running current of a load by its plate: electrical::load_current(). Found once when the network is built
/// (LoadPoint::found).
[[nodiscard]] BENCHFEED_API LoadCurrent load_current(const plan::Plan& plan, const tables::Catalogue& tables,
                                                     const Practice& practice, Index load);

/// Volts of the plate as wired, the lower end of a range; where it is silent, nominal between the load's
/// conductors.
[[nodiscard]] Voltage plate_voltage(const plan::Plan& plan, Index load);
/// Nominal volts over the highest that the plate prints; 1 where the plate covers them.
[[nodiscard]] Ratio volts_above_plate(const plan::Plan& plan, Index load);

/// The worked step that shows it; nothing to show where the plate prints the amps.
Value explain_current(Working& working, const plan::Plan& plan, const LoadCurrent& found, Index load);

}  // namespace benchfeed::network
