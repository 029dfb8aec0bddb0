// heat.switch-overloaded: a switch carries more than its first figure.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::switch_overloaded {
namespace {

Yield look(const Situation& s) {
    Yield yield;
    const auto share = threshold(s, "attention");
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* sw = s.plan[i].as<plan::Switch>();
        if (!sw) continue;
        if (!sw->rating.known()) {
            yield.outcomes.push_back(undecided(at_element(i), Part::whole));
            continue;
        }
        Limit limit;
        limit.at = at_element(i);
        limit.reach = {Reach::Kind::through, i};
        limit.edge = *sw->rating;
        if (share) limit.caution = Current(*sw->rating * share->value);
        limit.once_per_set = true;
        yield.limits.push_back(limit);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    const plan::Element& element = s.plan[outcome.at.index];
    const auto& sw = *element.as<plan::Switch>();
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return ask_for_rating(s, outcome, place_of(sw.rating, element), element.path() + ".rating",
                              "What current is " + element.words() + " made for?",
                              "stamped on its side: 16(8) A reads 16 A, motors 8 A");
    Explanation e = explain_overload(s, outcome, *limit,
                                     {.rating = to_text(*sw.rating),
                                      .source = {},
                                      .place = place_of(sw.rating, element),
                                      .names_the_part = true});
    if (outcome.verdict == Verdict::cannot_judge) return e;
    if (outcome.verdict == Verdict::fail) e.remedies.push_back(fit_switch(s, outcome.at.index));
    e.consequence = outcome.verdict == Verdict::fail
                        ? "Its contacts burn or weld: then the machine cannot be switched off."
                        : "It works, with little left for another load behind this switch.";
    return e;
}

}  // namespace

const Rule rule{.id = "heat.switch-overloaded",
                .title = "a switch carries more than it is made for",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::switch_overloaded
