// heat.short-circuit-slow: a short circuit at the far end of a cable is switched off later than the cable
// stands.
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/iec_411_4_4.hpp>
#include <benchfeed/figures/iec_43a.hpp>
#include <benchfeed/network/adiabatic.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules::short_circuit_slow {
namespace {

constexpr std::uint8_t timed = 0, loop_unknown = 1, no_points = 2, at_edge = 3, other_source = 4,
                       overload_only = 5;

using network::Clearing;
using network::Extreme;
using network::Guard;
using network::Return;

/// It ends a short circuit, as far as anybody knows.
bool may_end_it(const Guard& guard) {
    return !guard.known || guard.short_circuit;
}

/// The time for which the law holds: beyond it a core cools while it heats.
tables::Figure<Duration> law_holds(const Situation& s) {
    return figures::iec_43a::longest_time(s.tables);
}

/// The device that ends a current best, of those upstream that end short circuits.
struct Best {
    std::optional<Clearing> clearing;
    Guard guard;
    bool by_energy = false;  ///< the current is beyond a point that opens in time: its energy counts
    bool undecided = false;  ///< a device without published points might be quicker
};

/// A point that opens in time goes before one that does not; of the former the least energy, of the latter
/// the shortest time.
bool better(const Clearing& a, bool a_by_energy, const Best& b) {
    if (!b.clearing || a_by_energy != b.by_energy) return !b.clearing || a_by_energy;
    return a_by_energy ? a.energy() < b.clearing->energy() : a.latest < b.clearing->latest;
}

Best best_of(const Situation& s, Index element, Current current) {
    Best best;
    const auto longest = law_holds(s);
    for (const Guard& guard : network::guards_above(s.plan, s.tables, element, network::Place::cable)) {
        if (!may_end_it(guard)) continue;
        auto clearing = network::least_energy(s.plan, s.tables, guard, current, longest.value);
        const bool by_energy = clearing.has_value();
        if (!by_energy) clearing = network::latest_clearing(s.plan, s.tables, guard, current);
        if (!clearing) {
            best.undecided = true;
            if (!best.clearing) best.guard = guard;
        } else if (better(*clearing, by_energy, best)) {
            best.clearing = clearing;
            best.guard = guard;
            best.by_energy = by_energy;
        }
    }
    return best;
}

/// (k S)^2 / I^2, and never more than the time for which the law holds.
Duration longest_allowed(const Situation& s, const WeakestCore& core, Current current) {
    const Duration by_heat = network::longest_time(core.energy, current);
    const auto most = law_holds(s);
    return std::min(by_heat, most.value);
}

/// Energy of the point against what the core stands; below every point that opens in time, the time.
Outcome compared(const Situation& s, Outcome o, const WeakestCore& core, Current current, const Best& best) {
    o.variant = best.by_energy ? at_edge : timed;
    if (best.by_energy) {
        o.value = best.clearing->energy();
        o.edge = core.energy;
    } else {
        o.value = best.clearing->latest;
        o.edge = longest_allowed(s, core, current);
    }
    o.ground.grade = std::min(core.k.source.grade, best.clearing->source.grade);
    if (above(number(o.value), number(o.edge))) o.verdict = Verdict::fail;
    return o;
}

/// Devices that end no short circuit: those for overload ask for one that does; where nothing ends overload
/// either, heat.cable-unprotected speaks.
std::optional<Outcome> ask_for_device(Index i, const std::vector<Guard>& guards) {
    if (std::none_of(guards.begin(), guards.end(), [](const Guard& g) { return g.overload; }))
        return std::nullopt;
    return undecided(at_element(i), Part::cable, overload_only);
}

/// Pre: a device on the way may end a short circuit.
Outcome judge_cable(const Situation& s, Index i, const WeakestCore& core) {
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::physics;
    const auto current = network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
    if (!current) return undecided(o.at, Part::cable, loop_unknown);
    const Best best = best_of(s, i, *current);
    if (!best.clearing) return undecided(o.at, Part::cable, no_points);
    o = compared(s, o, core, *current, best);
    if (o.verdict == Verdict::fail) {
        if (best.undecided) return undecided(o.at, Part::cable, no_points);
        const auto loop =
            network::fault_loop(s.plan, s.tables, s.network, i, Return::neutral, Extreme::least);
        return loop.uncertain == plan::nowhere ? o : undecided(o.at, Part::cable, loop_unknown);
    }
    // What a generator or an inverter feeds into a fault is no figure of its impedance.
    if (!s.plan.supply_of(i).source.is(plan::SupplySource::public_network))
        return undecided(o.at, Part::cable, other_source);
    if (!o.ground.carries_ok()) o.verdict = Verdict::cannot_judge;
    return o;
}

/// One question for each device without points, and for each supply.
Index fold_for(const Situation& s, Index i, const Guard& guard, std::uint8_t variant) {
    if (variant == no_points || variant == overload_only) return fold_of(variant, guard.element);
    return variant == loop_unknown || variant == other_source ? fold_of(variant, s.plan.supply_index_of(i))
                                                              : plan::nowhere;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!fault_heat_is_judged(s, i)) continue;
        const auto guards = network::guards_above(s.plan, s.tables, i, network::Place::cable);
        const bool ended = std::any_of(guards.begin(), guards.end(), may_end_it);
        auto o = ended ? judge_cable(s, i, *weakest_core(s, i)) : ask_for_device(i, guards);
        if (!o) continue;
        o->fold = fold_for(s, i, guards.front(), o->variant);
        yield.outcomes.push_back(*o);
    }
    return yield;
}

/// The nearest device ends overload and leaves short circuits to another, which the plan does not name.
Explanation explain_overload_only(const Situation& s, const Outcome& o, const std::string& cable) {
    const auto guards = network::guards_above(s.plan, s.tables, o.at.index, network::Place::cable);
    const auto guard = std::find_if(guards.begin(), guards.end(), [](const Guard& g) { return g.overload; });
    const std::string device = words(s, at_element(guard->element), part_of(*guard));
    Explanation e = ask_for_rating(
        s, o, s.plan[guard->element].header, "",
        fmt::format("Which device before {} ends a short circuit in {}?", device, cable),
        source_place(s, o.at.index) + ", or the papers of what it is built into; then name it in the plan");
    e.headline = fmt::format("{} is made for overload alone: nothing in the plan ends a short circuit in {}",
                             capital(device), cable);
    e.short_words = "nothing in the plan ends a short circuit in " + cable;
    e.consequence = "A device for overload alone may weld or burst in a short circuit.";
    return e;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const std::string cable = words(s, o.at, Part::cable);
    if (o.variant == overload_only) return explain_overload_only(s, o, cable);
    if (o.variant == loop_unknown) return ask_for_loop(s, o, i, Return::neutral);
    const auto current = network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
    if (o.variant == no_points) {
        const Best best = best_of(s, i, *current);
        const std::string device = words(s, at_element(best.guard.element), part_of(best.guard));
        return ask_for_rating(s, o, s.plan[best.guard.element].header, "",
                              fmt::format("When does {} open at {}, the least short circuit in {}?", device,
                                          to_text(*current), cable),
                              "the maker's time-current curve");
    }
    if (o.variant == other_source) {
        const plan::Element& supply = s.plan[s.plan.supply_index_of(i)];
        const auto& source = supply.as<plan::Supply>()->source;
        return ask_for_rating(s, o, place_of(source, supply), "",
                              fmt::format("Does {} feed enough into a short circuit at the end of {} to trip "
                                          "a breaker at once? Most give a few times their amps at best",
                                          supply.words(), cable),
                              "the maker's figure for its short-circuit current");
    }
    return rests_on_memory_words(s, o, cable_place(element), {weakest_core(s, i)->k.source});
}

/// The least current: Cmin * U0 / Z_LN, worked.
Value explain_least_current(Working& working, const Situation& s, Index i) {
    const Value z = explain_fault_loop(working, s, i, Return::neutral, Extreme::least);
    const auto cmin = figures::iec_411_4_4::cmin(s.tables);
    return working.add("I_least", "Cmin * U0 / Z_LN", "{} * {} / {}",
                       {working.written(tables::written_number(cmin)),
                        working.written(to_text(network::line_to_neutral(s.plan, i), 6)), z},
                       "A", {network::cited(cmin.source)});
}

/// The current is beyond the point that opens in time; the energy of that point against the core.
std::vector<Step> steps_at_edge(const Situation& s, const Outcome& o, const WeakestCore& core,
                                const Best& best) {
    Working working;
    const Value least = explain_least_current(working, s, o.at.index);
    const std::vector<std::string> sources{network::cited(best.clearing->source)};
    const auto& multiple = best.clearing->multiple;
    const Value edge = multiple ? working.add("I_edge", "multiple * In", "{} * {}",
                                              {working.written(tables::written_number(*multiple)),
                                               working.written(to_text(*best.guard.rating, 6))},
                                              "A", sources)
                                : working.written(to_text(best.clearing->from, 6));
    working.compare(least, ">=", edge);
    const Value energy =
        working.add("I^2 t", "I_edge^2 * t", "{} ^ 2 * {}",
                    {edge, working.written(to_text(best.clearing->latest, 6))}, "A2s", sources);
    working.compare(energy, o.verdict == Verdict::fail ? ">" : "<=", explain_withstand(working, core));
    return working.finish();
}

std::vector<Step> steps_in_time(const Situation& s, const Outcome& o, const WeakestCore& core,
                                const Best& best) {
    Working working;
    const Value least = explain_least_current(working, s, o.at.index);
    const Value energy = explain_withstand(working, core);
    Value allowed = working.add("t", "k^2 S^2 / I_least^2", "{} / {} ^ 2", {energy, least}, "s");
    if (const auto most = law_holds(s); number(o.edge) >= in(unit::second, most.value)) {
        working.note("The law holds up to " + std::string(most.written) + ": no longer is allowed.");
        allowed = working.written(most.written);
    }
    working.compare(working.written(to_text(best.clearing->latest, 6)),
                    o.verdict == Verdict::fail ? ">" : "<=", allowed,
                    {network::cited(best.clearing->source)});
    return working.finish();
}

std::string fail_words(const Outcome& o, const std::string& cable, const std::string& device, Current current,
                       const Best& best) {
    if (o.variant == at_edge)
        return fmt::format(
            "{} needs up to {} from {} on, and lets {} through by then; the weakest core of {} withstands {}",
            capital(device), to_text(best.clearing->latest), to_text(best.clearing->from), to_text(o.value),
            cable, to_text(o.edge));
    return fmt::format(
        "A short circuit at the end of {} is only {}: {} takes up to {}, the core withstands it for {}",
        cable, to_text(current), device, to_text(o.value), to_text(o.edge));
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const std::string cable = words(s, o.at, Part::cable);
    const WeakestCore core = *weakest_core(s, i);
    const Current current = *network::least_fault_current(s.plan, s.tables, s.network, i, Return::neutral);
    const Best best = best_of(s, i, current);
    const std::string device = words(s, at_element(best.guard.element), part_of(best.guard));
    Explanation e;
    e.place = {cable_place(element), ""};
    e.sources = {core.k.source, best.clearing->source};
    e.steps = o.variant == at_edge ? steps_at_edge(s, o, core, best) : steps_in_time(s, o, core, best);
    if (o.verdict == Verdict::ok) {
        e.headline = fmt::format("A short circuit at the end of {} is at least {}: {} ends it in time", cable,
                                 to_text(current), device);
        return e;
    }
    e.headline = fail_words(o, cable, device, current, best);
    e.short_words = cable + " gets too hot in a short circuit before anything trips";
    e.consequence = "The insulation melts before the device opens.";
    if (o.variant == timed) e.remedies.push_back(shorter_cable(s, i, "a shorter cable"));
    e.remedies.push_back(larger_section(s, i, "one of larger section that its plug takes"));
    e.remedies.push_back({Cost::moderate, "a device of lower rating on the bench, before this cable"});
    if (auto fuse = control_fuse(s, i)) e.remedies = {*std::move(fuse)};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.short-circuit-slow",
                .title = "a short circuit is switched off later than the cable withstands",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec",
                .since = "0.1.0",
                .sections = {Depends::way},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::short_circuit_slow
