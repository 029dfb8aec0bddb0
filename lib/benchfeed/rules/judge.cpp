// Verdicts of every limit for every set, and the order in which they are told.
#include <benchfeed/rules/judge.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numeric>
#include <string>
#include <tuple>
#include <unordered_map>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/set_sums.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

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

/// The limits at each element. What runs reaches no other limits than those on the way to it, so that a plan
/// of many benches does not evaluate each of its limits for each of its sets.
class LimitsAt {
public:
    LimitsAt(const plan::Plan& plan, const std::vector<Limit>& limits)
        : plan_(plan), begin_(plan.elements.size() + 1), limits_(limits.size()) {
        for (const Limit& limit : limits) ++begin_[limit.reach.element + 1];
        std::partial_sum(begin_.begin(), begin_.end(), begin_.begin());
        std::vector<Index> next(begin_.begin(), begin_.end() - 1);
        for (Index i = 0; i < limits.size(); ++i) limits_[next[limits[i].reach.element]++] = i;
    }

    /// Rising.
    [[nodiscard]] std::vector<Index> on_the_way_to(std::span<const Index> loads) const {
        std::vector<Index> found;
        std::vector<bool> seen(plan_.elements.size());
        for (const Index load : loads)
            for (Index up = load; up != plan::nowhere && !seen[up]; up = plan_[up].parent) {
                seen[up] = true;
                found.insert(found.end(), limits_.begin() + begin_[up], limits_.begin() + begin_[up + 1]);
            }
        std::sort(found.begin(), found.end());
        return found;
    }

private:
    const plan::Plan& plan_;
    std::vector<Index> begin_, limits_;
};

/// The loads of a set, by the element behind which they hang.
class LoadsBelow {
public:
    LoadsBelow(const network::Network& network, std::span<const Index> loads)
        : network_(network), all_(loads), by_enter_(loads.begin(), loads.end()) {
        std::sort(by_enter_.begin(), by_enter_.end(), [&](Index a, Index b) { return enter(a) < enter(b); });
    }

    /// Loads on which the value of a limit depends, rising: those behind its element where nothing else
    /// counts. Sets of usual size are given whole. Valid until the next call.
    [[nodiscard]] std::span<const Index> that_count_for(const Limit& limit) {
        using Kind = Reach::Kind;
        const Kind kind = limit.reach.kind;
        const bool only_below = kind == Kind::through || kind == Kind::largest_way || kind == Kind::neutral;
        if (!only_below || all_.size() < 64) return all_;
        const Index element = limit.reach.element;
        auto at = std::lower_bound(by_enter_.begin(), by_enter_.end(), enter(element),
                                   [&](Index load, Index wanted) { return enter(load) < wanted; });
        found_.clear();
        for (; at != by_enter_.end() && network_.hangs_below(*at, element); ++at) found_.push_back(*at);
        std::sort(found_.begin(), found_.end());
        return found_;
    }

private:
    [[nodiscard]] Index enter(Index element) const { return network_.enter[element]; }
    const network::Network& network_;
    std::span<const Index> all_;
    std::vector<Index> by_enter_, found_;
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

namespace {

/// The outcomes of a rule, with what they lack.
void take(Judgement& judgement, Index rule, Yield& yield, std::vector<Outcome>& outcomes) {
    const auto before = static_cast<Index>(judgement.missing.size());
    std::move(yield.missing.begin(), yield.missing.end(), std::back_inserter(judgement.missing));
    for (Outcome& outcome : yield.outcomes) {
        outcome.rule = rule;
        if (outcome.missing != plan::nowhere) outcome.missing += before;
        outcomes.push_back(outcome);
    }
}

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
        std::vector<Outcome> outcomes;
        take(judgement, r, yield, outcomes);
        WorstOfEach kept(judgement.outcomes);
        for (const Outcome& outcome : outcomes) kept.add(outcome);
    }
    const LimitsAt limits_at(situation.plan, judgement.limits);
    for (Index set = 0; set < situation.plan.sets.size(); ++set)
        judgement.weakest.push_back(
            judge_set(situation, judgement.limits, limits_at, set, judgement.outcomes));
    return judgement;
}

}  // namespace

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

namespace {

/// The outcomes at the best end by rule, place, part and set.
class ByPlace {
public:
    explicit ByPlace(const std::vector<Outcome>& outcomes) {
        for (const Outcome& o : outcomes) places_.emplace(key(o), &o);
    }
    [[nodiscard]] const Outcome* at(const Outcome& o) const {
        const auto it = places_.find(key(o));
        return it == places_.end() ? nullptr : it->second;
    }

private:
    using Key = std::pair<std::uint64_t, Index>;
    [[nodiscard]] static Key key(const Outcome& o) { return {place_key(o), o.set}; }
    std::map<Key, const Outcome*> places_;
};

/// What a rule says nothing of is in order.
Verdict verdict_or_ok(const Outcome* o) {
    return o ? o->verdict : Verdict::ok;
}

bool same_value(const Measure& a, const Measure& b) {
    return a.index() == b.index() && std::abs(number(a) - number(b)) <= rounding * std::abs(number(a));
}

/// Each outcome as both ends give it. Of each that they do not share the positions are returned.
std::vector<std::size_t> hold_at_both(std::vector<Outcome>& outcomes, const std::vector<Outcome>& best) {
    std::vector<std::size_t> open;
    const ByPlace places(best);
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        Outcome& o = outcomes[i];
        if (registry()[o.rule].harm == Harm::plan) continue;  // words of the plan are as they are
        const Outcome* there = places.at(o);
        const Verdict at_best = verdict_or_ok(there);
        if (there && there->value.index() == o.value.index() && number(o.value) == number(o.value) &&
            !same_value(o.value, there->value))
            o.least = there->value;
        if (at_best == o.verdict) continue;
        o.open = Open{o.verdict, at_best, {}};
        o.verdict = held(o.verdict, at_best);
        open.push_back(i);
    }
    return open;
}

/// Kinds of fact on which open outcomes depend, found by trying: a kind decides where it alone at its best
/// changes the worst end; of an outcome that no kind changes alone those that alone at their worst change the
/// best end. Only rules with such outcomes are asked.
void find_what_decides(const Situation& s, std::vector<Outcome>& outcomes, std::vector<std::size_t> open) {
    const plan::Facts facts = open_facts(s);
    const auto try_end = [&](plan::Facts at_best, plan::Facts found, Verdict Open::*otherwise) {
        std::vector<bool> concerned(registry().size());
        for (const std::size_t i : open) concerned[outcomes[i].rule] = true;
        const BestEnd end(s, at_best);
        const auto tried = judge_sets(end.situation(), [&](const Rule& rule) {
                               return concerned[static_cast<std::size_t>(&rule - registry().data())];
                           }).outcomes;
        const ByPlace places(tried);
        for (const std::size_t i : open) {
            Open& here = *outcomes[i].open;
            if (verdict_or_ok(places.at(outcomes[i])) != here.*otherwise) here.decides.add(found);
        }
    };
    std::vector<plan::Facts> kinds;
    for (const plan::Fact fact : plan::all_facts)
        if (facts.has(fact)) kinds.push_back(plan::Facts::only(fact));
    if (kinds.size() == 1) {
        for (const std::size_t i : open) outcomes[i].open->decides = kinds.front();
        return;
    }
    for (const plan::Facts kind : kinds) try_end(kind, kind, &Open::at_worst);
    std::erase_if(open, [&](std::size_t i) { return !outcomes[i].open->decides.none(); });
    if (open.empty()) return;
    for (const plan::Facts kind : kinds) try_end(facts.without(kind), kind, &Open::at_best);
}

}  // namespace

std::vector<Outcome> judge_places(const Situation& situation) {
    return judge_sets(situation, [](const Rule& rule) { return rule.harm != Harm::plan; }).outcomes;
}

Judgement judge(const Situation& situation) {
    const auto rules = registry();
    Judgement judgement = judge_sets(situation, [](const Rule&) { return true; });
    if (situation.best) {
        const auto best = judge_sets(*situation.best, [](const Rule&) { return true; }).outcomes;
        const auto open = hold_at_both(judgement.outcomes, best);
        if (!open.empty()) find_what_decides(situation, judgement.outcomes, open);
    }
    std::vector<Outcome> information;
    judgement.weakest.push_back(judge_set(situation, judgement.limits,
                                          LimitsAt(situation.plan, judgement.limits), everything_set,
                                          information));

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
