#include <benchfeed/network/trip.hpp>

namespace benchfeed::network {

std::optional<electrical::ProtectiveDevice> device_of(const Guard& guard) {
    if (!guard.known || !guard.rating || !(*guard.rating > Current{})) return std::nullopt;
    return electrical::ProtectiveDevice{guard.standard, *guard.rating, guard.curve};
}

std::optional<TripBand> trip_band(const tables::Catalogue& tables, const Guard& guard) {
    const auto device = device_of(guard);
    return device ? electrical::trip_band(*device, tables) : std::nullopt;
}

std::optional<Withstands> start_withstand(const tables::Catalogue& tables, const Guard& guard,
                                          bool longer_than_a_second) {
    const auto device = device_of(guard);
    return device ? electrical::start_withstand(*device, tables, longer_than_a_second) : std::nullopt;
}

std::optional<Clearing> latest_clearing(const tables::Catalogue& tables, const Guard& guard,
                                        Current current) {
    const auto device = device_of(guard);
    return device ? electrical::latest_clearing(*device, tables, current) : std::nullopt;
}

std::optional<Clearing> least_energy(const tables::Catalogue& tables, const Guard& guard, Current current,
                                     Duration longest) {
    const auto device = device_of(guard);
    return device ? electrical::least_energy(*device, tables, current, longest) : std::nullopt;
}

std::optional<Opening> opens_within(const tables::Catalogue& tables, const Guard& guard, Duration time) {
    const auto device = device_of(guard);
    return device ? electrical::opens_within(*device, tables, time) : std::nullopt;
}

}  // namespace benchfeed::network
