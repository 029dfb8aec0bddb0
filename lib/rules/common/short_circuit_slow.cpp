// heat.short-circuit-slow: a short circuit at the far end of a cable is switched off later than the cable
// stands.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/quantity_text.hpp"
#include "network/adiabatic.hpp"
#include "network/ampacity.hpp"
#include "network/trip.hpp"
#include "rules/contact.hpp"
#include "rules/fault_words.hpp"
#include "rules/overload.hpp"
#include "rules/rules.hpp"
#include "rules/stops.hpp"

namespace benchfeed::rules {
namespace {

constexpr std::uint8_t timed = 0, loop_unknown = 1, no_points = 2, overload_only = 3;

using network::Extreme;
using network::Guard;
using network::Return;

/// It ends a short circuit, as far as anybody knows.
bool may_end_it(const Guard& guard) {
    return !guard.known || guard.short_circuit;
}

/// The device that opens soonest at a current, of those upstream that end short circuits. Pre: there is one.
struct Soonest {
    std::optional<network::Clearing> clearing;
    Guard guard;
    bool undecided = false;  ///< a device without published points might be quicker
};

Soonest soonest(const Situation& s, Index element, Current current) {
    Soonest best;
    for (const Guard& guard : network::guards_above(s.plan, s.tables, element, network::Place::cable)) {
        if (!may_end_it(guard)) continue;
        const auto clearing = network::latest_clearing(s.plan, s.tables, guard, current);
        if (!clearing) {
            best.undecided = true;
            if (!best.clearing) best.guard = guard;
            continue;
        }
        if (best.clearing && best.clearing->latest <= clearing->latest) continue;
        best.clearing = clearing;
        best.guard = guard;
    }
    return best;
}

/// Devices that end no short circuit: those for overload ask for one that does; where nothing ends overload
/// either, heat.cable-unprotected speaks.
std::optional<Outcome> ask_for_device(Index i, const std::vector<Guard>& guards) {
    if (std::none_of(guards.begin(), guards.end(), [](const Guard& g) { return g.overload; }))
        return std::nullopt;
    return undecided(at_element(i), Part::cable, overload_only);
}

/// The time for which the law holds: beyond it a core cools while it heats.
std::optional<tables::Figure<Duration>> law_holds(const Situation& s) {
    const tables::Table* table = s.tables.table("iec-43a");
    return table ? table->duration("longest_time") : std::nullopt;
}

/// (k S)^2 / I^2, and never more than the time for which the law holds.
Duration longest_allowed(const Situation& s, const WeakestCore& core, Current current) {
    const Duration by_heat = network::longest_time(core.energy, current);
    const auto most = law_holds(s);
    return most ? std::min(by_heat, most->value) : by_heat;
}

Outcome judge_cable(const Situation& s, Index i, const WeakestCore& core) {
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::physics;
    const auto current = network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
    if (!current) return undecided(o.at, Part::cable, loop_unknown);
    const Soonest best = soonest(s, i, *current);
    if (!best.clearing) return undecided(o.at, Part::cable, no_points);
    o.value = best.clearing->latest;
    o.edge = longest_allowed(s, core, *current);
    o.ground.grade = std::min(core.k.source.grade, best.clearing->source.grade);
    o.variant = timed;
    if (in(unit::second, best.clearing->latest) <= number(o.edge) * (1 + 1e-9)) {
        if (!o.ground.carries_ok()) o.verdict = Verdict::cannot_judge;
        return o;
    }
    if (best.undecided) return undecided(o.at, Part::cable, no_points);
    const auto loop = network::fault_loop(s.plan, s.tables, s.network, i, Return::neutral, Extreme::least);
    if (loop.uncertain != plan::nowhere) return undecided(o.at, Part::cable, loop_unknown);
    o.verdict = Verdict::fail;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    std::set<std::pair<std::uint8_t, Index>> asked;  // a question once for each device or supply
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!fault_heat_is_judged(s, i)) continue;
        const auto guards = network::guards_above(s.plan, s.tables, i, network::Place::cable);
        const bool ended = std::any_of(guards.begin(), guards.end(), may_end_it);
        const auto o = ended ? judge_cable(s, i, *weakest_core(s, i)) : ask_for_device(i, guards);
        if (!o) continue;
        if (o->verdict == Verdict::cannot_judge) {
            const bool of_device = o->variant == no_points || o->variant == overload_only;
            const std::pair<std::uint8_t, Index> question{
                o->variant, of_device ? guards.front().element : s.plan.supply_index_of(i)};
            if (!asked.insert(question).second) continue;
        }
        yield.outcomes.push_back(*o);
    }
    return yield;
}

/// The nearest device ends overload and leaves short circuits to another, which the plan does not name.
Explanation explain_overload_only(const Situation& s, const Outcome& o, const std::string& cable) {
    const auto guards = network::guards_above(s.plan, s.tables, o.at.index, network::Place::cable);
    const auto guard = std::find_if(guards.begin(), guards.end(), [](const Guard& g) { return g.overload; });
    const std::string device = words(s, at_element(guard->element), part_of(*guard));
    Explanation e =
        ask_for_rating(s, o, s.plan[guard->element].header, "",
                       fmt::format("Which device before {} ends a short circuit in {}?", device, cable),
                       "the panel, or the papers of what it is built into; then name it in the plan");
    e.headline = fmt::format("{} is made for overload alone: nothing in the plan ends a short circuit in {}",
                             capital(device), cable);
    e.short_words = "nothing in the plan ends a short circuit in " + cable;
    e.consequence = "A device for overload alone may weld or burst in a short circuit.";
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const std::string cable = words(s, o.at, Part::cable);
    if (o.variant == overload_only) return explain_overload_only(s, o, cable);
    if (o.variant == loop_unknown) return ask_for_loop(s, o, i, Return::neutral);
    if (o.variant == no_points) {
        const auto current = network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
        const Soonest best = soonest(s, i, *current);
        const std::string device = words(s, at_element(best.guard.element), part_of(best.guard));
        return ask_for_rating(s, o, s.plan[best.guard.element].header, "",
                              fmt::format("When does {} open at {}, the least short circuit in {}?", device,
                                          to_text(*current), cable),
                              "the maker's time-current curve");
    }
    const WeakestCore core = *weakest_core(s, i);
    if (o.verdict == Verdict::cannot_judge)
        return rests_on_memory_words(s, o, cable_place(element), {core.k.source});
    const Current current = *network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
    const Soonest best = soonest(s, i, current);
    const std::string device = words(s, at_element(best.guard.element), part_of(best.guard));
    Explanation e;
    e.place = {cable_place(element), ""};
    e.sources = {core.k.source, best.clearing->source};
    Working working;
    const Value z = explain_fault_loop(working, s, i, Return::neutral, Extreme::least);
    const auto cmin = s.tables.table("iec-411-4-4")->ratio("cmin");
    const Value least = working.add("I_k", "Cmin * U0 / Z_LN", "{} * {} / {}",
                                    {working.written(tables::written_number(*cmin)),
                                     working.written(to_text(network::line_to_neutral(s.plan, i), 6)), z},
                                    "A", {network::cited(cmin->source)});
    const Value energy = explain_withstand(working, core);
    Value allowed = working.add("t", "k^2 S^2 / I_k^2", "{} / {} ^ 2", {energy, least}, "s");
    if (const auto most = law_holds(s); most && number(o.edge) >= in(unit::second, most->value)) {
        working.note("The law holds up to " + std::string(most->written) + ": no longer is allowed.");
        allowed = working.written(most->written);
    }
    working.compare(working.written(to_text(best.clearing->latest, 6)),
                    o.verdict == Verdict::fail ? ">" : "<=", allowed,
                    {network::cited(best.clearing->source)});
    e.steps = working.finish();
    e.headline =
        fmt::format("A short circuit at the end of {} is only {}: {} takes up to {}, the core stands {}",
                    cable, to_text(current), device, to_text(o.value), to_text(o.edge));
    if (o.verdict == Verdict::ok) {
        e.headline = fmt::format("A short circuit at the end of {} is {}: {} ends it in time", cable,
                                 to_text(current), device);
        return e;
    }
    e.short_words = cable + " gets too hot in a short circuit before anything trips";
    e.consequence = "The insulation melts before the device opens.";
    e.remedies = {shorter_cable(s, o.at.index, "a shorter cable"),
                  larger_section(s, o.at.index, "one of larger section that its plug takes"),
                  {Cost::moderate, "a device of lower rating on the bench, before this cable"}};
    if (auto fuse = control_fuse(s, i)) e.remedies = {*std::move(fuse)};
    return e;
}

}  // namespace

const Rule short_circuit_slow{.id = "heat.short-circuit-slow",
                              .title = "a short circuit is switched off later than the cable stands",
                              .harm = Harm::heat,
                              .essential = false,
                              .families = "iec",
                              .since = "0.1.0",
                              .sections = {Depends::way},
                              .look = look,
                              .explain = explain};

}  // namespace benchfeed::rules
