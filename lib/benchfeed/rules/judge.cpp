// From the limits and outcomes of the rules to what a plan is told: both ends of what nobody gave, what is
// accepted, one finding for each fold, rules about all others.
#include <benchfeed/rules/judge.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <string>
#include <tuple>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/judge_parts.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::rules {

namespace {

/// What carries a fold: the worst, then the largest, then the first by name; never by the order of a file.
bool carries_before(const Situation& s, const Outcome& a, const Outcome& b) {
    if (a.verdict != b.verdict) return a.verdict > b.verdict;
    if (const double x = severity(a), y = severity(b);
        std::abs(x - y) > rounding * std::max(std::abs(x), std::abs(y)))
        return x > y;
    const std::string name_a = path_of(s.plan, a.at), name_b = path_of(s.plan, b.at);
    return name_a != name_b ? name_a < name_b : a.part < b.part;
}

/// One outcome for each fold, where its first member stood. An acceptance of any member that is as bad as the
/// carrier covers it: one of a caution does not cover the fail of another place.
std::vector<Outcome> folded(const Situation& s, const std::vector<Outcome>& outcomes) {
    std::vector<Outcome> kept;
    std::map<std::tuple<Index, Index, Index>, std::size_t> folds;
    for (const Outcome& o : outcomes) {
        const auto [place, fresh] = o.fold == plan::nowhere
                                        ? std::pair{folds.end(), true}
                                        : folds.try_emplace(std::tuple{o.rule, o.fold, o.set}, kept.size());
        if (fresh) {
            kept.push_back(o);
            continue;
        }
        Outcome& there = kept[place->second];
        const Index accepted = o.verdict == there.verdict  ? std::min(there.accepted, o.accepted)
                               : o.verdict > there.verdict ? o.accepted
                                                           : there.accepted;
        if (carries_before(s, o, there)) there = o;
        there.accepted = accepted;
    }
    return kept;
}

/// Those of one verdict stay in their order.
std::vector<Outcome> worst_first(const std::vector<Outcome>& outcomes) {
    std::vector<Outcome> sorted;
    sorted.reserve(outcomes.size());
    for (const Verdict verdict : {Verdict::fail, Verdict::cannot_judge, Verdict::caution, Verdict::ok})
        std::copy_if(outcomes.begin(), outcomes.end(), std::back_inserter(sorted),
                     [&](const Outcome& outcome) { return outcome.verdict == verdict; });
    return sorted;
}

}  // namespace

std::vector<Outcome> judge_places(const Situation& situation) {
    return judge_sets(situation, [](const Rule& rule) { return rule.harm != Harm::plan; }).outcomes;
}

Judgement judge(const Situation& situation) {
    const auto rules = registry();
    Judgement judgement = judge_sets(situation, [](const Rule&) { return true; });
    judgement.limits.shrink_to_fit();  // kept as long as the plan: of a large one they are many
    if (situation.best) hold_at_both_ends(situation, judgement.outcomes);
    judgement.weakest.push_back(weakest_of_everything(situation, judgement.limits));
    accept(situation.plan, judgement);
    judgement.outcomes = folded(situation, judgement.outcomes);
    for (Index r = 0; r < rules.size(); ++r) {
        if (!rules[r].review) continue;
        Yield yield = rules[r].review(situation, judgement);
        take(judgement, r, yield, judgement.outcomes);
    }
    for (const Outcome& outcome : judgement.outcomes) {
        if (outcome.accepted != plan::nowhere) continue;
        judgement.verdict = std::max(judgement.verdict, outcome.verdict);
        if (is_grave_question(outcome)) judgement.essential_undecided = true;
    }
    judgement.outcomes = worst_first(judgement.outcomes);
    return judgement;
}

}  // namespace benchfeed::rules
