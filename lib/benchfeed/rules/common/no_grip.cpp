// shock.no-grip: a pull on the cord is a pull on its cores.
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::no_grip {
namespace {

constexpr std::uint8_t gripped = 0, missing = 1, asked = 2;

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (!e.cable || as_sold(s, i) || s.network.house[i]) continue;
        const auto& grip = e.cable->grip;
        if (!grip.known() && (!e.plug.written() || e.cable->listed.is(true))) continue;
        Outcome o;
        o.at = at_element(i);
        o.part = Part::cable;
        o.basis = Basis::standard;
        if (!grip.known()) {
            o.verdict = Verdict::caution;
            o.variant = asked;
        } else if (!*grip) {
            o.verdict = Verdict::fail;
            o.variant = missing;
        }
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& grip = element.cable->grip;
    const std::string name = words(s, o.at, Part::cable);
    Explanation e;
    e.place = {grip.span.nowhere() ? cable_place(element) : grip.span, ""};
    if (o.variant == gripped) {
        e.headline = capital(name) + " has a cord grip";
        return e;
    }
    e.consequence =
        "A tug tears the cores out of their terminals, the protective one last if it was left longest.";
    e.remedies = {{Cost::cheap,
                   "a gland or clamp that bites the sheath, of the cord's diameter; no knot",
                   {{s.plan[o.at.index].path() + ".cable.grip", "true"}}}};
    if (s.nec()) cite_fact(s, e, "nec-400-rules", "strain");
    if (o.variant == asked) {
        e.headline = "The plan does not say whether " + name + " has a cord grip";
        e.questions.push_back({element.path() + ".cable.grip",
                               "Does " + name + " have a cord grip that holds its sheath?",
                               "the gland or clamp where it enters the box"});
        return e;
    }
    e.headline = capital(name) + " has no cord grip: its cores take every pull";
    e.short_words = name + " has no cord grip";
    return e;
}

}  // namespace

const Rule rule{.id = "shock.no-grip",
                .title = "a cord without grip",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::no_grip
