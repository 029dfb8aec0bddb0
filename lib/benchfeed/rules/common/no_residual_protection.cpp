// shock.no-residual-protection: an outlet that a person can get a shock from, without a device that trips at
// 30 mA (EU, UK) or as a class A interrupter (US).
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nec_210_8_rooms.hpp>
#include <benchfeed/figures/source_earthing.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/portable_residual.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::no_residual_protection {
namespace {

constexpr std::uint8_t there = 0, missing = 1, from_the_bench_on = 2, not_listed = 3, ask_device = 4,
                       ask_place = 5, other_source = 6, floating_one = 7, floating_several = 8,
                       floating_each = 9, ask_class = 10, ask_bond = 11;

/// Whether the region asks for it in this room. An unknown use or room is tried at every word: where all
/// agree the verdict stands.
Known asked_here(const Situation& s, const ResidualPractice& practice) {
    if (!practice.by_room || s.plan.site.wet.is(plan::Wet::damp) || s.plan.site.wet.is(plan::Wet::wet))
        return Known::yes;
    bool yes = false, no = false, open = false;
    for (const auto row : figures::nec_210_8_rooms::rows(s.tables)) {
        const plan::Site& site = s.plan.site;
        if (site.use.known() && row.use() != site.use.word()) continue;
        if (site.room.known() && row.room() != site.room.word()) continue;
        const auto listed = row.listed();
        (listed ? *listed ? yes : no : open) = true;
    }
    if (yes && !no && !open) return Known::yes;
    return no && !yes && !open && !s.plan.site.wet.stated_unknown ? Known::no : Known::open;
}

bool is_asked_for(const Situation& s, Index i, const ResidualPractice& practice) {
    if (s.plan[i].kind != plan::Kind::outlet || is_tool_socket(s, i)) return false;
    const ContactRating rating = outlet_rating(s, i);
    return !practice.outlets || !rating.current || !above(*rating.current, practice.outlets->value);
}

/// The first outlets from the supply that are asked for, and for each of them those that hang below it.
struct Place {
    Index outlet = plan::nowhere;
    std::vector<Index> below;
};
std::vector<Place> places(const Situation& s, const ResidualPractice& practice) {
    std::vector<Place> found;
    for (const Index i : s.network.order) {
        if (!is_asked_for(s, i, practice)) continue;
        // The order is that of the tree, so only the last one found can stand above it.
        if (!found.empty() && s.network.hangs_below(i, found.back().outlet))
            found.back().below.push_back(i);
        else
            found.push_back({i, {}});
    }
    return found;
}

/// What keeps the bench behind an unprotected outlet: every outlet there has its own protection, or not.
Known bench_is_protected(const Situation& s, const Place& place, const ResidualPractice& practice) {
    Known result = place.below.empty() ? Known::no : Known::yes;
    for (const Index i : place.below) {
        const Known one = residual_protection(s, i, practice).by;
        if (one == Known::no) return Known::no;
        if (one == Known::open) result = Known::open;
    }
    return result;
}

/// Class I tools of a set behind a floating source: those that surely are, and those that may be.
struct ClassOne {
    Index set = no_set;
    std::vector<Index> certain, possible;
};

/// The set with most of them. What is assumed may be.
ClassOne most_of_class_one(const Situation& s, Index supply) {
    ClassOne most;
    for (Index set = 0; set < s.plan.sets.size(); ++set) {
        ClassOne here{set, {}, {}};
        for (const Index i : s.plan.sets[set].loads) {
            if (s.plan.supply_index_of(i) != supply) continue;
            const auto& its_class = s.plan[i].as<plan::Load>()->protection_class;
            if (its_class.is(plan::ProtectionClass::ii)) continue;
            here.possible.push_back(i);
            if (its_class.written() && its_class.known()) here.certain.push_back(i);
        }
        const bool more = here.certain.size() != most.certain.size()
                              ? here.certain.size() > most.certain.size()
                              : here.possible.size() > most.possible.size();
        if (more) most = std::move(here);
    }
    return most;
}

/// A residual device that trips in time stands before this load and before no other of them.
bool has_its_own(const Situation& s, Index load, const std::vector<Index>& others,
                 const ResidualPractice& practice) {
    const Protected one = residual_protection(s, load, practice);
    return one.by == Known::yes && std::none_of(others.begin(), others.end(), [&](Index other) {
               return other != load && s.network.hangs_below(other, one.device);
           });
}

/// Floating: a first fault drives no current, a second one in another tool joins two tools through whoever
/// holds both. Separation bears one item (IEC 60364-4-41 413.3).
Outcome judge_floating(const Situation& s, Index outlet, const ResidualPractice& practice) {
    Outcome o;
    o.at = at_element(outlet);
    o.basis = Basis::recommendation;
    o.verdict = Verdict::caution;
    o.variant = floating_one;
    const ClassOne tools = most_of_class_one(s, s.plan.supply_index_of(outlet));
    if (tools.possible.size() < 2) return o;
    o.verdict = Verdict::cannot_judge;
    if (tools.certain.size() < 2) {
        o.variant = ask_class;
        return o;
    }
    const bool each = std::all_of(tools.certain.begin(), tools.certain.end(),
                                  [&](Index load) { return has_its_own(s, load, tools.certain, practice); });
    o.variant = s.nec() || each ? floating_each : floating_several;
    if (o.variant == floating_each) return o;
    o.basis = Basis::standard;
    o.verdict = Verdict::fail;
    return o;
}

Outcome judge_place(const Situation& s, const Place& place, const ResidualPractice& practice) {
    Outcome o;
    o.at = at_element(place.outlet);
    o.basis = Basis::standard;
    const auto decided = [&](std::uint8_t variant, Verdict verdict) {
        o.variant = variant;
        o.verdict = verdict;
        return o;
    };
    const plan::Supply& supply = s.plan.supply_of(place.outlet);
    if (is_floating(s, place.outlet)) return judge_floating(s, place.outlet, practice);
    if (is_own_source(s, place.outlet) && !supply.earthing.known())
        return decided(ask_bond, Verdict::cannot_judge);
    if (supply.earthing.is(plan::Earthing::it)) return decided(other_source, Verdict::cannot_judge);
    const Protected here = residual_protection(s, place.outlet, practice);
    if (here.by == Known::yes) return decided(there, Verdict::ok);
    const Known asked = asked_here(s, practice);
    if (here.by == Known::open) return decided(ask_device, Verdict::cannot_judge);
    const Known bench = bench_is_protected(s, place, practice);
    if (bench == Known::yes) {
        o.basis = Basis::recommendation;
        return decided(from_the_bench_on, Verdict::caution);
    }
    if (asked == Known::no) {
        o.basis = Basis::recommendation;
        return decided(not_listed, Verdict::caution);
    }
    if (asked == Known::open) return decided(ask_place, Verdict::cannot_judge);
    if (bench == Known::open) return decided(ask_device, Verdict::cannot_judge);
    return decided(missing, Verdict::fail);
}

/// The circuit of an outlet: its nearest device, or the supply. Its outlets are judged together, and all that
/// hangs on a floating source.
Index judged_with(const Situation& s, Index i) {
    Index up = i;
    if (is_floating(s, i)) return s.plan.supply_index_of(i);
    while (s.plan[up].parent != plan::nowhere && s.plan[up].kind != plan::Kind::device)
        up = s.plan[up].parent;
    return up;
}

Yield look(const Situation& s) {
    Yield yield;
    const auto practice = residual_practice(s);
    if (!practice) {
        yield.cannot_judge(At{}, Part::whole, practice.missing());
        return yield;
    }
    for (const Place& place : places(s, *practice)) {
        Outcome o = judge_place(s, place, *practice);
        o.fold = fold_of(0, judged_with(s, place.outlet));
        yield.outcomes.push_back(o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------

/// The device that nobody knows enough of, at the outlet or on the bench below it.
Protected open_device(const Situation& s, Index outlet, const ResidualPractice& practice) {
    const Protected here = residual_protection(s, outlet, practice);
    if (here.by == Known::open) return here;
    for (const Place& place : places(s, practice)) {
        if (place.outlet != outlet) continue;
        for (const Index i : place.below)
            if (const Protected one = residual_protection(s, i, practice); one.by == Known::open) return one;
    }
    return here;
}

Explanation ask_about_device(const Situation& s, const Outcome& o, const ResidualPractice& practice) {
    using Why = Protected::Why;
    const plan::Element& outlet = s.plan[o.at.index];
    const Protected open = open_device(s, o.at.index, practice);
    if (open.why == Why::no_device)
        return ask_for_rating(
            s, o, outlet.header, outlet.path() + ".from",
            "Which breaker or fuse feeds " + outlet.words() + ", and does it trip at a residual current?",
            source_place(s, o.at.index) +
                ": a device with a button marked T or TEST, and 30 mA or 0.03 A on it");
    const plan::Element& device = s.plan[open.device];
    const auto& what = *device.as<plan::Device>();
    if (open.why == Why::delay)
        return ask_for_rating(s, o, place_of(what.residual->delay, device), device.path() + ".residual.delay",
                              "Does " + device.words() + " wait before it trips?",
                              "an S in a frame on its front");
    if (open.why == Why::part)
        return ask_for_rating(s, o, place_of(what.standard, device), device.path() + ".standard",
                              "Does " + device.words() + " have a residual current part?",
                              "a button marked T or TEST on it");
    return ask_for_rating(s, o, what.residual ? place_of(what.residual->trip, device) : device.header,
                          device.path() + ".residual.trip",
                          "At how many milliamperes does " + device.words() + " trip?",
                          "printed beside the T button: 30 mA, 0.03 A, 300 mA");
}

Explanation ask_about_class(const Situation& s, const Outcome& o) {
    const auto tools = most_of_class_one(s, s.plan.supply_index_of(o.at.index));
    const auto open = std::find_if(tools.possible.begin(), tools.possible.end(), [&](Index i) {
        return !s.plan[i].as<plan::Load>()->protection_class.written() ||
               !s.plan[i].as<plan::Load>()->protection_class.known();
    });
    const plan::Element& load = s.plan[*open];
    return ask_for_rating(
        s, o, place_of(load.as<plan::Load>()->protection_class, load), load.path() + ".class",
        fmt::format("Is {} double insulated? The neutral of {} floats, which allows one tool "
                    "with an earth at a time",
                    load.words(), source_place(s, o.at.index)),
        "its plate: a square in a square is class II");
}

Explanation ask_about_floating(const Situation& s, const Outcome& o) {
    const auto tools = most_of_class_one(s, s.plan.supply_index_of(o.at.index));
    const plan::Element& supply = s.plan[s.plan.supply_index_of(o.at.index)];
    return ask_for_rating(
        s, o, place_of(supply.as<plan::Supply>()->earthing, supply), supply.path() + ".earthing",
        fmt::format(
            "{}: may {} run together on {} whose neutral floats? No residual device sees the first fault",
            set_words(s, tools.set), list(s, tools.certain), source_place(s, o.at.index)),
        "its builder or an electrician: whether the neutral is to be bonded to the frame");
}

Explanation explain_question(const Situation& s, const Outcome& o, const ResidualPractice& practice) {
    const plan::Element& supply = s.plan[s.plan.supply_index_of(o.at.index)];
    if (o.variant == ask_bond)
        return ask_for_rating(s, o, place_of(supply.as<plan::Supply>()->earthing, supply),
                              supply.path() + ".earthing",
                              fmt::format("Is the neutral of {} bonded to its frame, or does it float?",
                                          source_place(s, o.at.index)),
                              std::string(earthing_of_a_source));
    if (o.variant == ask_class) return ask_about_class(s, o);
    if (o.variant == floating_each) return ask_about_floating(s, o);
    if (o.variant == other_source)
        return ask_for_rating(s, o, place_of(supply.as<plan::Supply>()->earthing, supply), supply.path(),
                              "Does a residual current device trip on this kind of supply?",
                              "an electrician: neither a generator, an inverter nor an IT system can be "
                              "judged from a plan");
    if (o.variant == ask_place && s.plan.site.wet.stated_unknown && s.plan.site.use.known() &&
        s.plan.site.room.known())
        return ask_for_rating(s, o, place_of(s.plan.site.wet, s.plan[o.at.index]), "site.wet",
                              "Is the place dry, damp or wet?", "the floor and the walls, over a year");
    if (o.variant == ask_place)
        return ask_for_rating(
            s, o, place_of(s.plan.site.room, s.plan[o.at.index]),
            s.plan.site.use.known() ? "site.room" : "site.use",
            "In what kind of room does the bench stand: a garage, a basement, an outbuilding, or a room to "
            "live in?",
            "the list of places goes by that, not by what is done there");
    return ask_about_device(s, o, practice);
}

/// "device c16 trips at 300 mA, which is no protection for a person", or "".
std::string but_there_is(const Situation& s, Index outlet, const ResidualPractice& practice) {
    const Protected here = residual_protection(s, outlet, practice);
    if (here.device == plan::nowhere) return "";
    const plan::Element& device = s.plan[here.device];
    if (here.why == Protected::Why::delayed)
        return ": " + device.words() + " waits before it trips, so that others trip first";
    return fmt::format(": {} trips at {}, and a person needs {}", device.words(),
                       to_text(*device.as<plan::Device>()->residual->trip, 6),
                       to_text(practice.trip.value, 6));
}

/// The devices that protect the bench are plugged into the outlet itself, without a cord before them.
bool sits_in(const Situation& s, Index outlet, const ResidualPractice& practice) {
    for (const Index i : s.network.order) {
        if (i == outlet || !s.network.hangs_below(i, outlet) || !is_asked_for(s, i, practice)) continue;
        const plan::Element& device = s.plan[residual_protection(s, i, practice).device];
        if (device.parent != outlet || device.cable) return false;
    }
    return true;
}

std::vector<Remedy> remedies(const Situation& s, const Outcome& o, const ResidualPractice& practice) {
    std::string wanted = region_word(s, "residual");
    if (const auto at = wanted.find("{}"); at != std::string::npos)
        wanted.replace(at, 2, to_text(practice.trip.value, 6));
    const auto portable =
        o.verdict == Verdict::fail ? portable_residual(s, o.at.index, practice) : std::nullopt;
    const Remedy built_in{Cost::moderate,
                          wanted + " in the plug, or at the inlet of the bench: it protects from there on"};
    return {{Cost::free, o.verdict == Verdict::fail ? "for now: plug the bench into an outlet that has one"
                                                    : "press its test button every month"},
            portable.value_or(built_in),
            {Cost::electrician, wanted + " before the circuit"}};
}

std::vector<Step> steps(const Situation& s, const Outcome& o, const ResidualPractice& practice) {
    const Protected here = residual_protection(s, o.at.index, practice);
    if (here.device == plan::nowhere || here.why == Protected::Why::delayed) return {};
    const auto& trip = s.plan[here.device].as<plan::Device>()->residual->trip;
    Working working;
    working.compare(working.written(to_text(*trip, 6)), here.by == Known::yes ? "<=" : ">",
                    working.written(to_text(practice.trip.value, 6)), {network::cited(practice.trip.source)});
    return working.finish();
}

Explanation explain_floating(const Situation& s, const Outcome& o) {
    const auto tools = most_of_class_one(s, s.plan.supply_index_of(o.at.index));
    const std::string source = source_place(s, o.at.index);
    const plan::Element& supply = s.plan[s.plan.supply_index_of(o.at.index)];
    Explanation e;
    e.place = {place_of(supply.as<plan::Supply>()->earthing, supply), "its neutral is bonded to nothing"};
    e.sources.push_back(figures::source_earthing::earthed_items(s.tables).source);
    e.remedies = {
        {Cost::free, "one tool with an earth at a time; double insulated ones (class II) beside it"},
        {Cost::electrician, "or have the neutral bonded to the frame, with a residual device behind it"}};
    if (o.variant == floating_one) {
        e.headline = fmt::format(
            "The neutral of {} floats: no residual current device sees a first fault, and one tool with an "
            "earth at "
            "a "
            "time is the rule",
            source);
        e.consequence =
            "A first fault does nothing and nobody notices it; a second one in another tool puts the volts "
            "between the two.";
        return e;
    }
    e.headline = fmt::format(
        "{}: {} run together on {} whose neutral floats: one tool with an earth at a time is the rule",
        set_words(s, tools.set), list(s, tools.certain), source);
    e.short_words = fmt::format("two tools with an earth run on {} whose neutral floats", source);
    e.consequence =
        "A fault in each of two tools puts the full volts between their metal, and no residual device trips.";
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const auto practice = *residual_practice(s);
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o, practice);
    const plan::Element& outlet = s.plan[o.at.index];
    const std::string name = outlet.words();
    const std::string at_most = to_text(practice.trip.value, 6);
    Explanation e;
    e.place = {outlet.header, ""};
    e.steps = steps(s, o, practice);
    e.sources.push_back(practice.trip.source);
    if (o.variant == there) {
        const Protected here = residual_protection(s, o.at.index, practice);
        e.headline = fmt::format("{} protects {} at no more than {}", capital(s.plan[here.device].words()),
                                 name, at_most);
        return e;
    }
    e.consequence =
        "Whoever touches a live core or a faulty tool stays in the circuit: a breaker does not notice what "
        "kills a person.";
    e.remedies = remedies(s, o, practice);
    switch (o.variant) {
        case floating_one:
        case floating_several:
            return explain_floating(s, o);
        case missing:
            e.headline = fmt::format("Nothing before {} trips at {}{}", name, at_most,
                                     but_there_is(s, o.at.index, practice));
            e.short_words = "nothing before " + name + " trips at " + at_most;
            break;
        case from_the_bench_on:
            e.headline = fmt::format(
                "{} is not protected at {}: the device on the bench protects from the bench on only",
                capital(name), at_most);
            e.consequence = sits_in(s, o.at.index, practice)
                                ? "Whatever else is plugged in there has none, and whoever takes the device "
                                  "along leaves the bench without."
                                : "The plug and the cord up to that device are the parts that get cut and "
                                  "crushed.";
            break;
        default:
            e.headline = fmt::format(
                "Nothing before {} trips at {}; the rule of the region asks for it in "
                "other rooms, not in this one",
                name, at_most);
            break;
    }
    return e;
}

}  // namespace

const Rule rule{.id = "shock.no-residual-protection",
                .title = "an outlet without residual protection",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::no_residual_protection
