// shock.reading-beyond: a meter showed what no sound bench shows.
#include <fmt/format.h>

#include <optional>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/found.hpp>
#include <benchfeed/rules/readings.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {
namespace {

using plan::Found;
using plan::MeterReading;
using plan::Test;

/// How a reading stands to it.
enum Variant : std::uint8_t { within, beyond, doubtful, lower, undecided_by_figures };

Variant standing(const Situation& s, const Held& held, const Found& found) {
    if (found.kind == Found::Kind::no_trip) return beyond;
    if (found.kind == Found::Kind::open) return held.least ? within : beyond;
    const double value = number(found.value), stop = number(held.stop);
    if (std::holds_alternative<std::monostate>(held.stop)) return undecided_by_figures;
    const bool past = held.least ? above(stop, value) : above(value, stop);
    const bool at_the_edge = value == stop;
    if (found.kind == Found::Kind::above) {  // it may be anything from there on
        if (held.least) return past ? undecided_by_figures : within;
        return past || at_the_edge ? beyond : undecided_by_figures;
    }
    if (found.kind == Found::Kind::below) {
        if (held.least) return past || at_the_edge ? beyond : undecided_by_figures;
        return past ? undecided_by_figures : within;
    }
    if (past) return beyond;
    if (!std::holds_alternative<std::monostate>(held.doubt) && above(value, number(held.doubt)))
        return doubtful;
    // Another way to earth beside the one that is meant makes a loop lower, and hides a loose joint.
    const auto excess = threshold(s, "reading_drop_excess");
    const auto* loop = std::get_if<Impedance>(&held.expected);
    if (loop && !std::holds_alternative<std::monostate>(held.doubt) && excess &&
        above(in(unit::ohm, *loop), value * (1 + in(unit::one, excess->value))))
        return lower;
    return within;
}

Verdict verdict_of(Variant variant) {
    switch (variant) {
        case beyond:
            return Verdict::fail;
        case undecided_by_figures:
            return Verdict::cannot_judge;
        case doubtful:
        case lower:
            return Verdict::caution;
        case within:
            break;
    }
    return Verdict::ok;
}

/// Where a reading was made.
At at_of(const Situation& s, const MeterReading& reading) {
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].path() == *reading.at) return at_element(i);
    for (Index m = 0; m < s.plan.metals.size(); ++m)
        if ("metal." + s.plan.metals[m].name == *reading.at) return {At::Kind::metal, m};
    return {};
}

/// Readings at one place share a fold: the worst of them speaks. `variant` says how it stands, and which one
/// it is follows from there.
Yield look(const Situation& s) {
    Yield yield;
    if (s.plan.readings.empty()) return yield;
    const Readings all = readings(s);
    for (const MeterReading& reading : s.plan.readings) {
        const auto found = plan::read_found(*reading.found);
        if (!found) continue;
        const Held held = held_against(s, all, reading);
        const Variant variant = standing(s, held, *found);
        if (variant == within) continue;  // a reading makes no ok: the plan's own figures do
        Outcome o;
        o.at = at_of(s, reading);
        o.fold = o.at.kind == At::Kind::metal ? static_cast<Index>(s.plan.elements.size()) + o.at.index
                                              : o.at.index;
        o.verdict = verdict_of(variant);
        o.basis = Basis::physics;
        o.bound = held.least ? Bound::at_least : Bound::at_most;
        o.value = found->value;
        o.edge = held.stop;
        o.variant = variant;
        yield.outcomes.push_back(o);
    }
    return yield;
}

/// The reading that an outcome is about: the first at its place that stands so.
const MeterReading* reading_of(const Situation& s, const Readings& all, const Outcome& o) {
    for (const MeterReading& reading : s.plan.readings) {
        const auto found = plan::read_found(*reading.found);
        if (found && at_of(s, reading) == o.at && found->value == o.value &&
            standing(s, held_against(s, all, reading), *found) == o.variant)
            return &reading;
    }
    return nullptr;
}

/// What such a reading usually means.
std::string_view meaning(Test test, const Found& found, std::uint8_t variant) {
    if (variant == lower)
        return "Lower than it can be: another way to earth beside the cable, such as a bench bolted to "
               "pipes, or the "
               "neutral joined to earth. Disconnect it and read again: it may hide a loose joint.";
    if (found.kind == Found::Kind::no_trip)
        return "A residual device that stays on protects nobody. If its own button works, that outlet has no "
               "earth, or "
               "the source floats.";
    switch (test) {
        case Test::loop:
            return "Line to neutral in order and line to earth high: the way to earth is bad. Both high: the "
                   "line or a "
                   "contact is.";
        case Test::protective:
            return "A joint of the protective conductor is loose, missing or corroded: metal can stay live "
                   "after a "
                   "fault.";
        case Test::link:
        case Test::neutral:
            return "A joint or a switch contact on the way is loose: it heats under load.";
        case Test::insulation:
            return "Low with the tools out: damp, dust or a lamp in a switch. Low with them in: a filter in "
                   "a tool.";
        case Test::fall:
            return "A joint on the way is loose, or the run is longer than the plan says: it heats under "
                   "load.";
        case Test::residual:
            return "A residual device that is too slow is replaced.";
    }
    return "";
}

std::string place_words(const Situation& s, const At& at) {
    if (at.kind == At::Kind::metal) return "metal of " + s.plan.metals[at.index].name;
    return at.kind == At::Kind::element ? s.plan[at.index].words() : std::string("the bench");
}

/// As a meter shows it: insulation in Mohm.
std::string shown(const Measure& measure) {
    constexpr double million = 1e6;
    if (const auto* z = std::get_if<Impedance>(&measure); z && in(unit::ohm, *z) >= million)
        return plain_digits(in(unit::ohm, *z) / million, 3) + " Mohm";
    return to_text(measure, 2);
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const Readings all = readings(s);
    Explanation e;
    const MeterReading* reading = reading_of(s, all, o);
    if (!reading) return e;
    const Held held = held_against(s, all, *reading);
    const auto found = plan::read_found(*reading->found);
    const Test test = reading->test.get();
    const bool expected = !std::holds_alternative<std::monostate>(held.expected),
               stop = !std::holds_alternative<std::monostate>(held.stop);
    e.headline = fmt::format("{} at {} read {} on {}", capital(std::string(words(test))),
                             place_words(s, o.at), *reading->found, *reading->date);
    if (expected) e.headline += fmt::format("; {} is expected", shown(held.expected));
    if (stop)
        e.headline +=
            fmt::format(", and {} {} something is wrong", held.least ? "below" : "above", shown(held.stop));
    e.short_words = fmt::format("a reading at {} is beyond what it may be", place_words(s, o.at));
    e.place = {reading->found.span, *reading->found};
    if (o.variant == undecided_by_figures) {
        e.short_words = "nobody knows what a meter should show at " + place_words(s, o.at);
        e.questions.push_back(
            {*reading->at, "What should a meter show here?",
             "lengths, supply and standards that the plan leaves open, or a meter of more range"});
        return e;
    }
    e.consequence = std::string(meaning(test, *found, o.variant));
    if (stop && found->kind == Found::Kind::value) {
        Working working;
        const Value value = working.written(to_text(found->value, 6));
        const bool past = o.variant == beyond;
        const Measure edge = past ? held.stop : o.variant == doubtful ? held.doubt : held.expected;
        const bool falls = (past && held.least) || o.variant == lower;
        working.compare(value, falls ? "<" : ">", working.written(to_text(edge, 6)));
        e.steps = working.finish();
    }
    e.remedies = {{Cost::free, "pull the plug, look at every joint on the way, and read again"},
                  {Cost::electrician, "have it measured and cured before anybody uses the bench"}};
    return e;
}

}  // namespace

const Rule reading_beyond{.id = "shock.reading-beyond",
                          .title = "a meter showed what no sound bench shows",
                          .harm = Harm::shock,
                          .essential = true,
                          .families = "iec nec",
                          .since = "0.1.0",
                          .look = look,
                          .explain = explain};

}  // namespace benchfeed::rules
