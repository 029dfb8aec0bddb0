// heat.fault-energy: what a device lets through in the highest short circuit, against what the core stands.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::fault_energy {
namespace {

constexpr std::uint8_t let_through = 1, current_unknown = 2, by_cord = 3;

using network::Guard;

/// The nearest device upstream that ends short circuits.
std::optional<Guard> guard_of(const Situation& s, Index element) {
    for (const Guard& guard : network::guards_above(s.plan, s.tables, element, network::Place::cable))
        if (!guard.known || guard.short_circuit) return guard;
    return std::nullopt;
}

/// The largest fuse that the table of cords allows before a core, or before the next thinner one it prints.
std::optional<tables::Figure<Current>> largest_plug_fuse(const Situation& s, Index i) {
    const tables::Table* cords = s.tables.table("bs-1363-cord");
    const plan::Stock& stock = s.plan.stocks[s.plan[i].cable->stock_index];
    if (!cords || !stock.section.known() || !is_cord(s, stock)) return std::nullopt;
    const auto row = cords->row_below(*stock.section);
    return row ? cords->current(*row, "max_fuse") : std::nullopt;
}

/// What a plug fuse breaks: beyond it nothing is known of it.
std::optional<tables::Figure<Current>> fuse_breaks(const Situation& s) {
    const tables::Table* fuses = s.tables.table("bs-1362");
    return fuses ? fuses->current("breaking") : std::nullopt;
}

/// A plug fuse protects every cord of its table down to the next device, up to what the fuse breaks.
bool holds_by_cord(const Situation& s, Index i, const Guard& guard, Current current) {
    if (!guard.plug_fuse || !guard.rating) return false;
    const auto largest = largest_plug_fuse(s, i);
    const auto breaks = fuse_breaks(s);
    return largest && breaks && !above(*guard.rating, largest->value) && !above(current, breaks->value);
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
    if (clearing) {
        o.value = JouleIntegral(*current * *current * clearing->latest);
        o.ground.grade = std::min(core.k.source.grade, clearing->source.grade);
        if (!above(number(o.value), number(o.edge)) && o.ground.carries_ok()) return o;
    }
    if (holds_by_cord(s, i, guard, *current)) {
        o.basis = Basis::standard;
        o.value = *guard.rating;
        o.edge = largest_plug_fuse(s, i)->value;
        o.ground.grade = largest_plug_fuse(s, i)->source.grade;
        o.variant = by_cord;
        o.verdict = o.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge;
        return o;
    }
    o.verdict = Verdict::cannot_judge;
    if (!clearing || above(number(o.value), number(o.edge))) o.variant = let_through;
    return o;
}

/// One question for each device, and one for each supply.
Index fold_for(const Situation& s, Index i, const Guard& guard, const Outcome& o) {
    if (o.verdict != Verdict::cannot_judge) return plan::nowhere;
    return fold_of(o.variant, o.variant == current_unknown ? s.plan.supply_index_of(i) : guard.element);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!fault_heat_is_judged(s, i)) continue;
        const auto guard = guard_of(s, i);
        if (!guard) continue;  // heat.cable-unprotected speaks
        Outcome o = judge_cable(s, i, *guard);
        o.fold = fold_for(s, i, *guard, o);
        yield.outcomes.push_back(o);
    }
    return yield;
}

/// The row of the cord table, and what the fuse breaks.
Explanation explain_cord(const Situation& s, const Outcome& o, const Guard& guard) {
    const Index i = o.at.index;
    const auto largest = *largest_plug_fuse(s, i);
    const auto breaks = *fuse_breaks(s);
    Explanation e;
    e.place = {cable_place(s.plan[i]), ""};
    e.sources = {largest.source, breaks.source};
    Working working;
    working.compare(explain_most_current(working, s, i), "<=", working.written(breaks.written),
                    {network::cited(breaks.source)});
    working.compare(working.written(to_text(*guard.rating, 6)), "<=", working.written(largest.written),
                    {network::cited(largest.source)});
    e.steps = working.finish();
    e.headline =
        fmt::format("{} is one that {} protects in a short circuit", capital(words(s, o.at, Part::cable)),
                    words(s, at_element(guard.element), part_of(guard)));
    return e;
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
    if (o.variant == current_unknown) {
        const bool own = is_own_source(s, i);
        return ask_for_rating(
            s, o, place_of(supply.as<plan::Supply>()->fault_current, supply),
            supply.path() + ".fault_current",
            own ? "What is the highest current that " + source_place(s, i) + " feeds into a short circuit?"
                : "What is the highest fault current at the panel?",
            own ? "the maker's figure for its short-circuit current; its manual names the "
                  "largest breaker and cord for its outlets"
                : "an electrician's tester, or the network operator");
    }
    const Guard guard = *guard_of(s, i);
    if (o.variant == by_cord && o.verdict == Verdict::ok) return explain_cord(s, o, guard);
    const std::string device = words(s, at_element(guard.element), part_of(guard));
    Explanation e = explain_energy(s, o, guard);
    const Current current = *network::most_fault_current(s.plan, s.tables, s.network, i);
    if (o.variant == let_through) {
        const bool known = !std::holds_alternative<std::monostate>(o.edge);
        e.headline = fmt::format(
            "What {} lets through at {} is not known; {}the weakest core of {} withstands{}", device,
            to_text(current), known ? "" : "nor what ", cable, known ? " " + to_text(o.edge) : "");
        e.short_words = "the let-through of " + device + " has to be looked up";
        e.consequence =
            "It usually lets far less through than this bound; only the maker's curve says how much.";
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

const Rule rule{.id = "heat.fault-energy",
                .title = "a device lets more through than the cable withstands",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec",
                .since = "0.1.0",
                .sections = {Depends::way},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::fault_energy
