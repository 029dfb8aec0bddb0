#pragma once
// What differs between two plans as they are written. Not for use outside compare().
#include <vector>

#include <benchfeed/rules/compare.hpp>

namespace benchfeed::rules {

/// Tables that came, changed or went: in the order of the new plan, then what was removed.
[[nodiscard]] std::vector<Difference> find_differences(const Situation& before, const Situation& after);

/// What a difference acts on: its element, or the elements that use its stock; empty: the bench as a whole.
[[nodiscard]] std::vector<Index> touched(const plan::Plan& plan, const Difference& difference);

/// It stands in a table about the whole bench.
[[nodiscard]] bool concerns_everything(const Difference& difference);

/// Fields that say who and when, not what: no current ever depended on them.
[[nodiscard]] bool only_words(const Difference& difference);

/// Something was unscrewed, cut or put in.
[[nodiscard]] bool rewired(const Difference& difference);

/// Readings of both plans of which a different value is expected since, or on whose way something was
/// rewired.
[[nodiscard]] std::vector<StaleReading> find_stale(const Situation& before, const Situation& after,
                                                   const std::vector<Difference>& differences);

}  // namespace benchfeed::rules
