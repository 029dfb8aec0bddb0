#pragma once
// What a report draws, as figures: load of every element, volts along the chain, starts against trip zones.
// The same limits and evaluations that `check` judges by; writers draw them and compute nothing.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::advice {

using plan::Index;

/// An element at the set that loads it most, against the rating that is nearest to being reached.
struct LoadBar {
    rules::At at;
    rules::Part part = rules::Part::whole;
    Index set = rules::no_set;
    Current drawn{}, rated{};
    Ratio share{};
    bool motors_only = false;
    bool unknown_load = false;  ///< a load of which nobody knows the current is not in it
    bool weakest = false;       ///< the greatest share of all sets of the plan
};
/// In the order of the tree, from the supply down; what the house has as well.
[[nodiscard]] BENCHFEED_API std::vector<LoadBar> load_bars(const rules::Situation& s,
                                                           const rules::Judgement& judgement);

/// A place on the way to a load, and the fewest volts there while tools of the set run.
struct VoltPlace {
    Index element = plan::nowhere;
    plan::Conductors between;  ///< conductors of the load to which the way leads
    Voltage volts{};
    Ratio lost{};  ///< of the nominal volts
};
/// The way to one load: positions in VoltPicture::places, from the supply to the load. Between two lies a
/// cable.
struct VoltPath {
    Index load = plan::nowhere;
    std::vector<std::size_t> places;
};
/// The strictest limit of running drop among the loads of a picture.
struct VoltEdge {
    Voltage volts{};
    Ratio lost{};
    Index load = plan::nowhere;
    bool fails = false;  ///< beyond it is a fail; else a caution
};
/// Volts along the chain while a set runs.
struct VoltPicture {
    Index set = rules::no_set;
    Voltage nominal{};
    std::vector<VoltPlace> places;  ///< each place once, in the order of the tree
    std::vector<VoltPath> paths;
    std::optional<VoltEdge> edge;
    bool shortest = false;  ///< a length that nobody knows is counted at its shortest
};
/// One for each set, and within a set for each nominal voltage of its loads.
[[nodiscard]] BENCHFEED_API std::vector<VoltPicture> volt_pictures(const rules::Situation& s,
                                                                   const rules::Judgement& judgement);

/// The greatest start through one device: amps rise when the motor starts and fall to what then runs.
struct StartPicture {
    rules::At at;  ///< the device
    rules::Part part = rules::Part::whole;
    Index motor = plan::nowhere;
    Index set = rules::no_set;
    Current high{};              ///< at the start: high end of what is known, with what else runs
    std::optional<Current> low;  ///< the low end, where the device has a band
    Current running{};           ///< when all of the set runs
    bool longer_than_a_second = false;
    Current carries{};             ///< what the device surely carries of such a start
    std::optional<Current> trips;  ///< from here on it surely trips at once; nothing: no figure is published
    std::optional<Current> carries_long;  ///< of a start that lasts for more than a second
};
/// Devices without a published figure have no picture.
struct StartPictures {
    std::vector<StartPicture> pictures;
    std::vector<Index> without;  ///< devices through which motors start and for which nothing is published
};
[[nodiscard]] BENCHFEED_API StartPictures start_pictures(const rules::Situation& s,
                                                         const rules::Judgement& judgement);

}  // namespace benchfeed::advice
