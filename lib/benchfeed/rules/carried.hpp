#pragma once
// Findings about many places, followed from one plan to another. Not for use outside compare().
#include <optional>
#include <vector>

#include <benchfeed/rules/compare.hpp>

namespace benchfeed::rules {

/// An outcome as a difference tells it; nothing for nullptr.
[[nodiscard]] std::optional<Moved::Side> side_of(const JudgedSide& side, const Outcome* outcome);

/// A place that tells now what another one told before, and one whose finding another one tells now, are the
/// same finding: no pair of worse and better. Pre: no more than one entry for each rule, place and part.
void follow_folds(const JudgedSide& before, const JudgedSide& after, std::vector<Moved>& list);

}  // namespace benchfeed::rules
