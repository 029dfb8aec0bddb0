#pragma once
// Remedies tried on the whole plan before anybody is told of them.
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include <benchfeed/advice/sweep.hpp>
#include <benchfeed/base/api.hpp>

namespace benchfeed::advice {

/// What tells outcomes of two plans with the same elements apart: rule, place, part, set.
using OutcomeKey = std::tuple<Index, int, Index, int, Index>;

/// A changed plan, judged.
struct CureTrial {
    /// How a trial ended: the changed text is no plan; something got worse; only a load that was left out of
    /// its set did, running by itself; nothing did.
    enum class Result : std::uint8_t { no_plan, worse, worse_by_itself, no_worse } result = Result::no_plan;
    std::vector<rules::Outcome> outcomes = {};  ///< where nothing gets worse: of what is not in order now
};

/// Changed plans of one bench that were judged, and how many more may be.
struct CureTrials {
    int left = 300;                                    ///< see most_trials()
    std::map<std::string, CureTrial> judged = {};      ///< by the changes
    std::optional<plan::Written> written = {};         ///< the text, read once for all of them
    bool begun = false;                                ///< `before` is filled
    std::map<OutcomeKey, rules::Verdict> before = {};  ///< of the plan as it is: what is not in order
};

/// Trials that a plan is worth: in a large one each takes long. Beyond 60 000 elements none, since one takes
/// as long and as much memory as the judgement itself: cures are told in the words of their rule.
[[nodiscard]] BENCHFEED_API int most_trials(const plan::Plan& plan);

/// Remedies of an outcome, cheapest first.
///
/// A remedy that changes the plan is made and the changed plan judged whole. It is kept if the outcome's
/// verdict gets better, at every place of its fold, and no other outcome's gets worse, and its text then
/// gives the figures: "stock lead 1.5 mm2 -> 2.5 mm2 brings 5.58 % to 3.52 %". A section or a length without
/// a value is searched: the next larger sections that the stock may take, the longest length (to a tenth of a
/// metre, and no less than half of what it is). What does not cure is left out. Remedies that change nothing
/// in the plan, or that cannot be made in it, stand as they are, without changes: every change that is left
/// does what it says. A load that is left out of its set is judged in the set that it then has of its own,
/// where it may be as bad as it was.
///
/// A remedy that adds elements is tried with its lines at the end of the plan; what cannot be done in this
/// plan stands in words, since a person may still do it in another way.
///
/// With no trials left, remedies that would have to be tried stand without their changes.
[[nodiscard]] BENCHFEED_API std::vector<rules::Remedy> cures(const Source& source,
                                                             const rules::Situation& situation,
                                                             const rules::Judgement& judgement,
                                                             const rules::Outcome& outcome,
                                                             CureTrials& trials);

}  // namespace benchfeed::advice
