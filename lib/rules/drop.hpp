#pragma once
// How a voltage drop explains itself: resistance at temperature, drop of each cable, what is left.
#include "rules/judge.hpp"

namespace benchfeed::rules {

/// Headline, place, worked lines and remedies of a drop at a load; the rule adds consequence and limit
/// source.
[[nodiscard]] Explanation explain_drop(const Situation& s, const Outcome& outcome, const Limit& limit);

}  // namespace benchfeed::rules
