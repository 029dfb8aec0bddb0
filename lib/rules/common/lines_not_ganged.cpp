// shock.lines-not-ganged: lines that share a neutral, or feed one load, do not open together.
#include "rules/contact.hpp"
#include "rules/overload.hpp"
#include "rules/rules.hpp"

namespace benchfeed::rules {
namespace {

constexpr std::uint8_t told = 0, asked = 1;

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* device = s.plan[i].as<plan::Device>();
        if (!device || s.plan[i].conductors.value_or(plan::Conductors{}).lines() < 2) continue;
        if (device->tied.stated_unknown) {
            yield.outcomes.push_back(undecided(at_element(i), Part::whole, asked));
            continue;
        }
        Outcome o;
        o.at = at_element(i);
        o.basis = s.nec() ? Basis::standard : Basis::practice;
        o.variant = told;
        if (device->tied.is(false)) o.verdict = Verdict::fail;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& tied = element.as<plan::Device>()->tied;
    const std::string name = element.words();
    if (o.variant == asked)
        return ask_for_rating(s, o, place_of(tied, element), element.path() + ".tied",
                              "Do all poles of " + name + " open together?",
                              "a tie between the handles, or one wide handle");
    Explanation e;
    e.place = {place_of(tied, element), ""};
    const std::string lines = plan::conductors_text(*element.conductors);
    if (o.verdict == Verdict::ok) {
        e.headline = "The poles of " + name + " (" + lines + ") open together";
        return e;
    }
    e.headline = "The poles of " + name + " (" + lines + ") open one by one";
    e.short_words = "a part of the bench stays live when one pole of " + name + " is off";
    e.consequence = "One handle off, and the other line still feeds the box that somebody has opened.";
    e.remedies = {
        {Cost::electrician, "a device whose poles are tied, or handles joined with the maker's own tie"}};
    return e;
}

}  // namespace

const Rule lines_not_ganged{.id = "shock.lines-not-ganged",
                            .title = "lines of one circuit do not open together",
                            .harm = Harm::shock,
                            .essential = false,
                            .families = "iec nec",
                            .since = "0.1.0",
                            .sections = {Depends::nothing},
                            .look = look,
                            .explain = explain};

}  // namespace benchfeed::rules
