// shock.second-supply: the bench has two plugs or two supplies, and pulling one leaves the rest live.
#include "rules/contact.hpp"
#include "rules/rules.hpp"
#include "rules/supplies.hpp"
#include "rules/support.hpp"

namespace benchfeed::rules {
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

Yield look(const Situation& s) {
    Yield yield;
    const auto found = feeds(s);
    for (std::size_t i = 1; i < found.size(); ++i) {
        Outcome o;
        o.at = at_element(found[i]);
        o.part = s.plan[found[i]].kind == plan::Kind::supply ? Part::whole : Part::plug;
        o.basis = Basis::practice;
        o.verdict = Verdict::caution;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
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

const Rule second_supply{.id = "shock.second-supply",
                         .title = "pulling one plug leaves the bench live",
                         .harm = Harm::shock,
                         .essential = false,
                         .families = "iec nec",
                         .since = "0.1.0",
                         .sections = {Depends::nothing},
                         .look = look,
                         .explain = explain};

}  // namespace benchfeed::rules
