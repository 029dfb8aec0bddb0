#pragma once
// What a place still takes while a set runs.
#include <optional>
#include <vector>

#include <benchfeed/advice/together.hpp>
#include <benchfeed/base/api.hpp>

namespace benchfeed::advice {

/// The largest further load at one place beside one set.
struct Headroom {
    Index set = plan::nowhere;    ///< index into Plan::sets
    Index at = plan::nowhere;     ///< an outlet with a free way, or the element that was asked for
    std::optional<Current> most;  ///< nothing: it cannot be said (see `ends`)
    std::optional<Power> watts;   ///< at the volts of the supply there
    Index ends = plan::nowhere;   ///< the limit that ends it; nowhere: what is missing was asked by check
};

enum class Stay : std::uint8_t {
    minutes,  ///< up to the limits themselves
    hours     ///< and, where a rule has one, within the lower limit for loads that run for hours
};

/// Outlets with a way that nothing is plugged into.
[[nodiscard]] BENCHFEED_API std::vector<Index> free_outlets(const rules::Situation& situation);

/// The largest further load at an element while a set runs.
///
/// Every limit of every rule must still hold: amps on the way from the element to the supply, and the volts
/// and starts of the loads that run. The new load draws in phase with everything else, which no lag can
/// exceed; it has no start current; it gets its own volts if it keeps the limit for motors. Method  bisection
/// for each limit that a very large load would break.
[[nodiscard]] BENCHFEED_API Headroom headroom(const rules::Situation& situation,
                                              const rules::Judgement& judgement, Index set, Index at,
                                              Stay stay);

}  // namespace benchfeed::advice
