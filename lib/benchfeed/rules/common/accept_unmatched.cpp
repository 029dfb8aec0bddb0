// plan.accept-unmatched: an [[accept]] that covers nothing.
#include <algorithm>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::accept_unmatched {
namespace {

std::vector<Index> told(const Situation& s, const Judgement& judgement) {
    std::vector<Index> list;
    for (Index i = 0; i < s.plan.accepts.size(); ++i)
        if (!covers_something(judgement, i) &&
            !std::binary_search(judgement.ended.begin(), judgement.ended.end(), i))
            list.push_back(i);
    return list;
}

Yield review(const Situation& s, const Judgement& judgement) {
    return one_caution(told(s, judgement));
}

/// Why it covers nothing.
std::string reason(const Situation& s, const Judgement& judgement, const plan::Accept& accept) {
    if (!find_rule(*accept.rule)) return "there is no rule " + *accept.rule;
    for (const Outcome& o : judgement.outcomes) {
        if (!names(s.plan, accept, o)) continue;
        if (o.verdict == Verdict::fail) return "it fails, and a fail cannot be accepted";
        if (o.verdict == Verdict::cannot_judge && registry()[o.rule].essential)
            return "it cannot be judged, and of an essential rule that cannot be accepted";
    }
    for (const Outcome& o : judgement.outcomes)
        if (names(s.plan, accept, o))
            return o.accepted == plan::nowhere ? "it is in order" : "accepted already";
    return "there is no such finding";
}

Explanation explain_review(const Situation& s, const Judgement& judgement, const Outcome&) {
    const std::vector<Index> list = told(s, judgement);
    Explanation e = explain_acceptances(
        s.plan, list, [&](const plan::Accept& accept) { return reason(s, judgement, accept); });
    e.headline = std::to_string(list.size()) +
                 (list.size() == 1 ? " acceptance covers nothing" : " acceptances cover nothing");
    e.consequence = "It would cover a later finding before anybody has looked at it.";
    e.remedies = {{Cost::free, "take it out of the plan, or correct rule, at and set"}};
    return e;
}

}  // namespace

const Rule rule{.id = "plan.accept-unmatched",
                .title = "an acceptance that covers nothing",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = nullptr,
                .explain = nullptr,
                .review = review,
                .explain_review = explain_review};

}  // namespace benchfeed::rules::accept_unmatched
