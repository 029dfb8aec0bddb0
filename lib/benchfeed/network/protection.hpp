#pragma once
// Which device protects what: the upstream search, per function.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/electrical/device.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// A device in the way of the current: a device element, or the fuse in a plug.
struct Guard {
    Index element = plan::nowhere;  ///< the device, or the element in whose plug the fuse sits
    bool plug_fuse = false;
    std::optional<Current> rating;
    plan::DeviceStandard standard = plan::DeviceStandard::iec_60898;
    std::optional<plan::Curve> curve = {};  ///< the letter of a breaker
    bool overload = false, short_circuit = false;
    bool known = true;  ///< false: nobody said what kind of device it is
    electrical::Functions::CableRule cable_rule = electrical::Functions::CableRule::none;  ///< In beside Iz
};

/// The places of an element's feed, from the supply: plug, fuse, cable, inlet, the element itself.
enum class Place : std::uint8_t { plug, fuse, cable, inlet, whole };

/// Devices upstream of a place, nearest first. A fuse in the element's own plug stands above its cable.
[[nodiscard]] std::vector<Guard> guards_above(const plan::Plan& plan, const tables::Catalogue& tables,
                                              Index element, Place place);

/// The device that ends overload at a place: of those with that function the one with the least rating.
///
/// A device further up may stand in for a nearer one of unknown rating, since all current passes both.
/// Omits   what a device at the far end protects (IEC 60364-4-43 433.2.2): see guard_at_far_end().
/// Source  IEC 60364-4-43 433.1, NEC 240.4, 240.5; functions by table device-functions.
struct Search {
    std::optional<Guard> found;
    bool undecided = false;  ///< a device of unknown rating or kind stands in the way and might be the one
    Index asked = plan::nowhere;  ///< that device
    bool asked_fuse = false;
};
[[nodiscard]] BENCHFEED_API Search overload_guard(const plan::Plan& plan, const tables::Catalogue& tables,
                                                  Index element, Place place);

/// The device at the load end of a feed through which all its current passes: the element itself, or the
/// only child chain below it, as long as nothing branches off between.
[[nodiscard]] std::optional<Guard> guard_at_far_end(const plan::Plan& plan, const tables::Catalogue& tables,
                                                    Index element, Place place);

}  // namespace benchfeed::network
