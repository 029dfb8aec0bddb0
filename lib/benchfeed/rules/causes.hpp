#pragma once
// Findings with one cause are one finding: the same amps too many for plug, outlet, cable and device; the
// same cable that leaves too few volts at three loads.
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// For each outcome the position of the outcome under which it is told; nowhere: it is told itself.
///
/// One cause is  the same loads of a set that are too much for several parts of one way: told at the part
/// with
///               the greatest share of its limit;
///               the same cable that takes too much of the volts of several loads of a set: told at the load
///               that gets least.
/// Only fails and cautions have a cause, and nothing is told under a lesser verdict. A question that the cure
/// of a fail on its way answers (Rule::waits) is told under that fail.
[[nodiscard]] std::vector<Index> causes(const Situation& situation, const Judgement& judgement);

}  // namespace benchfeed::rules
