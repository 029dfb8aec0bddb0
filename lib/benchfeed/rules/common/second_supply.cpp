// shock.second-supply: the bench has two plugs or two supplies, and pulling one leaves the rest live.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules::second_supply {
namespace {

/// What feeds the bench: its plugs, and supplies that feed a part of it without a plug.
std::vector<Index> feeds(const Situation& s) {
    std::vector<Index> found = bench_plugs(s);
    std::vector<bool> by_plug(s.plan.elements.size(), false);
    for (const Index plug : found) by_plug[s.plan.supply_index_of(plug)] = true;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::supply && !by_plug[i] && feeds_the_bench(s, i)) found.push_back(i);
    return found;
}

constexpr std::uint8_t further_feed = 0, control_elsewhere = 1;

/// A contactor of another supply that a switch in its control circuit drops out; nowhere if there is none.
Index controlled_elsewhere(const Situation& s, Index i) {
    const auto* sw = s.plan[i].as<plan::Switch>();
    if (!sw || !in_control_circuit(*sw)) return plan::nowhere;
    for (const Index stopped : sw->stop_indices)
        if (s.plan.supply_index_of(stopped) != s.plan.supply_index_of(i)) return stopped;
    return plan::nowhere;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (controlled_elsewhere(s, i) == plan::nowhere) continue;
        Outcome o;
        o.at = at_element(i);
        o.basis = Basis::practice;
        o.verdict = Verdict::caution;
        o.variant = control_elsewhere;
        yield.outcomes.push_back(o);
    }
    const auto found = feeds(s);
    if (found.size() < 2) return yield;
    for (const Index i : found) {
        Outcome o;
        o.fold = fold_of(0);
        o.at = at_element(i);
        o.part = s.plan[i].kind == plan::Kind::supply ? Part::whole : Part::plug;
        o.basis = Basis::practice;
        o.verdict = Verdict::caution;
        o.variant = further_feed;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain_control(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const Index contactor = controlled_elsewhere(s, o.at.index);
    const std::string name = element.words(), other = s.plan[contactor].words();
    Explanation e;
    e.place = {place_of(element.as<plan::Switch>()->stops, element), ""};
    e.related.push_back(
        {s.plan[contactor].header, "fed from " + s.plan[s.plan.supply_index_of(contactor)].words()});
    e.headline = capital(name) + " is fed from " + s.plan[s.plan.supply_index_of(o.at.index)].words() +
                 ", and " + other + ", which it drops out, from " +
                 s.plan[s.plan.supply_index_of(contactor)].words();
    e.short_words = name + " and " + other + " are fed by two supplies";
    e.consequence = "With the bench plug pulled the button box is still live.";
    e.remedies = {{Cost::cheap, "take the control circuit from where " + other + " is fed"},
                  {Cost::free,
                   "else a label at both boxes: \"two supplies\", and where the other one is switched off"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == control_elsewhere) return explain_control(s, o);
    std::vector<std::string> names;
    for (const Index i : feeds(s))
        names.push_back(
            words(s, at_element(i), s.plan[i].kind == plan::Kind::supply ? Part::whole : Part::plug));
    const plan::Element& element = s.plan[o.at.index];
    Explanation e;
    e.place = {o.part == Part::plug ? place_of(element.plug, element) : element.header, "a further way in"};
    e.headline = "The bench is fed by " + list(names) + ": pulling one leaves the rest live";
    e.short_words = "the bench is fed by " + list(names);
    e.consequence = "Whoever pulls one plug and opens a box takes the bench for dead.";
    e.remedies = {
        {Cost::free, "a label at every box and plug: \"two supplies\", and where the other plug is"}};
    return e;
}

}  // namespace

const Rule rule{.id = "shock.second-supply",
                .title = "pulling one plug leaves the bench live",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::second_supply
