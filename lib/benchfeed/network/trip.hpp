#pragma once
// When a protective device of a plan opens: electrical/device.hpp, of the devices that stand in the way.
#include <optional>

#include <benchfeed/electrical/device.hpp>
#include <benchfeed/network/protection.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::Clearing;
using electrical::Opening;
using electrical::Origin;
using electrical::TripBand;
using electrical::Withstands;

/// What is printed on a device; nothing where its standard or its rating is not known.
[[nodiscard]] BENCHFEED_API std::optional<electrical::ProtectiveDevice> device_of(const Guard& guard);

/// @{ As the functions of these names in electrical; nothing for a device of which not enough is known.
[[nodiscard]] std::optional<TripBand> trip_band(const tables::Catalogue& tables, const Guard& guard);
[[nodiscard]] std::optional<Withstands> start_withstand(const tables::Catalogue& tables, const Guard& guard,
                                                        bool longer_than_a_second);
[[nodiscard]] std::optional<Clearing> latest_clearing(const tables::Catalogue& tables, const Guard& guard,
                                                      Current current);
[[nodiscard]] std::optional<Clearing> least_energy(const tables::Catalogue& tables, const Guard& guard,
                                                   Current current, Duration longest);
[[nodiscard]] std::optional<Opening> opens_within(const tables::Catalogue& tables, const Guard& guard,
                                                  Duration time);
/// @}

}  // namespace benchfeed::network
