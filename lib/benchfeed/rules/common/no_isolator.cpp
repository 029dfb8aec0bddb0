// shock.no-isolator: nothing in reach makes the bench dead and keeps it dead.
#include <algorithm>

#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::no_isolator {
namespace {

constexpr std::uint8_t there = 0, missing = 1, plug_in_reach = 2, asked = 3;

/// A switch that parts the contacts by a marked gap and can be locked off. An emergency stop, a contactor or
/// a release is none.
Known isolates(const plan::Switch& sw) {
    if (sw.kind.is(plan::SwitchKind::emergency_stop) || sw.kind.is(plan::SwitchKind::contactor) ||
        sw.isolating.is(false) || sw.lockable.is(false))
        return Known::no;
    const bool parts =
        sw.isolating.is(true) || (sw.kind.is(plan::SwitchKind::isolator) && !sw.isolating.stated_unknown);
    if (parts && sw.lockable.is(true)) return sw.kind.stated_unknown ? Known::open : Known::yes;
    // Nobody takes a plain switch for an isolator unless the plan says something of it.
    const bool spoken_of =
        sw.kind.is(plan::SwitchKind::isolator) || sw.isolating.written() || sw.lockable.written();
    return spoken_of ? Known::open : Known::no;
}

struct Isolation {
    Known by = Known::no;
    Index sw = plan::nowhere;
};
Isolation isolation_of(const Situation& s, Index element) {
    Isolation best;
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* sw = s.plan[up].as<plan::Switch>();
        const Known one = sw ? isolates(*sw) : Known::no;
        if (one == Known::yes) return {Known::yes, up};
        if (one == Known::open) best = {Known::open, up};
    }
    return best;
}

/// The worst of all outlets and loads of the bench.
Isolation worst_isolation(const Situation& s) {
    Isolation worst{Known::yes, plan::nowhere};
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto kind = s.plan[i].kind;
        if ((kind != plan::Kind::outlet && kind != plan::Kind::load) || s.network.house[i]) continue;
        const Isolation one = isolation_of(s, i);
        if (one.by == Known::no) return {Known::no, i};
        if (one.by == Known::open) worst = one;
        if (worst.sw == plan::nowhere) worst.sw = one.sw;
    }
    return worst;
}

Yield look(const Situation& s) {
    Yield yield;
    const auto& mounting = s.plan.head.mounting;
    Outcome o;
    o.basis = Basis::standard;
    if (mounting.is(plan::Mounting::mobile)) return yield;  // its plug is pulled
    const Isolation isolation = worst_isolation(s);
    if (mounting.is(plan::Mounting::fastened)) {
        o.basis = Basis::recommendation;
        if (isolation.by != Known::yes) {
            o.verdict = Verdict::caution;
            o.variant = plug_in_reach;
        }
    } else if (isolation.by == Known::no) {
        o.verdict = Verdict::fail;
        o.variant = missing;
    } else if (isolation.by == Known::open) {
        o = undecided(At{}, Part::whole, asked);
    }
    yield.outcomes.push_back(o);
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const auto& mounting = s.plan.head.mounting;
    const Isolation isolation = worst_isolation(s);
    if (o.variant == asked) {
        const plan::Element& element = s.plan[isolation.sw];
        const auto& sw = *element.as<plan::Switch>();
        if (sw.kind.stated_unknown)
            return ask_for_rating(s, o, place_of(sw.kind, element), element.path() + ".kind",
                                  "What kind of switch is " + element.words() + "?",
                                  "an emergency stop, a contactor or a release is no isolator");
        const bool gap = !sw.isolating.known() && !sw.kind.is(plan::SwitchKind::isolator);
        return gap ? ask_for_rating(s, o, place_of(sw.isolating, element), element.path() + ".isolating",
                                    "Is " + element.words() + " marked for isolation?",
                                    "its plate: the sign of a switch with a bar across the contact")
                   : ask_for_rating(s, o, place_of(sw.lockable, element), element.path() + ".lockable",
                                    "Can " + element.words() + " be locked off?",
                                    "a hole for a padlock in its handle");
    }
    Explanation e;
    e.place = {mounting.span.nowhere() ? s.plan.head.header : mounting.span, ""};
    switch (o.variant) {
        case missing:
            e.headline = "The bench is fixed, and no switch that isolates and can be locked is before " +
                         s.plan[isolation.sw].words();
            e.short_words = "nothing at the bench makes it dead and keeps it dead";
            e.related.push_back({s.plan[isolation.sw].header, "live until somebody walks to the panel"});
            e.consequence = "Whoever works in it relies on a switch that somebody else closes.";
            e.remedies = {{Cost::free, "for now: lock the breaker at the panel before a hand goes in"},
                          {Cost::moderate,
                           "a lockable switch marked for isolation, in sight of the bench, before "
                           "everything in it"}};
            break;
        case plug_in_reach:
            e.headline =
                "The bench is screwed down: its plug is what makes it dead, and no plan shows "
                "whether a hand reaches it";
            e.consequence =
                "A plug behind the bench is not pulled. In many places a bench that is screwed down counts "
                "as fixed wiring: ask.";
            e.remedies = {
                {Cost::free, "lead the cord so that the plug is in reach and in sight"},
                {Cost::moderate, "or a lockable switch marked for isolation before everything in it"}};
            break;
        case there:
        default:
            e.headline = "A lockable switch makes the bench dead";
            return e;
    }
    if (s.nec()) cite_fact(s, e, "osha-woodworking", "lockable_disconnect");
    return e;
}

}  // namespace

const Rule rule{.id = "shock.no-isolator",
                .title = "nothing in reach makes the bench dead",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::no_isolator
