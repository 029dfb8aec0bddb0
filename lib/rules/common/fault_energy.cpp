// heat.fault-energy: what a device lets through in the highest short circuit, against what the core stands.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/quantity_text.hpp"
#include "network/ampacity.hpp"
#include "network/trip.hpp"
#include "rules/contact.hpp"
#include "rules/fault_words.hpp"
#include "rules/overload.hpp"
#include "rules/rules.hpp"
#include "rules/stops.hpp"

namespace benchfeed::rules {
namespace {

constexpr std::uint8_t by_time = 0, let_through = 1, current_unknown = 2;

using network::Guard;

/// The nearest device upstream that ends short circuits.
std::optional<Guard> guard_of(const Situation& s, Index element) {
    for (const Guard& guard : network::guards_above(s.plan, s.tables, element, network::Place::cable))
        if (!guard.known || guard.short_circuit) return guard;
    return std::nullopt;
}

Outcome judge_cable(const Situation& s, Index i, const Guard& guard) {
    const WeakestCore core = *weakest_core(s, i);
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::physics;
    const auto current = network::most_fault_current(s.plan, s.tables, s.network, i);
    if (!current) return undecided(o.at, Part::cable, current_unknown);
    // Without a published let-through the longest time for which the current can flow stands for it: more
    // energy than any device lets through, so an ok by it is one.
    const auto clearing = network::latest_clearing(s.plan, s.tables, guard, *current);
    o.edge = core.energy;
    if (!clearing) return undecided(o.at, Part::cable, let_through);
    o.value = JouleIntegral(*current * *current * clearing->latest);
    o.ground.grade = std::min(core.k.source.grade, clearing->source.grade);
    o.variant = by_time;
    if (number(o.value) > number(o.edge) * (1 + 1e-9)) {
        o.verdict = Verdict::cannot_judge;
        o.variant = let_through;
    } else if (!o.ground.carries_ok()) {
        o.verdict = Verdict::cannot_judge;
    }
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    std::set<std::pair<std::uint8_t, Index>> asked;  // one line for each device, or for the supply
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!fault_heat_is_judged(s, i)) continue;
        const auto guard = guard_of(s, i);
        if (!guard) continue;  // heat.cable-unprotected speaks
        const Outcome o = judge_cable(s, i, *guard);
        if (o.verdict == Verdict::cannot_judge) {
            const std::pair<std::uint8_t, Index> question{
                o.variant, o.variant == current_unknown ? s.plan.supply_index_of(i) : guard->element};
            if (!asked.insert(question).second) continue;
        }
        yield.outcomes.push_back(o);
    }
    return yield;
}

/// The worked comparison: highest current, the time for which it can flow, what the core stands.
Explanation explain_energy(const Situation& s, const Outcome& o, const Guard& guard) {
    const Index i = o.at.index;
    const WeakestCore core = *weakest_core(s, i);
    const Current current = *network::most_fault_current(s.plan, s.tables, s.network, i);
    const auto clearing = network::latest_clearing(s.plan, s.tables, guard, current);
    Explanation e;
    e.place = {cable_place(s.plan[i]), ""};
    e.sources.push_back(core.k.source);
    Working working;
    const Value highest = explain_most_current(working, s, i);
    const Value stood = explain_withstand(working, core);
    if (clearing) {
        e.sources.push_back(clearing->source);
        const Value energy = working.add("I^2 t", "I_k^2 * t", "{} ^ 2 * {}",
                                         {highest, working.written(to_text(clearing->latest, 6))}, "A2s",
                                         {network::cited(clearing->source)});
        working.compare(energy, number(o.value) > number(o.edge) * (1 + 1e-9) ? ">" : "<=", stood);
    }
    e.steps = working.finish();
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const Index i = o.at.index;
    const std::string cable = words(s, o.at, Part::cable);
    const plan::Element& supply = s.plan[s.plan.supply_index_of(i)];
    if (o.variant == current_unknown)
        return ask_for_rating(s, o, place_of(supply.as<plan::Supply>()->fault_current, supply),
                              supply.path() + ".fault_current",
                              "What is the highest fault current at the panel?",
                              "an electrician's tester, or the network operator");
    const Guard guard = *guard_of(s, i);
    const std::string device = words(s, at_element(guard.element), part_of(guard));
    Explanation e = explain_energy(s, o, guard);
    const Current current = *network::most_fault_current(s.plan, s.tables, s.network, i);
    if (o.variant == let_through) {
        const bool known = !std::holds_alternative<std::monostate>(o.edge);
        e.headline = fmt::format("What {} lets through at {} is not known; {}the weakest core of {} stands{}",
                                 device, to_text(current), known ? "" : "nor what ", cable,
                                 known ? " " + to_text(o.edge) : "");
        e.short_words = "the let-through of " + device + " has to be looked up";
        e.consequence = "It usually lets far less through than this bound; only the maker's curve can tell.";
        e.questions.push_back({"",
                               "How many A2s does " + device + " let through at " + to_text(current) + "?",
                               "the maker's let-through curve; an electrician knows where"});
        if (auto fuse = control_fuse(s, i)) e.remedies.push_back(*std::move(fuse));
        return e;
    }
    if (o.verdict == Verdict::cannot_judge)
        return rests_on_memory_words(s, o, cable_place(s.plan[i]), e.sources);
    e.headline = fmt::format("A short circuit where {} starts ({}) is over before its core is too hot", cable,
                             to_text(current));
    return e;
}

}  // namespace

const Rule fault_energy{.id = "heat.fault-energy",
                        .title = "a device lets more through than the cable stands",
                        .harm = Harm::heat,
                        .essential = false,
                        .families = "iec",
                        .since = "0.1.0",
                        .sections = {Depends::way},
                        .look = look,
                        .explain = explain};

}  // namespace benchfeed::rules
