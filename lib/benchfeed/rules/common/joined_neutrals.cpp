// shock.joined-neutrals: the neutral of one supply carries the current of another.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules::joined_neutrals {
namespace {

constexpr std::uint8_t apart = 0, joined = 1, asked = 2;

Yield look(const Situation& s) {
    Yield yield;
    for (const SupplyPair& pair : supply_pairs(s)) {
        if (pair.separate == Known::open) {
            yield.outcomes.push_back(undecided(at_element(pair.second), Part::whole, asked));
            continue;
        }
        Outcome o;
        o.at = at_element(pair.second);
        o.basis = Basis::standard;
        if (pair.separate == Known::no) {
            o.verdict = Verdict::fail;
            o.variant = joined;
        }
        yield.outcomes.push_back(o);
    }
    return yield;
}

/// The first pair of this second supply with the verdict of the outcome.
SupplyPair pair_of(const Situation& s, const Outcome& o) {
    const Known wanted = o.variant == joined ? Known::no : o.variant == asked ? Known::open : Known::yes;
    SupplyPair found;
    for (const SupplyPair& pair : supply_pairs(s))
        if (pair.second == o.at.index && pair.separate == wanted && found.first == plan::nowhere)
            found = pair;
    return found;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const SupplyPair pair = pair_of(s, o);
    const plan::Element& first = s.plan[pair.first];
    const plan::Element& second = s.plan[pair.second];
    const auto& said = second.as<plan::Supply>()->separate_from;
    const std::string both = first.words() + " and " + second.words();
    if (o.variant == asked)
        return ask_for_rating(
            s, o, place_of(said, second), second.path() + ".separate_from",
            "Do " + both +
                " each have a breaker and a neutral of their own, nowhere joined in "
                "the bench?",
            "switch one off: is anything of the other's still live? follow both neutrals in the "
            "boxes");
    Explanation e;
    e.place = {place_of(said, second), ""};
    if (o.variant == apart) {
        e.headline = capital(both) + " are kept apart";
        return e;
    }
    e.headline = "The plan does not give " + both + " separate neutrals: they count as joined in the bench";
    e.short_words = "the neutrals of " + both + " are joined";
    e.place.text = "does not name " + first.words();
    e.related.push_back({first.header, "the other supply"});
    e.consequence =
        "With one plug pulled or one breaker off, the neutral of what is dead carries the current of "
        "the other, and its pins are live. One neutral may carry both.";
    e.remedies = {
        {Cost::free, "for now: use one of the two plugs alone"},
        {Cost::cheap, "part the neutrals: a terminal of its own for each supply, in a box of its own"}};
    return e;
}

}  // namespace

const Rule rule{.id = "shock.joined-neutrals",
                .title = "neutrals of two supplies are joined",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::joined_neutrals
