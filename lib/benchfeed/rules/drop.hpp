#pragma once
// How a voltage drop explains itself: resistance at temperature, drop of each cable, what is left.
#include <optional>

#include <benchfeed/base/worked.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// Headline, place, worked lines and remedies of a drop at a load; the rule adds consequence and limit
/// source.
[[nodiscard]] Explanation explain_drop(const Situation& s, const Outcome& outcome, const Limit& limit);

/// The cable on the way to a load in which most is lost: the element that it feeds, or nowhere.
[[nodiscard]] Index worst_cable(const Situation& s, Index load);

/// Line and neutral alone, everywhere on the way to a load: then a cable is worked as one loop.
[[nodiscard]] bool one_loop(const Situation& s, Index load);

/// Resistance and reactance of the loop from the source (if it is counted) to a load, worked cable by cable:
/// of its two conductors, or of one of three lines.
struct LoopValues {
    Value resistance, reactance;
};
LoopValues explain_loop(Working& working, const Situation& s, Index load, std::optional<Impedance> source);

/// Volts that are left between two conductors at a load while these loads run: worked cable by cable where
/// there is one line, else conductor by conductor.
Value explain_volts_left(Working& working, const Situation& s, const std::vector<Index>& running, Index load,
                         network::Pair between, std::optional<Impedance> source);

}  // namespace benchfeed::rules
