// shock.reading-beyond: a meter showed what no sound bench shows.
#include <fmt/format.h>

#include <map>
#include <optional>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/rules/held_against.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules::reading_beyond {
namespace {

using plan::Found;
using plan::MeterReading;
using plan::Test;

bool is_none(const Measure& measure) {
    return std::holds_alternative<std::monostate>(measure);
}

Verdict verdict_of(Standing standing) {
    switch (standing) {
        case Standing::beyond:
        case Standing::beneath:
            return Verdict::fail;
        case Standing::short_range:
        case Standing::not_said:
            return Verdict::cannot_judge;
        case Standing::doubtful:
        case Standing::higher:
        case Standing::lower:
        case Standing::early:
            return Verdict::caution;
        case Standing::within:
            break;
    }
    return Verdict::ok;
}

/// What a verdict was made by.
const Measure& edge_of(const Held& held, Standing standing) {
    switch (standing) {
        case Standing::doubtful:
            return held.doubt;
        case Standing::higher:
        case Standing::lower:
            return held.expected;
        case Standing::early:
            return held.low;
        case Standing::beneath:
            return held.floor;
        default:
            return held.stop;
    }
}
/// It has to be at least that.
bool at_least(const Held& held, Standing standing) {
    return standing == Standing::lower || standing == Standing::early || standing == Standing::beneath ||
           (held.least && standing != Standing::doubtful && standing != Standing::higher);
}

At at_of(const MeterReading& reading) {
    if (reading.element != plan::nowhere) return at_element(reading.element);
    return {At::Kind::metal, reading.metal};
}

/// Elements, then metal parts.
Index fold_of(const Situation& s, const MeterReading& reading) {
    return reading.element != plan::nowhere ? reading.element
                                            : static_cast<Index>(s.plan.elements.size()) + reading.metal;
}

/// A reading that is not as it should be.
struct Odd {
    const MeterReading* reading;
    Found found;
    Held held;
    Standing standing;
};
std::optional<Odd> odd(const Situation& s, const MeterReading& reading) {
    const auto found = plan::read_found(*reading.found);
    if (!found) return std::nullopt;
    Odd o{&reading, *found, held_against(s, reading), Standing::within};
    o.standing = standing(s, o.held, *found, reading);
    return o.standing == Standing::within ? std::nullopt : std::optional(std::move(o));
}

/// Of two readings at one place: the worse, then the one that is further off, then by test and words; never
/// by the order of the file.
bool speaks_before(const Outcome& a, const MeterReading& at_a, const Outcome& b, const MeterReading& at_b) {
    if (a.verdict != b.verdict) return a.verdict > b.verdict;
    const double x = severity(a), y = severity(b);
    if (x != y) return x > y;
    return std::pair(at_a.test.get(), std::string_view(*at_a.found)) <
           std::pair(at_b.test.get(), std::string_view(*at_b.found));
}

/// Readings at one place are one finding: the worst of them speaks, and shows the others.
Yield look(const Situation& s) {
    Yield yield;
    if (s.plan.readings.empty()) return yield;
    std::map<Index, std::pair<Outcome, const MeterReading*>> worst;
    for (const MeterReading* reading : latest_readings(s.plan)) {
        const auto found = odd(s, *reading);
        if (!found) continue;  // a reading makes no ok: the plan's own figures do
        if (found->held.missing) {
            yield.cannot_judge(at_of(*reading), Part::whole, *found->held.missing);
            yield.outcomes.back().fold = fold_of(s, *reading);
            continue;
        }
        Outcome o;
        o.at = at_of(*reading);
        o.fold = fold_of(s, *reading);
        o.verdict = verdict_of(found->standing);
        o.basis = Basis::physics;
        o.bound = at_least(found->held, found->standing) ? Bound::at_least : Bound::at_most;
        o.value = found->found.value;
        o.edge = edge_of(found->held, found->standing);
        o.variant = static_cast<std::uint8_t>(found->standing);
        const auto [there, fresh] = worst.try_emplace(o.fold, o, reading);
        if (!fresh && speaks_before(o, *reading, there->second.first, *there->second.second))
            there->second = {o, reading};
    }
    for (const auto& [fold, told] : worst) yield.outcomes.push_back(told.first);
    return yield;
}

/// What is odd at the place of an outcome: first the reading that it is about.
std::vector<Odd> odd_at(const Situation& s, const Outcome& o) {
    std::vector<const MeterReading*> here;
    for (const MeterReading& reading : s.plan.readings)
        if (at_of(reading) == o.at) here.push_back(&reading);
    std::vector<Odd> all;
    for (const MeterReading* reading : latest_of(std::move(here))) {
        auto found = odd(s, *reading);
        if (!found) continue;
        const bool it = found->found.value == o.value && edge_of(found->held, found->standing) == o.edge &&
                        static_cast<std::uint8_t>(found->standing) == o.variant;
        all.insert(it ? all.begin() : all.end(), std::move(*found));
    }
    return all;
}

/// Of volts. Source  common practice of the trade.
std::string_view volts_mean(Test test, bool low) {
    switch (test) {
        case Test::lines:
            return low ? "A line is missing or bad on the way: a fuse has opened, or a contact is burnt. A "
                         "motor on three lines hums, heats and does not start."
                       : "The supply is another one than the plan says, or its volts are too high.";
        case Test::line_to_neutral:
            return low ? "A line or the neutral is bad on the way. A loose neutral gives one line less and "
                         "another one more: unplug everything."
                       : "A loose neutral: tools on this line get more volts than they are made for. Unplug "
                         "everything.";
        case Test::line_to_earth:
            return low ? "Line to neutral in order and line to earth low: the way to earth is open. Both "
                         "low: "
                         "the line is bad."
                       : "The way to earth is loose, or another line has a fault to earth: metal of the "
                         "bench "
                         "may be live. Unplug everything.";
        case Test::neutral_to_earth:
            return "Line and neutral are exchanged, or the neutral or the protective conductor is open: what "
                   "is taken for dead is live.";
        case Test::rise:
            return "The neutral is loose: unplug everything at once. Tools on the other lines get up to the "
                   "volts between lines.";
        default:
            return "";
    }
}

/// What such a reading usually means. Source  common practice of the trade.
std::string_view beyond_means(const Odd& odd) {
    const bool no_trip = odd.found.kind == Found::Kind::no_trip;
    if (no_trip)
        return "The device does not open, so it protects nobody. If its test button opens it, the place of "
               "the test has no earth, or the source floats, or direct current of another tool holds a "
               "device of type AC or A.";
    if (odd.held.open)
        return "Joined although nothing holds the contacts in: a contact is welded or bridged, and the tool "
               "starts by itself.";
    switch (odd.reading->test.get()) {
        case Test::loop:
            return "Line to neutral in order and line to earth high: the way to earth is bad. Both high: the "
                   "line or a contact is. A fault may not be switched off in time.";
        case Test::protective:
            return "A joint of the protective conductor is loose, corroded or missing: after a fault metal "
                   "stays live.";
        case Test::link:
        case Test::neutral:
            return "A joint or a contact on the way is loose: it heats under load.";
        case Test::insulation:
            return "Tools out: damp, dust, or a neon lamp in a switch. Tools in: a filter. Near 0: neutral "
                   "and earth are joined, and a residual device opens under load.";
        case Test::fall:
            return "A joint on the way is loose and heats under load, or the run is longer than the plan "
                   "says.";
        case Test::residual:
        case Test::residual_high:
            return "A residual device that is too slow is replaced.";
        case Test::ramp:
            return "A residual device that opens too late is replaced.";
        case Test::rotation:
            return "Two lines are exchanged: motors turn backwards, a blade's nut comes loose, and the work "
                   "is "
                   "thrown at people.";
        default:
            return volts_mean(odd.reading->test.get(), odd.standing == Standing::beneath);
    }
}
std::string_view meaning(const Odd& odd) {
    switch (odd.standing) {
        case Standing::doubtful:
            if (odd.reading->test.is(Test::neutral_to_earth))
                return "A joint of the neutral is loose, or it carries much on a long run. Read again with "
                       "everything off.";
            return "Conductors that are warm have more: then a fault may not be switched off in time.";
        case Standing::higher:
            return "More than the plan makes of it: a joint on the way is bad, or a run is longer than the "
                   "plan says.";
        case Standing::lower:
            return odd.reading->test.is(Test::loop)
                       ? "Another way to earth beside the cable, such as a bench bolted to pipes, or neutral "
                         "joined to earth. It may hide a loose joint."
                       : "Another way beside the conductor, or a run is shorter than the plan says. It may "
                         "hide a loose joint.";
        case Standing::early:
            return "Something behind it leaks all the time: it opens when one more tool is plugged in.";
        default:
            return beyond_means(odd);
    }
}

/// "; 0.93 ohm is expected, 1.75 ohm at most".
std::string held_words(const Held& held) {
    if (held.open) return "; open is expected";
    std::vector<std::string> parts;
    if (!is_none(held.expected)) parts.push_back(shown(held.expected) + " is expected");
    if (!is_none(held.doubt)) parts.push_back("doubtful above " + shown(held.doubt));
    for (const Measure& least : {held.low, held.floor})
        if (!is_none(least)) parts.push_back(shown(least) + " at least");
    if (!is_none(held.stop)) parts.push_back(shown(held.stop) + (held.least ? " at least" : " at most"));
    return parts.empty() ? "" : fmt::format("; {}", fmt::join(parts, ", "));
}

/// "fault loop 0.3 ohm": what was read, and which test it was.
std::string read_words(const Odd& odd) {
    return fmt::format("{} {}", words(odd.reading->test.get()), *odd.reading->found);
}

/// The fact for want of which nothing is expected.
Question missing_fact(const Situation& s, const MeterReading& reading) {
    const std::string place = place_words(s, reading);
    const Index from =
        reading.element != plan::nowhere ? reading.element : s.plan.metals[reading.metal].bonded_index;
    for (Index up = from; up != plan::nowhere; up = s.plan[up].parent) {
        const plan::Element& e = s.plan[up];
        if (e.cable && !e.cable->length.known())
            return {e.path() + ".cable.length", "How long is " + words(s, at_element(up), Part::cable) + "?",
                    "the cable itself"};
        const auto* device = e.as<plan::Device>();
        if (!device || up != from) continue;
        return {e.path() + ".residual.trip", "At what current does " + e.words() + " open?",
                "printed on the device"};
    }
    for (Index up = from; up != plan::nowhere; up = s.plan[up].parent)
        if (const auto* device = s.plan[up].as<plan::Device>(); device && !device->curve.known())
            return {s.plan[up].path() + ".curve", "What is the curve of " + s.plan[up].words() + "?",
                    "the letter before the amps: B, C or D"};
    return {*reading.at, "What may a meter show at " + place + "?", "an electrician"};
}

std::vector<Remedy> remedies_of(const Situation& s, const Odd& odd) {
    const MeterReading& reading = *odd.reading;
    const bool house = reading.element != plan::nowhere && s.network.house[reading.element];
    if (odd.standing == Standing::lower) return {{Cost::free, "disconnect the other way and read again"}};
    if (odd.standing == Standing::early)
        return {{Cost::free, "unplug the tools and read again, then with one at a time"}};
    if (plan::of_a_residual_device(reading.test.get()))
        return {{Cost::electrician, "have the device tested again and replaced"}};
    if (reading.test.is(Test::rotation))
        return {{Cost::electrician, "have two lines exchanged, then see which way the motor turns"}};
    std::vector<Remedy> remedies;
    if (!house)
        remedies.push_back({Cost::free, "pull the plug, look at every joint on the way, and read again"});
    remedies.push_back({Cost::electrician, "have it measured and cured before the bench is used"});
    return remedies;
}

/// Found against what it was held against, where it is a plain number.
std::vector<Step> steps_of(const Odd& odd) {
    const Measure& edge = edge_of(odd.held, odd.standing);
    if (is_none(odd.found.value) || is_none(edge)) return {};
    const double value = number(odd.found.value), other = number(edge);
    const bool less = at_least(odd.held, odd.standing);
    if (less ? !(value < other) : !(value > other)) return {};
    constexpr int all = 4;
    Working working;
    working.compare(working.written(to_text(odd.found.value, all)), less ? "<" : ">",
                    working.written(to_text(edge, all)));
    return working.finish();
}

/// Where the figure is from that it was held against.
std::vector<tables::Citation> sources_of(const Situation& s, const Odd& odd) {
    if (odd.standing == Standing::higher || odd.standing == Standing::lower)
        return {figures::thresholds::reading_drop_excess(s.tables).source};
    return odd.held.sources;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    Explanation e;
    const std::vector<Odd> all = odd_at(s, o);
    if (all.empty()) return e;
    const Odd& it = all.front();
    const MeterReading& reading = *it.reading;
    const std::string place = place_words(s, reading), test(words(reading.test.get()));
    e.headline = fmt::format("{} at {}: {} (read {}){}", capital(test), place, *reading.found, *reading.date,
                             held_words(it.held));
    e.place = {reading.found.span, *reading.found};
    std::string others;
    for (std::size_t i = 1; i < all.size(); ++i) {
        e.related.push_back({all[i].reading->found.span, read_words(all[i])});
        others += fmt::format(" Also read here: {}{}.", read_words(all[i]), held_words(all[i].held));
    }
    e.sources = sources_of(s, it);
    if (it.standing == Standing::short_range) {
        e.short_words = fmt::format("the range of the meter at {} ended too early", place);
        e.consequence = "Behind the range of the meter it may be in order, or far off." + others;
        e.questions.push_back(
            {*reading.at,
             fmt::format("How much {} the {} at {}?", test.starts_with("volts") ? "are" : "is", test, place),
             "a meter that shows " + shown(it.held.stop)});
        return e;
    }
    if (it.standing == Standing::not_said) {
        e.short_words = "the plan does not say what a meter should show at " + place;
        e.consequence = "Nothing can be expected of it." + others;
        e.questions.push_back(missing_fact(s, reading));
        return e;
    }
    e.short_words = fmt::format(
        "a reading at {} is {}", place,
        verdict_of(it.standing) == Verdict::fail ? "beyond what it may be" : "not what the plan expects");
    e.consequence = std::string(meaning(it)) + others;
    e.steps = steps_of(it);
    e.remedies = remedies_of(s, it);
    return e;
}

}  // namespace

// Readings are of the bench as it is: with other sections nothing has been read yet.
const Rule rule{.id = "shock.reading-beyond",
                .title = "a meter showed what no sound bench shows",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::reading_beyond
