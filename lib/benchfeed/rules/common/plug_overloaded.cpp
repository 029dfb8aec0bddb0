// heat.plug-overloaded: a plug or inlet carries more than it is made for.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::plug_overloaded {
namespace {

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& element = s.plan[i];
        const Reach here{Reach::Kind::through, i};
        const bool has_plug = element.plug.known() || element.plug.stated_unknown;
        if (has_plug && !as_sold(s, i))
            add_contact_limits(s, yield, i, Part::plug, here, plug_rating(s, i), element.plug.value_or(""));
        if (element.inlet.known() || element.inlet.stated_unknown)
            add_contact_limits(s, yield, i, Part::inlet, here, inlet_rating(s, i),
                               element.inlet.value_or(""));
    }
    return yield;
}

/// More than every inlet of the pattern is approved for, and no more than some are.
bool asks_for_mark(const Outcome& o, const ContactRating& rating) {
    const auto* drawn = std::get_if<Current>(&o.value);
    return o.verdict == Verdict::cannot_judge && rating.doubt && drawn && above(*drawn, *rating.doubt);
}

Explanation ask_for_mark(const Situation& s, const Outcome& o, const ContactRating& rating) {
    const plan::Element& element = s.plan[o.at.index];
    Explanation e =
        ask_for_rating(s, o, place_of(element.inlet, element), element.path() + ".inlet_rating",
                       "How many amps are marked on " + words(s, o.at, o.part) + "? Every " + *element.inlet +
                           " carries " + to_text(*rating.doubt) + ", some " + to_text(*rating.current),
                       "moulded beside its pins");
    if (rating.source) e.sources.push_back(*rating.source);
    return e;
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    const plan::Element& element = s.plan[outcome.at.index];
    const auto& field = outcome.part == Part::plug ? element.plug : element.inlet;
    const std::string what = words(s, outcome.at, outcome.part);
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return ask_for_rating(
            s, outcome, place_of(field, element), element.path() + "." + std::string(words(outcome.part)),
            "Which pattern is " + what + "?", "moulded into the plug or inlet, or the shape of its pins");
    const ContactRating rating =
        outcome.part == Part::plug ? plug_rating(s, outcome.at.index) : inlet_rating(s, outcome.at.index);
    if (asks_for_mark(outcome, rating)) return ask_for_mark(s, outcome, rating);
    OverloadWords overload{
        .rating = rating.written, .source = rating.source, .place = place_of(field, element)};
    if (outcome.verdict == Verdict::caution) allow_by_code(s, outcome, overload);
    Explanation e = explain_overload(s, outcome, *limit, overload);
    if (outcome.verdict == Verdict::cannot_judge) return e;
    if (by_code(outcome, overload)) {
        e.consequence = over_the_code;
        return e;
    }
    if (outcome.variant == 1) {
        if (const auto hot = carried_for_hours(s, *field)) e.sources.push_back(hot->source);
        e.consequence = capital(what) +
                        " carries that for hours: contacts of this pattern, worn ones above all, get hot.";
    } else if (outcome.verdict == Verdict::fail)
        e.consequence =
            nothing_trips(s, outcome)
                ? capital(what) + " heats and nothing trips."
                : capital(what) + " heats until the device trips: after minutes, an hour, or never.";
    else
        e.consequence = "It works, with little left: no further tool, and feel the plug after half an hour.";
    return e;
}

}  // namespace

const Rule rule{.id = "heat.plug-overloaded",
                .title = "a plug or inlet carries more than it is made for",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::plug_overloaded
