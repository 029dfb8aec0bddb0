#include <benchfeed/rules/ends.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <benchfeed/rules/judge_parts.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Fact;
using plan::Facts;

plan::Facts open_facts(const Situation& s) {
    Facts facts = plan::open_words(s.plan);
    if (!s.nec()) facts = facts.without(Facts::only(Fact::snap));  // no other code knows such switches
    const auto& loads = s.network.loads;
    if (std::any_of(loads.begin(), loads.end(), [](const network::LoadPoint& load) { return load.ranged; }))
        facts.add(Facts::only(Fact::amps));
    return facts;
}

namespace {

std::optional<plan::Plan> words_at_best(const plan::Plan& plan, Facts facts) {
    const Facts words = facts.without(Facts::only(Fact::amps));
    return words.none() ? std::nullopt : std::optional(plan::at_best(plan, words));
}

network::PlateEnd plates_at_best(Facts facts) {
    return facts.has(Fact::amps) ? network::PlateEnd::least : network::PlateEnd::most;
}

}  // namespace

BestEnd::BestEnd(const Situation& worst, Facts facts)
    : plan_(words_at_best(worst.plan, facts)),
      network_(network::build(plan_ ? *plan_ : worst.plan, worst.tables, plates_at_best(facts))),
      situation_{plan_ ? *plan_ : worst.plan, network_, worst.tables} {}

std::unique_ptr<const BestEnd> best_end(const Situation& worst) {
    const Facts facts = open_facts(worst);
    return facts.none() ? nullptr : std::make_unique<const BestEnd>(worst, facts);
}

Verdict held(Verdict at_worst, Verdict at_best) {
    if (at_worst == at_best) return at_worst;
    return std::max(at_worst, at_best) == Verdict::caution ? Verdict::caution : Verdict::cannot_judge;
}

bool is_grave_question(const Outcome& o) {
    if (o.verdict != Verdict::cannot_judge) return false;
    const Rule& rule = registry()[o.rule];
    const bool hurts = rule.harm == Harm::heat || rule.harm == Harm::shock || rule.harm == Harm::restart;
    const bool may_fail = o.open && std::max(o.open->at_worst, o.open->at_best) == Verdict::fail;
    return rule.essential || (hurts && may_fail);
}

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

void hold_at_both_ends(const Situation& s, std::vector<Outcome>& outcomes) {
    // The outcomes of the best end are gone before what decides is tried.
    const auto open = hold_at_both(outcomes, judge_sets(*s.best, [](const Rule&) { return true; }).outcomes);
    if (!open.empty()) find_what_decides(s, outcomes, open);
}

}  // namespace benchfeed::rules
