// shock.lines-not-ganged: lines that share a neutral, or feed one load, do not open together.
#include <string_view>

#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::lines_not_ganged {
namespace {

constexpr std::uint8_t told = 0, asked = 1, carried_on = 2;

/// What is wired on behind the terminals of an outlet to which several lines and their neutral come, and
/// takes its neutral there; of several the first by name. Whoever takes the outlet off opens the neutral
/// alone.
Index carried_through(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const plan::Conductors arriving = e.conductors.value_or(plan::Conductors{});
    Index found = plan::nowhere;
    if (e.kind != plan::Kind::outlet || arriving.lines() < 2 || !arriving.has(plan::Conductor::n))
        return found;
    for (const Index child : e.children) {
        const bool takes_neutral =
            s.plan[child].conductors.value_or(plan::Conductors{}).has(plan::Conductor::n);
        if (!at_a_terminal(s.plan[child]) || !takes_neutral) continue;
        if (found == plan::nowhere || s.plan[child].name < s.plan[found].name) found = child;
    }
    return found;
}

void look_at_outlet(Yield& yield, const Situation& s, Index i) {
    if (carried_through(s, i) == plan::nowhere) return;
    Outcome o;
    o.at = at_element(i);
    o.basis = s.nec() ? Basis::standard : Basis::practice;
    o.variant = carried_on;
    o.verdict = Verdict::caution;
    yield.outcomes.push_back(o);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        look_at_outlet(yield, s, i);
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

Explanation explain_carried(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Element& next = s.plan[carried_through(s, o.at.index)];
    Explanation e;
    e.place = {next.from.span, "wired on behind " + element.words()};
    e.headline = "The neutral and the " + region_word(s, "earth") + " of " + next.words() +
                 " run through the terminals of " + element.words() + ", to which several lines come";
    e.short_words = "a loose terminal in " + element.words() + " leaves " + next.words() + " without neutral";
    e.consequence =
        "Once a terminal there is loose, or the outlet is taken off, what is behind it shares "
        "the volts between the lines, and its metal has no " +
        region_word(s, "earth") + ".";
    e.remedies = {{Cost::cheap,
                   "join the conductors in a box, with one short wire of each to the outlet: from = "
                   "a box, not the outlet"}};
    if (const tables::Table* table = s.nec() ? s.tables.table("nec-300-13") : nullptr)
        for (const std::string_view name : {"neutral", "protective"})
            if (const auto* fact = table->fact(name)) e.sources.push_back(table->cite(*fact));
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == carried_on) return explain_carried(s, o);
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

const Rule rule{.id = "shock.lines-not-ganged",
                .title = "lines of one circuit do not open together",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::lines_not_ganged
