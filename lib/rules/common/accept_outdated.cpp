// plan.accept-outdated: an [[accept]] of another revision than the plan's.
#include <algorithm>

#include "rules/accept.hpp"
#include "rules/judge.hpp"
#include "rules/rules.hpp"

namespace benchfeed::rules {
namespace {

bool told(const Situation& s, const Judgement& judgement, Index accept) {
    return outdated(s.plan, s.plan.accepts[accept]) &&
           std::any_of(judgement.outcomes.begin(), judgement.outcomes.end(),
                       [&](const Outcome& o) { return o.accepted == accept; });
}

Yield review(const Situation& s, const Judgement& judgement) {
    Yield yield;
    for (Index i = 0; i < s.plan.accepts.size(); ++i) {
        if (!told(s, judgement, i)) continue;
        Outcome o;
        o.verdict = Verdict::caution;
        o.basis = Basis::practice;
        yield.outcomes = {o};  // one finding tells all of them
    }
    return yield;
}

Explanation explain_review(const Situation& s, const Judgement& judgement, const Outcome&) {
    Explanation e;
    std::size_t count = 0;
    for (Index i = 0; i < s.plan.accepts.size(); ++i) {
        if (!told(s, judgement, i)) continue;
        const plan::Accept& accept = s.plan.accepts[i];
        const Label label{accept.header,
                          *accept.rule + " at " + *accept.at + ": " + age_words(s.plan, accept)};
        if (++count == 1)
            e.place = label;
        else
            e.related.push_back(label);
    }
    e.headline = std::to_string(count) +
                 (count == 1 ? " acceptance is of another revision" : " acceptances are of another revision");
    e.consequence = "The bench has changed since somebody looked at it.";
    e.remedies = {{Cost::free, "look at the finding again, then write the revision of the plan"}};
    return e;
}

}  // namespace

const Rule accept_outdated{.id = "plan.accept-outdated",
                           .title = "an acceptance of another revision of the plan",
                           .harm = Harm::plan,
                           .essential = false,
                           .families = "iec nec",
                           .since = "0.1.0",
                           .look = nullptr,
                           .explain = nullptr,
                           .review = review,
                           .explain_review = explain_review};

}  // namespace benchfeed::rules
