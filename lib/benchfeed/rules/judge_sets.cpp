// Verdicts of limits, and of every limit for every set.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <string>
#include <tuple>
#include <unordered_map>

#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/judge_parts.hpp>
#include <benchfeed/rules/limits_at.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/set_sums.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

bool beyond(const Measure& value, const Measure& edge, Bound bound) {
    if (std::holds_alternative<std::monostate>(edge)) return false;
    const double v = number(value), e = number(edge);
    return bound == Bound::at_most ? !(v <= e * (1 + rounding))
                                   : !(v >= e * (1 - rounding));  // a NaN is beyond
}

Verdict verdict_without_doubt(const Limit& limit, const Measure& value) {
    if (beyond(value, limit.edge, limit.bound)) return Verdict::fail;
    // Short of an edge that is from memory nobody knows whether it is a fail: no caution, which would say
    // that it is none.
    const bool known_edge =
        std::holds_alternative<std::monostate>(limit.edge) || limit.ground.grade != tables::Grade::memory;
    if (known_edge && beyond(value, limit.caution, limit.bound)) return Verdict::caution;
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

/// How far an element is from its supply.
Index depth_of(const Situation& s, Index element) {
    Index depth = 0;
    for (Index up = s.plan[element].parent; up != plan::nowhere; up = s.plan[up].parent) ++depth;
    return depth;
}

/// Something at a limit, and the share of it that is carried.
struct Carried {
    const Limit* limit = nullptr;
    double share = 0;
    std::size_t place = 0;  ///< where the caller keeps it
};

/// What stands for a set: the greatest share; within 0.1 % of it by tie_rank(), then nearest the supply, then
/// the first by name. So the order of a file does not choose. Pre: not empty.
const Carried& weakest_of(const Situation& s, const std::vector<Carried>& all) {
    double most = all.front().share;
    for (const Carried& one : all) most = std::max(most, one.share);
    const auto order = [&](const Carried& one) {
        return std::tuple(tie_rank(s, *one.limit), depth_of(s, one.limit->at.index),
                          path_of(s.plan, one.limit->at), one.limit->part);
    };
    const Carried* weakest = nullptr;
    for (const Carried& one : all) {
        if (most - one.share > 1e-3 * std::abs(most)) continue;
        if (!weakest || order(one) < order(*weakest)) weakest = &one;
    }
    return weakest ? *weakest : all.front();  // a share that is no number
}

bool has_edge(const Outcome& o) {
    return !std::holds_alternative<std::monostate>(o.edge);
}

/// One outcome for each rule, place and part in a set: of two limits on the same part the worse speaks.
class WorstOfEach {
public:
    explicit WorstOfEach(std::vector<Outcome>& outcomes) : outcomes_(outcomes) {}

    void add(const Outcome& added) {
        const auto [place, fresh] = places_.try_emplace(place_key(added), outcomes_.size());
        if (fresh) return outcomes_.push_back(added);
        Outcome& there = outcomes_[place->second];
        // Volts that are lost and volts that are left are two limits of one rule: the first speaks.
        const bool comparable = added.bound == there.bound && added.value.index() == there.value.index();
        // Of two that are in order the one with a limit speaks.
        const bool ok = added.verdict == Verdict::ok && has_edge(added) != has_edge(there);
        const bool worse = added.verdict != there.verdict ? added.verdict > there.verdict
                           : ok                           ? has_edge(added)
                                                          : comparable && severity(added) > severity(there);
        if (worse) there = added;
    }

private:
    std::vector<Outcome>& outcomes_;
    std::unordered_map<std::uint64_t, std::size_t> places_;
};

/// The caution of a contact is told once for a set, at its weakest contact.
void tell_once(const Situation& s, const std::vector<Limit>& limits, std::span<Outcome> of_the_set) {
    std::vector<Carried> cautions;
    for (std::size_t i = 0; i < of_the_set.size(); ++i) {
        const Outcome& o = of_the_set[i];
        if (o.verdict == Verdict::caution && limits[o.limit].once_per_set)
            cautions.push_back({&limits[o.limit], *o.share(), i});
    }
    if (cautions.empty()) return;
    const std::size_t told = weakest_of(s, cautions).place;
    for (const Carried& one : cautions) {
        Outcome& o = of_the_set[one.place];
        if (one.place != told) o.verdict = o.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge;
    }
}

/// A figure of habit stands for a set only where nothing else is there.
void by_mark_first(std::vector<Carried>& rated) {
    const auto habit = [](const Carried& one) { return is_of_habit(*one.limit); };
    if (!std::all_of(rated.begin(), rated.end(), habit)) std::erase_if(rated, habit);
}

/// Judge every limit at one set; returns the weakest element of that set.
Weakest judge_set(const Situation& s, const std::vector<Limit>& limits, const LimitsAt& limits_at, Index set,
                  std::vector<Outcome>& outcomes) {
    std::vector<Carried> rated;
    const std::size_t first = outcomes.size();
    WorstOfEach kept(outcomes);
    const std::vector<Index>& loads = set_of(s.plan, set).loads;
    LoadsBelow below(s.network, loads);
    const SetSums sums(s, loads);
    for (const Index i : limits_at.on_the_way_to(loads)) {
        const Limit& limit = limits[i];
        // Everything at once is information: only its weakest element is told.
        if (set == everything_set && !rates_an_element(limit)) continue;
        const auto counting = below.that_count_for(limit);
        const Evaluated evaluated =
            counting.size() == loads.size() ? sums.evaluated(limit) : evaluate(s, limit, counting);
        if (evaluated.loads.empty()) continue;  // nothing of this set is concerned
        kept.add(outcome_of(limit, i, set, evaluated));
        if (rates_an_element(limit))
            rated.push_back({&limit, number(evaluated.value) / number(limit.edge), i});
    }
    tell_once(s, limits, std::span(outcomes).subspan(first));
    if (rated.empty()) return {};
    by_mark_first(rated);
    const Carried& weakest = weakest_of(s, rated);
    return {static_cast<Index>(weakest.place), weakest.share};
}

}  // namespace

bool rates_an_element(const Limit& limit) {
    return limit.weakest && limit.at.kind == At::Kind::element && limit.bound == Bound::at_most &&
           std::holds_alternative<Current>(limit.edge) && registry()[limit.rule].harm == Harm::heat;
}

bool is_of_habit(const Limit& limit) {
    return limit.basis == Basis::practice;
}

Verdict verdict_at(const Limit& limit, const Evaluated& evaluated) {
    const Verdict near = verdict_of(limit, evaluated.value);
    // Without one of its loads or cables a sum is too small: it can fail, but never be good.
    const bool incomplete = evaluated.unknown != plan::nowhere || evaluated.no_resistance != plan::nowhere;
    if (incomplete && near != Verdict::fail) return Verdict::cannot_judge;
    if (source_does_not_matter(limit, evaluated)) return verdict_without_doubt(limit, evaluated.value);
    if (std::holds_alternative<std::monostate>(evaluated.at_worst)) return near;
    return held(verdict_of(limit, evaluated.at_worst), near);
}

bool depends_on_a_run(const Outcome& o, const Evaluated& evaluated) {
    if (std::holds_alternative<std::monostate>(evaluated.at_worst)) return false;
    return o.verdict == Verdict::cannot_judge ||
           (o.verdict == Verdict::caution &&
            beyond(o.value, o.caution, o.bound) != beyond(evaluated.at_worst, o.caution, o.bound));
}

void Yield::cannot_judge(At at, Part part, tables::Missing row) {
    Outcome outcome;
    outcome.at = at;
    outcome.part = part;
    outcome.verdict = Verdict::cannot_judge;
    outcome.missing = static_cast<Index>(missing.size());
    missing.push_back(std::move(row));
    outcomes.push_back(outcome);
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

void take(Judgement& judgement, Index rule, Yield& yield, std::vector<Outcome>& outcomes) {
    const auto before = static_cast<Index>(judgement.missing.size());
    std::move(yield.missing.begin(), yield.missing.end(), std::back_inserter(judgement.missing));
    for (Outcome& outcome : yield.outcomes) {
        outcome.rule = rule;
        if (outcome.missing != plan::nowhere) outcome.missing += before;
        outcomes.push_back(outcome);
    }
}

Judgement judge_sets(const Situation& situation, const Wanted& wanted) {
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
        std::vector<Outcome> outcomes;
        take(judgement, r, yield, outcomes);
        WorstOfEach kept(judgement.outcomes);
        for (const Outcome& outcome : outcomes) kept.add(outcome);
    }
    const LimitsAt limits_at(situation.plan, judgement.limits);
    judgement.outcomes.reserve(judgement.outcomes.size() + judgement.limits.size());  // most stand in one set
    for (Index set = 0; set < situation.plan.sets.size(); ++set)
        judgement.weakest.push_back(
            judge_set(situation, judgement.limits, limits_at, set, judgement.outcomes));
    return judgement;
}

Weakest weakest_of_everything(const Situation& s, const std::vector<Limit>& limits) {
    std::vector<Outcome> information;
    return judge_set(s, limits, LimitsAt(s.plan, limits), everything_set, information);
}

}  // namespace benchfeed::rules
