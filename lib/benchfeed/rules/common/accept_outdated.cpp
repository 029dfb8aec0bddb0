// plan.accept-outdated: an [[accept]] of another revision than the plan's, or whose last day is over.
#include <algorithm>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::accept_outdated {
namespace {

std::vector<Index> told(const Situation& s, const Judgement& judgement) {
    std::vector<Index> list;
    for (Index i = 0; i < s.plan.accepts.size(); ++i)
        if ((outdated(s.plan, s.plan.accepts[i]) && covers_something(judgement, i)) ||
            std::binary_search(judgement.ended.begin(), judgement.ended.end(), i))
            list.push_back(i);
    return list;
}

Yield review(const Situation& s, const Judgement& judgement) {
    return one_caution(told(s, judgement));
}

Explanation explain_review(const Situation& s, const Judgement& judgement, const Outcome&) {
    const std::vector<Index> list = told(s, judgement);
    Explanation e = explain_acceptances(
        s.plan, list, [&](const plan::Accept& accept) { return age_words(s.plan, accept); });
    const bool one = list.size() == 1, over = !judgement.ended.empty();
    const bool both = over && judgement.ended.size() < list.size();
    e.headline =
        std::to_string(list.size()) +
        (both   ? " acceptances are of another revision, or their time is over"
         : over ? (one ? " acceptance has had its time" : " acceptances have had their time")
                : (one ? " acceptance is of another revision" : " acceptances are of another revision"));
    e.consequence = over && !both ? "What was accepted for a time counts again, as if nobody had accepted it."
                                  : "The bench has changed since somebody looked at it.";
    e.remedies = {{Cost::free, over && !both
                                   ? "look at the finding again: cure it, or write a later until"
                                   : "look at the finding again, then write the revision of the plan"}};
    return e;
}

}  // namespace

const Rule rule{.id = "plan.accept-outdated",
                .title = "an acceptance of another revision of the plan",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = nullptr,
                .explain = nullptr,
                .review = review,
                .explain_review = explain_review};

}  // namespace benchfeed::rules::accept_outdated
