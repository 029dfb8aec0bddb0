#pragma once
// When a protective device opens: its published bands and points, nothing drawn between them.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/electrical/figures.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::electrical {

/// A device by what is printed on it.
struct ProtectiveDevice {
    DeviceStandard standard = DeviceStandard::iec_60898;
    Current rating{};
    std::optional<Curve> curve = {};  ///< nothing: it has no letter, or nobody knows it
};

/// What devices of a standard do. Table device-functions.
struct Functions {
    /// How In must stand to the ampacity of a cable: at most it; by the fusing current of gG fuses; by the
    /// largest fuse for a cord (BS 1363); at most a share of it (BS 3036); by NEC 240; nothing is printed.
    enum class CableRule : std::uint8_t { at_most_ampacity, none, gg, cord_fuse, rewirable, nec };
    bool overload = false, short_circuit = false;
    bool always_residual = false;  ///< it has a residual part whatever its front says
    CableRule cable_rule = CableRule::none;
};
[[nodiscard]] BENCHFEED_API Functions functions_of(DeviceStandard standard, const tables::Catalogue& tables);

/// Instantaneous band of a circuit breaker: below `lower` it does not trip at once, from `upper` it surely
/// does.
struct TripBand {
    Current lower{}, upper{};
    tables::Figure<Ratio> lower_multiple, upper_multiple;  ///< of the rated current
    tables::Figure<Duration> certain;                      ///< longest time from `upper` on
};

/// Band by curve letter. Nothing for devices without a published band (fuses, UL 489, IEC 60947-2) and where
/// the letter is not known.
///
/// Throws  Refused: a rating that is no finite number above zero; so do all functions here.
/// Source  IEC 60898-1, IEC 61009-1 Tables 2 and 7.
[[nodiscard]] BENCHFEED_API std::optional<TripBand> trip_band(const ProtectiveDevice& device,
                                                              const tables::Catalogue& tables);

/// A device carries this current for at least that long.
struct Withstands {
    Current current{};
    std::optional<tables::Figure<Ratio>> multiple;  ///< of the rating; nothing: the current is printed itself
    Duration at_least{};
    tables::Citation source;
};
/// Current that the device is sure to carry for a start of the given length. Breakers: the lower edge of the
/// band for short starts, 2.55 In for those that last more than a second. Plug fuses: the gates of BS 1362
/// with that shortest pre-arcing time.
[[nodiscard]] BENCHFEED_API std::optional<Withstands> start_withstand(const ProtectiveDevice& device,
                                                                      const tables::Catalogue& tables,
                                                                      bool longer_than_a_second);

/// The longest time for which the device lets a current flow, and the published current from which on it
/// does.
struct Clearing {
    Duration latest{};
    tables::Citation source;
    Current from{};
    std::optional<tables::Figure<Ratio>> multiple = {};  ///< of the rating; nothing: `from` is printed itself
    /// What flows at `from` until it opens: from^2 * latest.
    [[nodiscard]] JouleIntegral energy() const { return from * from * latest; }
};
/// Longest time to open at a current: the published point nearest below it. Nothing where no point is
/// published at or below the current, or none at all.
/// Omits   the conventional currents of fuses (an hour at 1.6 In): where no quicker point is published, as
/// for gG
///         fuses outside BS 7671, they alone would make a fuse look slow.
/// Source  IEC 60898-1 Table 7; BS 1362; BS 7671 Tables 41.2 (0.4 s).
[[nodiscard]] BENCHFEED_API std::optional<Clearing> latest_clearing(const ProtectiveDevice& device,
                                                                    const tables::Catalogue& tables,
                                                                    Current current);

/// Of the points at or below a current that open within `longest`, the one with the least energy. At more
/// current a device opens no later, and what flows until then is the business of its let-through.
[[nodiscard]] BENCHFEED_API std::optional<Clearing> least_energy(const ProtectiveDevice& device,
                                                                 const tables::Catalogue& tables,
                                                                 Current current, Duration longest);

/// Where a published current comes from: a multiple of the rating, or the longest loop that a table prints
/// for this rating (I = Cmin U0 / Zs); a current that is printed itself has neither.
struct Origin {
    std::optional<tables::Figure<Ratio>> multiple = {};
    std::optional<tables::Figure<Impedance>> loop = {};
    std::optional<tables::Figure<Ratio>> cmin = {};
    std::optional<tables::Figure<Voltage>> volts = {};
};

/// Least current that opens the device within a time. Nothing where no point is published.
struct Opening {
    Current current{};
    Origin origin;
    tables::Citation source;
};
[[nodiscard]] BENCHFEED_API std::optional<Opening> opens_within(const ProtectiveDevice& device,
                                                                const tables::Catalogue& tables,
                                                                Duration time);

}  // namespace benchfeed::electrical
