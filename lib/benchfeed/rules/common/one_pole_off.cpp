// shock.one-pole-off: "off" leaves a live conductor in the tool. One pole on a reversible feed, on two
// lines, or in the neutral alone.
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::one_pole_off {
namespace {

using plan::Conductor;
using plan::Conductors;

constexpr std::uint8_t turns_over = 1, two_lines = 2, neutral_alone = 3, polarity_unknown = 4,
                       poles_unknown = 5, line_left = 6, neutral_too = 7;

Outcome judge_switch(const Situation& s, Index i) {
    const plan::Switch& sw = *s.plan[i].as<plan::Switch>();
    const Conductors arriving = s.plan[i].conductors.value_or(Conductors{});
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::physics;
    const auto open = opened_by(sw, arriving);
    const auto fails = [&](std::uint8_t variant, Basis basis) {
        o.verdict = Verdict::fail;
        o.variant = variant;
        o.basis = basis;
        return o;
    };
    if (!open) return undecided(o.at, Part::whole, poles_unknown);
    const bool all_lines =
        arriving.lines() == Conductors{static_cast<std::uint8_t>(open->mask & arriving.mask)}.lines();
    if (open->lines() == 0) return fails(neutral_alone, Basis::standard);
    if (!all_lines && arriving.lines() > 1 && open->has(Conductor::n))
        return fails(neutral_too, Basis::physics);
    if (!all_lines) return fails(arriving.lines() > 1 ? two_lines : line_left, Basis::standard);
    const bool every_live = open->live() >= arriving.live();
    if (every_live) return o;
    const Mating mating = polarity_at(s, i);
    if (mating.polarity == Polarity::reversible) return fails(turns_over, Basis::physics);
    if (mating.polarity == Polarity::open) {
        o.verdict = Verdict::caution;
        o.variant = polarity_unknown;
    }
    return o;
}

/// A device that opens the neutral opens every line with it; what it opens is known where the plan says so.
std::optional<Outcome> judge_device(const Situation& s, Index i) {
    const auto& opens = s.plan[i].as<plan::Device>()->opens;
    const Conductors arriving = s.plan[i].conductors.value_or(Conductors{});
    if (!opens.known() || !opens->has(Conductor::n)) return std::nullopt;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::physics;
    if (opens->lines() >= arriving.lines()) return o;
    o.verdict = Verdict::fail;
    o.variant = opens->lines() == 0 ? neutral_alone : neutral_too;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (e.as<plan::Device>() && !e.children.empty())
            if (const auto o = judge_device(s, i)) yield.outcomes.push_back(*o);
        if (!e.as<plan::Switch>() || e.children.empty()) continue;
        yield.outcomes.push_back(judge_switch(s, i));
    }
    return yield;
}

const plan::Field<Conductors>& opens_of(const plan::Element& e) {
    const auto* device = e.as<plan::Device>();
    return device ? device->opens : e.as<plan::Switch>()->opens;
}

/// Words of a device that opens the neutral while lines stay.
Explanation explain_device(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& opens = opens_of(element);
    const std::string name = element.words();
    Explanation e;
    e.place = {place_of(opens, element), plan::conductors_text(*opens)};
    if (o.verdict == Verdict::ok) {
        e.headline = capital(name) + " opens the neutral together with every line";
        return e;
    }
    const bool several = element.conductors.value_or(Conductors{}).lines() > 1;
    e.headline = capital(name) + " opens the neutral and leaves " + (several ? "lines" : "the line") + " on";
    e.short_words = name + " leaves a live conductor in the tool when it is off";
    e.consequence = several ? "Tools on two lines lose their neutral and share the volts between the lines: "
                              "some get far too many, and all stay live."
                            : "What it feeds is dead and live at once: it does not run, and it can kill.";
    e.remedies = {{Cost::electrician, "a device that opens every line with the neutral, or lines alone"}};
    return e;
}

/// Poles for all that arrives; what the plan says it opens no longer holds.
std::vector<Change> every_pole(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    std::vector<Change> changes{
        {element.path() + ".poles", std::to_string(element.conductors.value_or(Conductors{}).live())}};
    if (element.as<plan::Switch>()->opens.written()) changes.push_back({element.path() + ".opens", ""});
    return changes;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    if (element.as<plan::Device>()) return explain_device(s, o);
    const plan::Switch& sw = *element.as<plan::Switch>();
    const std::string name = element.words();
    if (o.verdict == Verdict::cannot_judge)
        return ask_for_rating(s, o, place_of(sw.opens.written() ? sw.opens.span : sw.poles.span, element),
                              element.path() + ".poles",
                              "How many poles does " + name + " have, and which conductors does it open?",
                              "count the terminals: two for each pole");
    Explanation e;
    e.place = {place_of(sw.opens.written() ? sw.opens.span : sw.poles.span, element), ""};
    e.consequence = "With the switch off the tool may still be live: whoever changes the blade relies on it.";
    e.remedies = {
        {Cost::free, "for now: pull the plug before a blade is changed, never rely on the switch"},
        {Cost::cheap, "a switch that opens every live core, fed with all of them", every_pole(s, o)}};
    e.short_words = name + " leaves a live conductor in the tool when it is off";
    switch (o.variant) {
        case turns_over: {
            const Mating mating = polarity_at(s, o.at.index);
            const plan::Element& plugged = s.plan[mating.at];
            e.headline = capital(name) + " opens one pole, and the plug of " + plugged.words() +
                         " fits both ways round";
            e.place.text = "opens one conductor, which may be the neutral";
            e.related.push_back({place_of(plugged.plug, plugged), "goes in both ways round"});
            break;
        }
        case two_lines:
            e.headline = capital(name) + " opens one of two lines";
            e.place.text = "the other line stays on";
            break;
        case neutral_too:
            e.headline = capital(name) + " opens the neutral and not every line";
            e.place.text = "lines stay on without their neutral";
            e.consequence =
                "The tool stays live; what is fed from two lines loses its neutral and shares their volts.";
            break;
        case line_left:
        case neutral_alone:
            e.headline = capital(name) + " opens the neutral and leaves the line on";
            e.place.text = "the line stays on";
            break;
        case polarity_unknown: {
            const Mating mating = polarity_at(s, o.at.index);
            e.headline = capital(name) + " opens one pole, and it is not known which conductor the plug of " +
                         s.plan[mating.at].words() + " puts there";
            e.place.text = "opens one conductor";
            e.short_words = name + " may leave a live conductor in the tool";
            break;
        }
        default:
            e.headline = capital(name) + " opens every live conductor that can stay live";
            e.consequence.clear();
            e.remedies.clear();
            e.short_words.clear();
    }
    if (s.nec() && o.verdict == Verdict::fail) cite_fact(s, e, "nec-404-15", "every_ungrounded");
    return e;
}

}  // namespace

const Rule rule{.id = "shock.one-pole-off",
                .title = "off leaves a live conductor in the tool",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::one_pole_off
