// heat.outlet-overloaded: one way of an outlet, or the outlet as a whole, carries more than it is made for.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::outlet_overloaded {
namespace {

constexpr std::uint8_t whole_outlet = 2;  // variant: all ways together

const plan::Outlet& outlet_of(const Situation& s, Index index) {
    return *s.plan[index].as<plan::Outlet>();
}

/// What a two-way outlet of the pattern is made for in all, where its standard says so.
std::optional<tables::Figure<Current>> total_of(const Situation& s, Index index) {
    const plan::Outlet& outlet = outlet_of(s, index);
    const tables::Table* patterns = s.tables.table("plug-patterns");
    if (!patterns || !outlet.pattern.known() || outlet.ways.value_or(1) < 2) return std::nullopt;
    const auto row = patterns->row_of("pattern", *outlet.pattern);
    return row ? patterns->current(*row, "double_total") : std::nullopt;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::outlet || is_tool_socket(s, i)) continue;
        add_contact_limits(s, yield, i, Part::whole, {Reach::Kind::largest_way, i}, outlet_rating(s, i),
                           outlet_of(s, i).pattern.value_or(""));
        if (const auto total = total_of(s, i)) {
            Limit limit;
            limit.at = at_element(i);
            limit.reach = {Reach::Kind::through, i};
            limit.edge = total->value;
            limit.ground.grade = total->source.grade;
            limit.variant = whole_outlet;
            yield.limits.push_back(limit);
        }
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    const Index index = outcome.at.index;
    const plan::Element& element = s.plan[index];
    const plan::Outlet& outlet = outlet_of(s, index);
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return ask_for_rating(s, outcome, place_of(outlet.limit, element), element.path() + ".limit",
                              "What may be plugged into " + element.words() + "?",
                              "printed beside the outlet");
    OverloadWords words;
    if (outcome.variant == whole_outlet) {
        const auto total = total_of(s, index);
        words.rating = total->written;
        words.source = total->source;
    } else {
        const ContactRating rating = outlet_rating(s, index);
        words.rating = rating.written;
        words.source = rating.source;
    }
    words.place = outlet.limit.written() ? outlet.limit.span : place_of(outlet.pattern, element);
    if (outcome.verdict == Verdict::caution) allow_by_code(s, outcome, words);
    Explanation e = explain_overload(s, outcome, *limit, words);
    if (outcome.verdict == Verdict::cannot_judge) return e;
    if (by_code(outcome, words)) {
        e.consequence = over_the_code;
        return e;
    }
    if (outcome.variant == 1) {
        if (const auto hot = carried_for_hours(s, *outlet.pattern)) e.sources.push_back(hot->source);
        e.consequence =
            "Its contacts carry that for hours: outlets of this pattern, worn ones above all, get hot.";
    } else if (outcome.verdict == Verdict::fail)
        e.consequence = nothing_trips(s, outcome)
                            ? "The outlet heats and nothing trips."
                            : "The outlet heats until the device trips: after minutes, an hour, or never.";
    else
        e.consequence = "It works, with little left: no further tool at this outlet.";
    return e;
}

}  // namespace

const Rule rule{.id = "heat.outlet-overloaded",
                .title = "an outlet carries more than it is made for",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::outlet_overloaded
