#pragma once
// What an outcome depends on that nobody gave, in words: the facts, how to ask for them, what is said
// meanwhile.
#include <vector>

#include <benchfeed/plan/at_best.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// An open fact of one element.
struct OpenFact {
    plan::Fact fact = plan::Fact::amps;
    Index element = plan::nowhere;
};
/// Open facts of the kinds that decide an outcome, of the elements that it is about; those of which most
/// hangs first.
[[nodiscard]] std::vector<OpenFact> deciding(const Situation& situation, const Judgement& judgement,
                                             const Outcome& outcome);
/// As somebody asks for it.
[[nodiscard]] Question question_of(const Situation& situation, const OpenFact& open);

/// Words of the rule, and what of them depends on facts that nobody gave: of a verdict that the two ends do
/// not share those of the worse end, with the better one and what decides; of a fail at both the figure of
/// the better end. Pre: it is no outcome about other outcomes.
[[nodiscard]] Explanation explain_range(const Situation& situation, const Judgement& judgement,
                                        const Outcome& outcome);

}  // namespace benchfeed::rules
