#pragma once
// What cures have in common: figures that are sold, one for each part, and who does the work.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// The largest rating not above `most` that devices are made in; nothing where none is so small.
///
/// Source  preferred ratings of IEC 60898-1; NEC Table 240.6(A), ratings of breakers that every edition
/// lists.
[[nodiscard]] std::optional<tables::Figure<Current>> made_rating(const Situation& s, Current most);

/// Who does it: whatever belongs to the house is an electrician's work, and never cheap.
[[nodiscard]] Cost cost_at(const Situation& s, Index element, Cost on_the_bench);

/// What a switch must be made for, with the margin of practice above the largest set, in whole amps: the same
/// figures whichever finding asks for it.
struct SwitchFit {
    Current motors{};  ///< 0 A: no motor behind it
    Current total{};
};
/// The switch is the element, or stands before it.
[[nodiscard]] SwitchFit switch_fit(const Situation& s, Index element);
/// A switch that fits, as a remedy with its change of the plan. Pre: the element is a switch with a known
/// rating.
[[nodiscard]] Remedy fit_switch(const Situation& s, Index element);

/// A load that helps others and is not what a set is run for: an extractor, a light, a charger, and what
/// another load starts.
[[nodiscard]] bool is_helper(const Situation& s, Index load);

/// Leaving one load out of a set, so that the rest keeps the limit: a helper, or of several tools any but the
/// largest. The remedy changes a declared set; what another load starts cannot be left out there. Nothing
/// where leaving out one such load is not enough.
[[nodiscard]] std::optional<Remedy> leave_one_out(const Situation& s, const Limit& limit, Index set);

/// One device for all that can carry too much while nothing trips: the plug, the wall outlet, the cord and
/// whatever hangs behind them. Its rating is made, and not above the least of them, so that one is enough.
/// Empty for outcomes of other rules, and for parts of a machine, which no device of the bench stands before.
[[nodiscard]] std::vector<Remedy> one_device(const Situation& s, const Judgement& judgement,
                                             const Outcome& outcome);

}  // namespace benchfeed::rules
