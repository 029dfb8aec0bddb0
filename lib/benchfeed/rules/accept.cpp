#include <benchfeed/rules/accept.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>

#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::rules {

namespace {

/// A revision that is a plain number; others are only equal or not.
std::optional<int> counted(const std::string& revision) {
    int number = 0;
    const auto [end, error] = std::from_chars(revision.data(), revision.data() + revision.size(), number);
    if (error != std::errc{} || end != revision.data() + revision.size() || number < 0) return std::nullopt;
    return number;
}

}  // namespace

bool acceptable(const Outcome& outcome) {
    return outcome.verdict == Verdict::caution ||
           (outcome.verdict == Verdict::cannot_judge && !is_grave_question(outcome));
}

bool names(const plan::Plan& plan, const plan::Accept& accept, const Outcome& outcome) {
    return *accept.rule == registry()[outcome.rule].id && *accept.at == path_of(plan, outcome.at) &&
           (!accept.set.known() || *accept.set == set_name(plan, outcome.set));
}

void accept(const plan::Plan& plan, Judgement& judgement) {
    if (plan.accepts.empty()) return;
    std::set<Index> covering, over;
    for (Outcome& outcome : judgement.outcomes) {
        if (!acceptable(outcome)) continue;
        for (Index i = 0; i < plan.accepts.size() && outcome.accepted == plan::nowhere; ++i) {
            if (!names(plan, plan.accepts[i], outcome)) continue;
            if (ended(plan, plan.accepts[i]))
                over.insert(i);
            else
                outcome.accepted = i;
        }
        if (outcome.accepted != plan::nowhere) covering.insert(outcome.accepted);
    }
    judgement.covering.assign(covering.begin(), covering.end());
    judgement.ended.assign(over.begin(), over.end());
}

bool covers_something(const Judgement& judgement, Index accept) {
    return std::binary_search(judgement.covering.begin(), judgement.covering.end(), accept);
}

Yield one_caution(const std::vector<Index>& told) {
    Yield yield;
    if (told.empty()) return yield;
    Outcome o;
    o.verdict = Verdict::caution;
    o.basis = Basis::practice;
    yield.outcomes.push_back(o);
    return yield;
}

Explanation explain_acceptances(const plan::Plan& plan, const std::vector<Index>& told,
                                const std::function<std::string(const plan::Accept&)>& words) {
    Explanation e;
    for (const Index i : told) {
        const plan::Accept& accept = plan.accepts[i];
        const Label label{accept.header, *accept.rule + " at " + *accept.at + ": " + words(accept)};
        if (i == told.front())
            e.place = label;
        else
            e.related.push_back(label);
    }
    return e;
}

bool ended(const plan::Plan& plan, const plan::Accept& accept) {
    return !plan.today.empty() && accept.until.known() && *accept.until < plan.today;
}

std::vector<Index> undated(const plan::Plan& plan) {
    std::vector<Index> list;
    for (Index i = 0; i < plan.accepts.size() && plan.today.empty(); ++i)
        if (plan.accepts[i].until.known()) list.push_back(i);
    return list;
}

bool outdated(const plan::Plan& plan, const plan::Accept& accept) {
    return !plan.head.revision.is(*accept.revision);
}

std::string age_words(const plan::Plan& plan, const plan::Accept& accept) {
    std::string out = "accepted at revision " + *accept.revision;
    for (const plan::Change& change : plan.changes)
        if (change.revision.is(*accept.revision)) {
            out += " of " + *change.date;
            break;
        }
    if (ended(plan, accept)) return out + ", for the time until " + *accept.until + ", which is over";
    if (!outdated(plan, accept)) return out + ", which is this one";
    if (!plan.head.revision.known()) return out + "; the plan says no revision";
    const auto then = counted(*accept.revision), now = counted(*plan.head.revision);
    if (then && now && *now > *then)
        return out + fmt::format(", {} revision{} ago", *now - *then, *now - *then == 1 ? "" : "s");
    return out + "; the plan is at revision " + *plan.head.revision;
}

}  // namespace benchfeed::rules
