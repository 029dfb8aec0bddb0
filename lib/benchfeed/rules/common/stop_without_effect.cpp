// restart.stop-without-effect: an emergency stop that stops nothing, that lets start again what it stopped,
// or whose contact an earth fault can bridge.
#include <algorithm>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::stop_without_effect {
namespace {

enum Variant : std::uint8_t {
    works,
    stops_nothing,
    not_held,
    in_neutral,
    turns_over,
    two_lines,
    ask_stops,
    ask_held,
    ask_poles
};

bool at_home(const Situation& s) {
    return s.plan.site.use.is(plan::Use::dwelling);
}

/// A contactor that it names and that closes again when the button comes out, or may do so. What the stop
/// itself closes again is told by restart.remote-start.
Index closing_again(const Situation& s, const Stop& stop, bool certainly) {
    for (const Index open : stop.opens) {
        const auto& held = s.plan[open].as<plan::Switch>()->no_volt;
        if (open != stop.element && (certainly ? held.is(false) : !held.known())) return open;
    }
    return plan::nowhere;
}

/// How an earth fault behind the contact of a control circuit can hold the contactor in; `works` if it
/// cannot, `ask_poles` where nobody says what the contact opens.
Variant bridged(const Situation& s, const Stop& stop) {
    const plan::Switch& sw = *s.plan[stop.element].as<plan::Switch>();
    if (!in_control_circuit(sw) || stop.opens.empty()) return works;
    const auto arriving = s.plan[stop.element].conductors.value_or(plan::Conductors{});
    const auto open = opened_by(sw, arriving);
    if (!open) return ask_poles;
    const bool between_lines = std::any_of(stop.opens.begin(), stop.opens.end(), [&](Index release) {
        const auto coil = coil_of(s, release);
        return coil && coil->seat == Seat::line_to_line;
    });
    if (between_lines) return open->lines() > 1 ? works : two_lines;
    if (open->lines() == 0) return in_neutral;
    if (open->live() > 1) return works;  // both sides of the coil
    return polarity_at(s, stop.element).polarity == Polarity::fixed ? works : turns_over;
}

Outcome judge_stop(const Situation& s, const Stop& stop) {
    Outcome o;
    o.at = at_element(stop.element);
    o.basis = at_home(s) ? Basis::practice : Basis::standard;
    if (!stop.known) return undecided(o.at, Part::whole, ask_stops);
    if (!opens_something(s, stop)) {
        o.verdict = Verdict::fail;
        o.variant = stops_nothing;
        return o;
    }
    if (closing_again(s, stop, true) != plan::nowhere) {
        o.verdict = Verdict::fail;
        o.variant = not_held;
        return o;
    }
    if (closing_again(s, stop, false) != plan::nowhere) return undecided(o.at, Part::whole, ask_held);
    o.variant = bridged(s, stop);
    if (o.variant == ask_poles) return undecided(o.at, Part::whole, ask_poles);
    if (o.variant != works) o.verdict = Verdict::caution;
    return o;
}

Stop stop_of(const Situation& s, Index element) {
    for (Stop& stop : emergency_stops(s))
        if (stop.element == element) return std::move(stop);
    return {};
}

Yield look(const Situation& s) {
    Yield yield;
    for (const Stop& stop : emergency_stops(s)) yield.outcomes.push_back(judge_stop(s, stop));
    return yield;
}

Explanation explain_question(const Situation& s, const Outcome& o, const Stop& stop) {
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == ask_stops)
        return ask_for_rating(s, o, place_of(element.as<plan::Switch>()->stops, element),
                              element.path() + ".stops",
                              "Which contactors or no-volt switches does " + element.words() + " drop out?",
                              "press it while everything runs: what goes dead?");
    if (o.variant == ask_poles) {
        const plan::Switch& sw = *element.as<plan::Switch>();
        const bool count = !sw.poles.known();
        return ask_for_rating(s, o, count ? place_of(sw.poles, element) : place_of(sw.opens, element),
                              element.path() + (count ? ".poles" : ".opens"),
                              "Which conductors of the coil does the contact of " + element.words() +
                                  " open? With one of them left an earth fault can hold the contactor in",
                              "count the terminals of the contact, and see which wires end there");
    }
    const plan::Element& release = s.plan[closing_again(s, stop, false)];
    return ask_for_rating(
        s, o, place_of(release.as<plan::Switch>()->no_volt, release), release.path() + ".no_volt",
        "Does " + release.words() + " stay out when " + element.words() + " is pulled out again?",
        "press the stop while it runs, pull it out again: does it come back?");
}

void explain_contact(const Situation& s, const Outcome& o, Explanation& e, const std::string& name) {
    if (o.variant == in_neutral) {
        e.headline =
            "The contact of " + name + " is in the neutral: an earth fault can hold the contactor in";
        e.place.text = "opens the neutral alone";
    } else if (o.variant == two_lines) {
        e.headline =
            "The coil that " + name +
            " drops out is between two lines and the stop opens one of them: an earth fault can hold "
            "the contactor in";
        e.place.text = "opens one of two lines";
    } else {
        const Mating mating = polarity_at(s, o.at.index);
        const bool unknown = mating.polarity == Polarity::open;
        e.headline = "The contact of " + name + " may be in the neutral, since the plug of " +
                     s.plan[mating.at].words() + (unknown ? " is not known" : " fits both ways round") +
                     ": an earth fault can hold the contactor in";
        e.place.text = "opens one conductor";
        e.related.push_back({place_of(s.plan[mating.at].plug, s.plan[mating.at]),
                             unknown ? "which way round is not known" : "goes in both ways round"});
    }
    e.short_words = "an earth fault can hold in what " + name + " should drop out";
    e.consequence =
        "A coil draws a few hundredths of an ampere through the fault: no residual current device has to "
        "trip, "
        "and the stop is dead.";
    e.remedies = {{Cost::cheap, "a stop with a contact in both conductors of the coil"},
                  {Cost::cheap, "a plug that cannot be turned, with the contact in the line"}};
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const Stop stop = stop_of(s, o.at.index);
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o, stop);
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<plan::Switch>();
    const std::string name = element.words();
    Explanation e;
    e.place = {sw.stops.written() ? sw.stops.span : element.header, ""};
    if (const tables::Table* table = s.tables.table("iec-60204-1"))
        if (const auto* fact = table->fact("emergency_stop"); fact && !s.nec() && o.variant != works)
            e.sources.push_back(table->cite(*fact));
    if (o.variant == works) {
        e.headline = capital(name) + " opens what it should, and it stays open";
    } else if (o.variant == stops_nothing) {
        e.headline = capital(name) + " stops nothing: no tool and no outlet is behind what it opens";
        e.short_words = name + " stops nothing";
        e.consequence = "Whoever hits it in an emergency waits for a blade that goes on turning.";
        e.remedies = {
            {Cost::free, "for now: a sign at the button that it does not work"},
            {Cost::moderate, "put its contact into the coil circuit of the contactor that feeds the tools"}};
    } else if (o.variant == not_held) {
        const plan::Element& release = s.plan[closing_again(s, stop, true)];
        e.headline = capital(release.words()) + " closes again when " + name +
                     " is pulled out: it does not hold itself";
        e.short_words = release.words() + " closes again when " + name + " is pulled out";
        e.related.push_back({release.header, "closes as soon as its coil has supply"});
        e.consequence =
            "Somebody frees what was caught, pulls the button out, and everything behind it is live.";
        e.remedies = {{Cost::cheap,
                       "a start button and a holding contact at " + release.words() +
                           ", so that only a hand closes it again",
                       {{release.path() + ".no_volt", "true"}}}};
    } else {
        explain_contact(s, o, e, name);
    }
    return e;
}

}  // namespace

const Rule rule{.id = "restart.stop-without-effect",
                .title = "an emergency stop does not stop",
                .harm = Harm::restart,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::stop_without_effect
