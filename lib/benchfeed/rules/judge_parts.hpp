#pragma once
// What the functions behind judge() share: limits and sets in judge_sets.cpp, both ends of what nobody gave
// in ends.cpp and their words in open_words.cpp, the whole in judge.cpp. Not for use outside them.
#include <functional>
#include <vector>

#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using Wanted = std::function<bool(const Rule&)>;
/// Limits and outcomes of the rules that are wanted, then the outcomes of each set.
[[nodiscard]] Judgement judge_sets(const Situation& situation, const Wanted& wanted);
/// The weakest element where everything runs at once.
[[nodiscard]] Weakest weakest_of_everything(const Situation& situation, const std::vector<Limit>& limits);
/// The outcomes of a rule, with what they lack.
void take(Judgement& judgement, Index rule, Yield& yield, std::vector<Outcome>& outcomes);

/// Outcomes of the worst end as both ends give them, and what decides those that the ends do not share. Pre:
/// the situation has a best end.
void hold_at_both_ends(const Situation& situation, std::vector<Outcome>& outcomes);

}  // namespace benchfeed::rules
