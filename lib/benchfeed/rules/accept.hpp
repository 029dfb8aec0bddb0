#pragma once
// [[accept]]: cautions that the owner of a bench has looked at and lives with.
#include <functional>
#include <string>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// A caution, or a cannot judge of a rule that is not essential. A fail never is, nor an undecided essential
/// rule.
[[nodiscard]] bool acceptable(const Outcome& outcome);
/// The rule, the place and, where it names one, the set of an acceptance are those of the outcome.
[[nodiscard]] bool names(const plan::Plan& plan, const plan::Accept& accept, const Outcome& outcome);
/// Mark every outcome that an acceptance covers, and note which acceptances cover any.
void accept(const plan::Plan& plan, Judgement& judgement);

/// An outcome, or a member of its fold, is accepted by it.
[[nodiscard]] bool covers_something(const Judgement& judgement, Index accept);
/// One caution that tells of all these acceptances; nothing where there are none.
[[nodiscard]] Yield one_caution(const std::vector<Index>& told);
/// The first of them as the place, the others beside it, each with its words.
[[nodiscard]] Explanation explain_acceptances(const plan::Plan& plan, const std::vector<Index>& told,
                                              const std::function<std::string(const plan::Accept&)>& words);

/// Its last day is over, by the date that the caller gave; false where nobody gave one.
[[nodiscard]] bool ended(const plan::Plan& plan, const plan::Accept& accept);
/// Acceptances with a last day that nobody held against a date.
[[nodiscard]] std::vector<Index> undated(const plan::Plan& plan);

/// It was accepted at another revision than the plan has now, or the plan has none.
[[nodiscard]] bool outdated(const plan::Plan& plan, const plan::Accept& accept);
/// "accepted at revision 2 of 2026-05-02, 1 revision ago"; dates come from [[change]].
[[nodiscard]] std::string age_words(const plan::Plan& plan, const plan::Accept& accept);

}  // namespace benchfeed::rules
