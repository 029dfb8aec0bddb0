// Verdicts of every limit for every set, and the order in which they are told.
#include "rules/judge.hpp"

#include <algorithm>

#include "rules/accept.hpp"
#include "rules/support.hpp"

namespace benchfeed::rules {

namespace {

/// Sums of printed figures must not fail by the last bit: 7.0 + 9.0 is not above 16.
constexpr double rounding = 1e-9;

bool beyond(const Measure& value, const Measure& edge, Bound bound) {
    if (std::holds_alternative<std::monostate>(edge)) return false;
    const double v = number(value), e = number(edge);
    return bound == Bound::at_most ? !(v <= e * (1 + rounding))
                                   : !(v >= e * (1 - rounding));  // a NaN is beyond
}

Verdict verdict_without_doubt(const Limit& limit, const Measure& value) {
    if (beyond(value, limit.edge, limit.bound)) return Verdict::fail;
    if (beyond(value, limit.caution, limit.bound)) return Verdict::caution;
    return limit.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge;
}

Verdict verdict_of(const Limit& limit, const Measure& value) {
    const Verdict verdict = verdict_without_doubt(limit, value);
    return verdict != Verdict::fail && beyond(value, limit.doubt, limit.bound) ? Verdict::cannot_judge
                                                                               : verdict;
}

/// An unknown source is tried at both ends of its range: where they agree, there is no doubt.
bool source_does_not_matter(const Limit& limit, const Evaluated& evaluated) {
    return !std::holds_alternative<std::monostate>(evaluated.at_weakest_source) &&
           verdict_without_doubt(limit, evaluated.at_weakest_source) ==
               verdict_without_doubt(limit, evaluated.value);
}

Outcome outcome_of(const Limit& limit, Index limit_index, Index set, const Evaluated& evaluated) {
    Outcome outcome;
    outcome.rule = limit.rule;
    outcome.at = limit.at;
    outcome.part = limit.part;
    outcome.set = set;
    outcome.verdict = verdict_at(limit, evaluated);
    outcome.basis = outcome.verdict == Verdict::caution ? limit.caution_basis : limit.basis;
    outcome.bound = limit.bound;
    outcome.value = evaluated.value;
    outcome.edge = limit.edge;
    outcome.caution = limit.caution;
    outcome.ground = limit.ground;
    outcome.variant = limit.variant;
    outcome.limit = limit_index;
    return outcome;
}

/// Ties within 0.1 %: plug, inlet, outlet, cable, switch, fuse, device, then nearest the supply. Otherwise
/// a chain of 16 A parts would name another one in every build.
int tie_rank(const Situation& s, const Limit& limit) {
    switch (limit.part) {
        case Part::plug:
            return 0;
        case Part::inlet:
            return 1;
        case Part::cable:
            return 3;
        case Part::fuse:
            return 5;
        case Part::whole:
            break;
    }
    switch (s.plan[limit.at.index].kind) {
        case plan::Kind::outlet:
            return 2;
        case plan::Kind::switch_:
            return 4;
        default:
            return 6;
    }
}

bool weaker(const Situation& s, const Limit& a, double share_a, const Limit& b, double share_b) {
    if (std::abs(share_a - share_b) > 1e-3 * std::max(share_a, share_b)) return share_a > share_b;
    const int rank_a = tie_rank(s, a), rank_b = tie_rank(s, b);
    if (rank_a != rank_b) return rank_a < rank_b;
    return s.network.enter[a.at.index] < s.network.enter[b.at.index];
}

bool has_edge(const Outcome& o) {
    return !std::holds_alternative<std::monostate>(o.edge);
}

/// How far the value has gone to the edge, or to the caution of a limit that only warns; 0 where there is
/// neither.
double severity(const Outcome& o) {
    const Measure& edge = std::holds_alternative<std::monostate>(o.edge) ? o.caution : o.edge;
    if (edge.index() != o.value.index() || std::holds_alternative<std::monostate>(edge)) return 0;
    const double value = number(o.value), at_edge = number(edge);
    return o.bound == Bound::at_most ? value / at_edge : at_edge / value;
}

/// One outcome for each rule, place and part in a set: of two limits on the same part the worse speaks.
void keep_worse(std::vector<Outcome>& outcomes, std::size_t first, const Outcome& added) {
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        Outcome& there = outcomes[i];
        if (there.rule != added.rule || there.at != added.at || there.part != added.part) continue;
        // Volts that are lost and volts that are left are two limits of one rule: the first speaks.
        const bool comparable = added.bound == there.bound && added.value.index() == there.value.index();
        // Of two that are in order the one with a limit speaks.
        const bool ok = added.verdict == Verdict::ok && has_edge(added) != has_edge(there);
        const bool worse = added.verdict != there.verdict ? added.verdict > there.verdict
                           : ok                           ? has_edge(added)
                                                          : comparable && severity(added) > severity(there);
        if (worse) there = added;
        return;
    }
    outcomes.push_back(added);
}

/// Judge every limit at one set; returns the weakest element of that set.
Weakest judge_set(const Situation& s, const std::vector<Limit>& limits, Index set,
                  std::vector<Outcome>& outcomes) {
    Weakest weakest;
    const std::size_t first = outcomes.size();
    for (Index i = 0; i < limits.size(); ++i) {
        const Limit& limit = limits[i];
        const Evaluated evaluated = evaluate(s, limit, set_of(s.plan, set).loads);
        if (evaluated.loads.empty()) continue;  // nothing of this set is concerned
        keep_worse(outcomes, first, outcome_of(limit, i, set, evaluated));
        if (!rates_an_element(limit)) continue;
        const double share = number(evaluated.value) / number(limit.edge);
        if (weakest.limit == plan::nowhere || weaker(s, limit, share, limits[weakest.limit], weakest.share))
            weakest = {i, share};
    }
    // The caution of a contact is told once for a set, at its weakest contact.
    const Outcome* told = nullptr;
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        const Outcome& o = outcomes[i];
        if (o.verdict != Verdict::caution || !limits[o.limit].once_per_set) continue;
        if (!told || weaker(s, limits[o.limit], *o.share(), limits[told->limit], *told->share())) told = &o;
    }
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        Outcome& o = outcomes[i];
        if (o.verdict == Verdict::caution && limits[o.limit].once_per_set && &o != told)
            o.verdict = Verdict::ok;
    }
    return weakest;
}

}  // namespace

bool rates_an_element(const Limit& limit) {
    return limit.weakest && limit.at.kind == At::Kind::element && limit.bound == Bound::at_most &&
           std::holds_alternative<Current>(limit.edge) && registry()[limit.rule].harm == Harm::heat;
}

Verdict verdict_at(const Limit& limit, const Evaluated& evaluated) {
    const Verdict near = verdict_of(limit, evaluated.value);
    // Without one of its loads or cables a sum is too small: it can fail, but never be good.
    const bool incomplete = evaluated.unknown != plan::nowhere || evaluated.no_resistance != plan::nowhere;
    if (incomplete && near != Verdict::fail) return Verdict::cannot_judge;
    if (source_does_not_matter(limit, evaluated)) return verdict_without_doubt(limit, evaluated.value);
    if (std::holds_alternative<std::monostate>(evaluated.at_worst)) return near;
    return verdict_of(limit, evaluated.at_worst) == near ? near : Verdict::cannot_judge;
}

std::optional<double> Outcome::share() const {
    if (bound != Bound::at_most || !std::holds_alternative<Current>(value) ||
        !std::holds_alternative<Current>(edge))
        return std::nullopt;
    return number(value) / number(edge);
}

const plan::RunSet& set_of(const plan::Plan& plan, Index set) {
    return set == everything_set ? plan.everything : plan.sets[set];
}

namespace {

/// Limits and outcomes of the rules that are wanted, then the outcomes of each set.
template <class Wanted>
Judgement judge_sets(const Situation& situation, Wanted wanted) {
    Judgement judgement;
    const auto rules = registry();
    for (Index r = 0; r < rules.size(); ++r) {
        if (rules[r].families.find(situation.nec() ? "nec" : "iec") == std::string_view::npos) continue;
        if (!rules[r].look || !wanted(rules[r])) continue;
        Yield yield = rules[r].look(situation);
        for (Limit& limit : yield.limits) {
            limit.rule = r;
            judgement.limits.push_back(limit);
        }
        const std::size_t first = judgement.outcomes.size();
        for (Outcome& outcome : yield.outcomes) {
            outcome.rule = r;
            keep_worse(judgement.outcomes, first, outcome);
        }
    }
    for (Index set = 0; set < situation.plan.sets.size(); ++set)
        judgement.weakest.push_back(judge_set(situation, judgement.limits, set, judgement.outcomes));
    return judgement;
}

}  // namespace

std::vector<Outcome> judge_bench(const Situation& situation) {
    return judge_sets(situation, [](const Rule& rule) { return rule.harm != Harm::plan; }).outcomes;
}

Judgement judge(const Situation& situation) {
    const auto rules = registry();
    Judgement judgement = judge_sets(situation, [](const Rule&) { return true; });
    // Everything at once is information: its weakest element is told, its outcomes are not judged.
    std::vector<Outcome> information;
    judgement.weakest.push_back(judge_set(situation, judgement.limits, everything_set, information));

    accept(situation.plan, judgement.outcomes);
    for (Index r = 0; r < rules.size(); ++r) {
        if (!rules[r].review) continue;
        for (Outcome& outcome : rules[r].review(situation, judgement).outcomes) {
            outcome.rule = r;
            judgement.outcomes.push_back(outcome);
        }
    }
    for (const Outcome& outcome : judgement.outcomes) {
        if (outcome.accepted != plan::nowhere) continue;
        judgement.verdict = std::max(judgement.verdict, outcome.verdict);
        if (outcome.verdict == Verdict::cannot_judge && rules[outcome.rule].essential)
            judgement.essential_undecided = true;
    }
    std::stable_sort(judgement.outcomes.begin(), judgement.outcomes.end(),
                     [](const Outcome& a, const Outcome& b) { return a.verdict > b.verdict; });
    return judgement;
}

}  // namespace benchfeed::rules
