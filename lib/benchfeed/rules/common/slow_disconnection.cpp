// shock.slow-disconnection: a fault to earth is not switched off in the time of IEC 60364-4-41.
#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/iec_411_3_3.hpp>
#include <benchfeed/figures/iec_411_4_4.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/disconnection.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules::slow_disconnection {
namespace {

constexpr std::uint8_t by_overcurrent = 0, by_residual = 1, residual_unmeasured = 2, unstable_electrode = 3,
                       earthing_unknown = 4, no_earth = 5, too_slow = 6, residual_too_weak = 7, ask_loop = 8,
                       ask_trip = 9, ask_earthing = 10, other_source = 11, ask_device = 12, no_time = 13;

using network::Extreme;
using network::Guard;
using network::Return;
using plan::Earthing;

const plan::Supply& supply_of(const Situation& s, Index element) {
    return s.plan.supply_of(element);
}

bool is_tn(const plan::Supply& supply) {
    return supply.earthing.is(Earthing::tn_s) || supply.earthing.is(Earthing::tn_c_s);
}

Outcome decided(Outcome o, std::uint8_t variant, Verdict verdict) {
    o.variant = variant;
    o.verdict = verdict;
    return o;
}

/// With a residual current device: Zs * I_dn <= 50 V.
Outcome judge_residual(const Situation& s, Outcome o, const ResidualDevice& residual,
                       const network::Loop& loop) {
    const plan::Supply& supply = supply_of(s, o.at.index);
    if (!residual.trip) return decided(o, ask_trip, Verdict::cannot_judge);
    if (!supply.earthing.known()) return decided(o, earthing_unknown, Verdict::caution);
    const auto touch = touch_voltage(s);
    const auto stable = stable_electrode(s);
    if (!loop.known()) {
        // A loop of a TN system is an ohm or two; 30 mA would stand for more than a thousand.
        const Current most = figures::iec_411_3_3::trip(s.tables).value;
        if (is_tn(supply) && !above(*residual.trip, most))
            return decided(o, residual_unmeasured, Verdict::ok);
        return decided(o, ask_loop, Verdict::cannot_judge);
    }
    o.value = loop.impedance();
    o.edge = Impedance(touch.value / *residual.trip);
    o.ground.grade = touch.source.grade;
    if (number(o.value) > number(o.edge) * (1 + 1e-9)) return decided(o, residual_too_weak, Verdict::fail);
    if (supply.earthing.is(Earthing::tt) && loop.impedance() > stable.value) {
        o.caution = stable.value;
        return decided(o, unstable_electrode, Verdict::caution);
    }
    return decided(o, by_residual, o.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge);
}

/// A generator or an inverter: its fault current dies away, so no overcurrent device counts as opened, and
/// the loop says nothing. A residual device opens where the neutral is bonded.
Outcome judge_own_source(const Situation& s, const Outcome& o) {
    const auto residual = residual_above(s, o.at.index);
    const network::Loop loop =
        network::fault_loop(s.plan, s.tables, s.network, o.at.index, Return::protective, Extreme::least);
    if (supply_of(s, o.at.index).earthing.is(Earthing::none) || loop.broken != plan::nowhere)
        return decided(o, no_earth, Verdict::fail);
    if (!supply_of(s, o.at.index).earthing.known()) return decided(o, ask_earthing, Verdict::cannot_judge);
    if (!residual) return decided(o, other_source, Verdict::cannot_judge);
    return judge_residual(s, o, *residual, {});
}

Outcome judge_element(const Situation& s, Index i) {
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    const plan::Supply& supply = supply_of(s, i);
    if (is_own_source(s, i)) return judge_own_source(s, o);
    if (supply.earthing.is(Earthing::it)) return decided(o, other_source, Verdict::cannot_judge);
    const network::Loop loop =
        network::fault_loop(s.plan, s.tables, s.network, i, Return::protective, Extreme::least);
    if (supply.earthing.is(Earthing::none) || loop.broken != plan::nowhere)
        return decided(o, no_earth, Verdict::fail);
    const LoopSearch search = allowed_loop(s, i);
    const auto residual = residual_above(s, i);
    if (loop.known() && search.best && !supply.earthing.is(Earthing::tn_c)) {
        o.value = loop.impedance();
        o.edge = search.best->loop;
        o.ground.grade = search.best->opening.source.grade;
        const bool in_time = supply.earthing.known() && number(o.value) <= number(o.edge) * (1 + 1e-9);
        // In time by a figure from memory: the residual device may still be certain.
        if (in_time && !o.ground.carries_ok() && residual)
            if (Outcome other = judge_residual(s, o, *residual, loop); other.verdict == Verdict::ok)
                return other;
        if (in_time)
            return decided(o, by_overcurrent, o.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge);
    }
    if (residual) return judge_residual(s, o, *residual, loop);
    if (!supply.earthing.known()) return decided(o, ask_earthing, Verdict::cannot_judge);
    if (!loop.known()) return decided(o, ask_loop, Verdict::cannot_judge);
    if (search.missing) return decided(o, no_time, Verdict::cannot_judge);
    if (search.undecided != plan::nowhere || !search.best)
        return decided(o, ask_device, Verdict::cannot_judge);
    if (loop.uncertain != plan::nowhere) return decided(o, ask_loop, Verdict::cannot_judge);
    return decided(o, too_slow, Verdict::fail);
}

/// Outlets, and what is wired on without one; a tool's own cord and plug are as sold.
bool is_end(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (e.kind == plan::Kind::outlet) return !is_tool_socket(s, i);
    return e.kind == plan::Kind::load && !e.plug.known() && s.plan[e.parent].kind != plan::Kind::outlet;
}

/// The circuit of an end: the device that it hangs on. Its ends are told together, the worst one speaks.
Index fold_key(const Situation& s, Index i) {
    const auto guards = network::guards_above(s.plan, s.tables, i, network::Place::whole);
    for (const Guard& guard : guards)
        if (!guard.known || guard.short_circuit) return fold_of(guard.plug_fuse ? 1 : 0, guard.element);
    return fold_of(0, s.plan.supply_index_of(i));
}

/// An outlet on the way has no earth: there is no loop, and nothing to ask about it.
bool behind_no_earth(const Situation& s, Index i) {
    const Index broken =
        network::fault_loop(s.plan, s.tables, s.network, i, Return::protective, Extreme::least).broken;
    const auto* outlet = broken == plan::nowhere ? nullptr : s.plan[broken].as<plan::Outlet>();
    return outlet && !network::may_have_earth(*outlet, s.tables);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!is_end(s, i) || is_floating(s, i)) continue;  // floating: shock.no-residual-protection tells it
        if (behind_no_earth(s, i)) continue;               // shock.protective-conductor tells it
        Outcome o = judge_element(s, i);
        if (o.variant == no_time) {
            yield.cannot_judge(o.at, o.part, *allowed_loop(s, i).missing);
            continue;
        }
        o.fold = fold_key(s, i);
        yield.outcomes.push_back(o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------

Explanation explain_question(const Situation& s, const Outcome& o) {
    const Index i = o.at.index;
    const plan::Element& supply = s.plan[s.plan.supply_index_of(i)];
    const auto& what = *supply.as<plan::Supply>();
    switch (o.variant) {
        case ask_trip: {
            const plan::Element& device = s.plan[residual_above(s, i)->device];
            const auto& trip = device.as<plan::Device>()->residual->trip;
            return ask_for_rating(s, o, place_of(trip, device), device.path() + ".residual.trip",
                                  "At how many milliamperes does " + device.words() + " trip?",
                                  "printed on its front as a residual current: 30 mA, 100 mA");
        }
        case ask_earthing:
            if (is_own_source(s, i))
                return ask_for_rating(
                    s, o, place_of(what.earthing, supply), supply.path() + ".earthing",
                    fmt::format("Is the neutral of {} bonded to its frame, or does it float?",
                                source_place(s, i)),
                    std::string(earthing_of_a_source));
            return ask_for_rating(s, o, place_of(what.earthing, supply), supply.path() + ".earthing",
                                  "How is the supply earthed?",
                                  "the test report of the house, or an electrician");
        case ask_device: {
            const Index device = allowed_loop(s, i).undecided;
            const plan::Element& at = device == plan::nowhere ? supply : s.plan[device];
            return ask_for_rating(
                s, o, at.header, "",
                "At how many amps does " + at.words() + " open within the time that the standard asks for?",
                "its letter (B, C, D) on the front, or the maker's time-current curve");
        }
        case other_source:
            if (is_own_source(s, i))
                return ask_for_rating(
                    s, o, place_of(what.source, supply), supply.path() + ".source",
                    fmt::format("What switches off a fault to earth behind {}? No breaker "
                                "counts: its fault current dies away",
                                source_place(s, i)),
                    "a residual device of 30 mA behind a neutral that is bonded to the frame");
            return ask_for_rating(s, o, place_of(what.earthing, supply), supply.path() + ".earthing",
                                  "How is a fault to earth switched off on this kind of supply?",
                                  "an electrician: neither a generator, an inverter nor an IT system can be "
                                  "judged from a plan");
        default:
            return ask_for_loop(s, o, i, Return::protective);
    }
}

void explain_steps(const Situation& s, const Outcome& o, Explanation& e) {
    const Index i = o.at.index;
    if (std::holds_alternative<std::monostate>(o.value)) return;
    Working working;
    const Value loop = explain_fault_loop(working, s, i, Return::protective, Extreme::least);
    const auto volts = network::line_to_neutral(s.plan, i);
    if (o.variant == by_overcurrent || o.variant == too_slow) {
        const AllowedLoop allowed = *allowed_loop(s, i).best;
        const auto cmin = figures::iec_411_4_4::cmin(s.tables);
        const Value most =
            working.add("Zs_max", "Cmin * U0 / Ia", "{} * {} / {}",
                        {working.written(tables::written_number(cmin)), working.written(to_text(volts, 6)),
                         explain_opening(working, allowed.guard, allowed.opening)},
                        "ohm", {network::cited(cmin.source), network::cited(allowed.opening.source)});
        working.compare(loop, o.variant == too_slow ? ">" : "<=", most);
        e.sources.push_back(allowed.opening.source);
        e.sources.push_back(longest_time(s, i)->source);
    } else {
        const auto residual = residual_above(s, i);
        const Value touch = working.add("U_touch", "Zs * I_dn", "{} * {}",
                                        {loop, working.written(to_text(*residual->trip, 6))}, "V");
        working.compare(touch, o.variant == residual_too_weak ? ">" : "<=",
                        working.written(to_text(touch_voltage(s).value, 6)),
                        {network::cited(touch_voltage(s).source)});
        e.sources.push_back(touch_voltage(s).source);
    }
    e.steps = working.finish();
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const std::string here = element.words();
    Explanation e;
    e.place = {element.header, ""};
    explain_steps(s, o, e);
    const std::string residual =
        residual_above(s, i) ? s.plan[residual_above(s, i)->device].words() : std::string();
    e.remedies = {{Cost::free, "for now: leave the bench unplugged"},
                  {Cost::electrician,
                   "a 30 mA residual current device before the circuit, fitted by an "
                   "electrician"}};
    switch (o.variant) {
        case by_overcurrent:
            e.headline =
                fmt::format("A fault to earth at {} is switched off in time by {}: Zs {} of at most {}", here,
                            words(s, at_element(allowed_loop(s, i).best->guard.element), Part::whole),
                            to_text(o.value), to_text(o.edge));
            e.remedies.clear();
            break;
        case by_residual:
            e.headline = fmt::format("A fault to earth at {} is switched off by {}: Zs {} of at most {}",
                                     here, residual, to_text(o.value), to_text(o.edge));
            e.remedies.clear();
            break;
        case residual_unmeasured:
            e.headline = fmt::format(
                "A fault to earth at {} is switched off by {}, whatever the loop of a TN "
                "system is",
                here, residual);
            e.remedies.clear();
            break;
        case unstable_electrode:
            e.headline = fmt::format("The earth electrode gives {}: above {} it may not stay that good",
                                     to_text(o.value), to_text(o.caution));
            e.consequence = "In a dry summer the residual current device may not trip.";
            e.remedies = {{Cost::electrician, "a better electrode"}};
            e.sources.push_back(stable_electrode(s).source);
            break;
        case earthing_unknown:
            e.headline =
                fmt::format("{} is there, but how the supply is earthed is not known", capital(residual));
            e.consequence = "A residual current device trips only if the fault current has a way back.";
            e.remedies = {{Cost::electrician, "have the loop at the wall outlet measured"}};
            break;
        case no_earth:
            e.headline = fmt::format("A fault to earth at {} has no protective conductor to return by", here);
            e.short_words = here + " has no protective conductor";
            e.consequence =
                "The metal of a tool stays live after a fault, and whoever touches it gets a shock.";
            e.remedies = {{cost_at(s, o.at.index, Cost::moderate), "a cable with a protective conductor"},
                          {Cost::electrician, "an earthed circuit"}};
            break;
        case too_slow:
            e.headline = fmt::format(
                "A fault to earth at {} is not switched off in {}: Zs is {}, at most {} "
                "would do",
                here, to_text(longest_time(s, i)->value), to_text(o.value), to_text(o.edge));
            e.short_words = "a fault at " + here + " stays live for too long";
            e.consequence = "The metal of a tool stays live until the breaker warms up and opens.";
            break;
        default:
            e.headline = fmt::format("{} does not trip in time at {}: Zs is {}, at most {} would do",
                                     capital(residual), here, to_text(o.value), to_text(o.edge));
            e.short_words = "a fault at " + here + " stays live for too long";
            e.consequence = "The metal of a tool may be at more than 50 V.";
    }
    return e;
}

/// In a TN system a residual device opens whatever the loop is (judge_residual()); where the earthing is not
/// known it leaves a caution, and no question.
bool residual_device_answers(const Situation& s, const Outcome& o) {
    const plan::Supply& supply = supply_of(s, o.at.index);
    return !is_own_source(s, o.at.index) && (is_tn(supply) || !supply.earthing.known());
}

}  // namespace

const Rule rule{.id = "shock.slow-disconnection",
                .title = "a fault to earth is switched off too late",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec",
                .since = "0.1.0",
                .sections = {Depends::way, More::helps},
                .waits = {&no_residual_protection::rule, residual_device_answers},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::slow_disconnection
