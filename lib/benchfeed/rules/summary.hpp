#pragma once
// What a report says of a judged plan as a whole: the first sentence, the amps of each set, what was not
// looked at.
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

struct Finding;

/// The answer in one sentence, the worst harm first. Never "safe", never "compliant".
[[nodiscard]] BENCHFEED_API std::string headline(const Situation& situation, const Judgement& judgement);
/// The same where the findings are known already.
[[nodiscard]] BENCHFEED_API std::string headline(const Situation& situation, const Judgement& judgement,
                                                 const std::vector<Finding>& found);

/// "Sawing: 12.3 A of 16 A at the bench plug, 77 %; 3.7 A left", one for each set, then everything at once.
[[nodiscard]] BENCHFEED_API std::vector<std::string> set_lines(const Situation& situation,
                                                               const Judgement& judgement);

/// The same as figures, for writers of data.
struct SetFigures {
    Index set = no_set;
    const plan::RunSet* loads = nullptr;
    const Limit* weakest = nullptr;  ///< nullptr: nothing on its way could be rated
    Current drawn{}, rated{};        ///< at the weakest element; only what counts for its limit
    bool unknown_load = false;       ///< a load without a known current is not in it
};
/// One for each set of the plan, then everything at once if the plan has more than one load.
[[nodiscard]] BENCHFEED_API std::vector<SetFigures> set_figures(const Situation& situation,
                                                                const Judgement& judgement);

/// How many outcomes have each verdict.
struct Counts {
    std::size_t ok = 0, cannot_judge = 0, caution = 0, fail = 0;
    std::size_t accepted = 0;  ///< whatever their verdict; they are in no other count
};
[[nodiscard]] BENCHFEED_API Counts count_verdicts(const Judgement& judgement);

/// "or" is a word between cures, not before the first.
void first_without_or(std::vector<Remedy>& remedies);

/// Something that was not looked at, and why.
struct NotChecked {
    std::string what, why;
};
[[nodiscard]] BENCHFEED_API std::vector<NotChecked> not_checked(const Situation& situation);

/// Outcomes that a report tells as findings, worst first: of one rule, place and part the worst set speaks,
/// the others are named in `also`; what has the same cause (rules/causes.hpp) is told under it.
struct Finding {
    const Outcome* outcome = nullptr;
    std::vector<Index> also;              ///< further sets with the same finding
    std::vector<const Outcome*> follows;  ///< other parts and loads with the same cause
    std::vector<const Outcome*> answers;  ///< questions that the cure of this fail answers
};
[[nodiscard]] BENCHFEED_API std::vector<Finding> findings(const Situation& situation,
                                                          const Judgement& judgement);
/// How many findings have each verdict: the number of fails that every report of people gives.
struct FindingCounts {
    std::size_t fail = 0, cannot_judge = 0, caution = 0;
    std::size_t on_the_plan = 0;  ///< that values are assumed, and the like: no finding of the bench
    friend bool operator==(const FindingCounts&, const FindingCounts&) = default;
};
[[nodiscard]] BENCHFEED_API FindingCounts count_findings(const std::vector<Finding>& found);
/// False of what every plan has something of: that values are assumed, that facts are not known.
[[nodiscard]] BENCHFEED_API bool about_the_bench(const Finding& finding);
/// Findings that an [[accept]] covers, each by itself; findings() leaves them out.
[[nodiscard]] BENCHFEED_API std::vector<Finding> accepted(const Situation& situation,
                                                          const Judgement& judgement);
/// "heat.outlet-overloaded at the wall outlet (22 A of 20 A)": a finding that is told under another.
[[nodiscard]] BENCHFEED_API std::string in_brief(const Situation& situation, const Outcome& outcome);
/// What is told under a finding, in sentences; at most so many of each kind are named.
[[nodiscard]] BENCHFEED_API std::vector<std::string> told_under(const Situation& situation,
                                                                const Finding& finding,
                                                                std::size_t most_named = SIZE_MAX);

/// Where an outcome stands, as a plan names it: "plan", "box.junction", "stock.lead", "together.sawing".
[[nodiscard]] std::string path_of(const plan::Plan& plan, At at);
/// Name of an outcome's set; "" where it does not depend on who runs.
[[nodiscard]] std::string set_name(const plan::Plan& plan, Index set);

/// Words and steps of an outcome. What is in order has no consequence and needs no cure.
[[nodiscard]] BENCHFEED_API Explanation explain(const Situation& situation, const Judgement& judgement,
                                                const Outcome& outcome);

}  // namespace benchfeed::rules
