// heat.reel-wound: a cord on a reel carries more than the reel may. The mark on the reel rules; without one
// a third of the ampacity is the practice for a wound reel.
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::reel_wound {
namespace {

enum Variant : std::uint8_t { wound_mark, wound_third, maybe_wound, unwound_mark };

struct Reel {
    Variant variant;
    Current most;
    bool always_caution = false;  ///< wound, whatever it carries
    Ground ground;
};

std::optional<Reel> reel_of(const Situation& s, Index i) {
    const plan::Cable& cable = *s.plan[i].cable;
    const bool state_unknown = cable.reel.stated_unknown;  // what hurts most: wound
    if (!state_unknown && !cable.reel.is(plan::Reel::wound) && !cable.reel.is(plan::Reel::unwound))
        return std::nullopt;
    if (cable.reel.is(plan::Reel::unwound)) {
        if (!cable.unwound_limit.known()) return std::nullopt;
        return Reel{unwound_mark, amps_of(s, i, *cable.unwound_limit), false, {}};
    }
    const auto variant = state_unknown ? maybe_wound : cable.wound_limit.known() ? wound_mark : wound_third;
    if (cable.wound_limit.known()) return Reel{variant, amps_of(s, i, *cable.wound_limit), true, {}};
    const auto iz = network::ampacity(s.plan, s.tables, s.network, i);
    const auto third = threshold(s, "wound_reel");
    if (!iz.value || !third) return std::nullopt;
    return Reel{variant, Current(*iz.value * third->value), true, {iz.grade, iz.beyond}};
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!s.plan[i].cable) continue;
        const auto reel = reel_of(s, i);
        if (!reel) continue;
        Limit limit;
        limit.at = at_element(i);
        limit.part = Part::cable;
        limit.reach = {Reach::Kind::through, i};
        limit.variant = reel->variant;
        limit.ground = reel->ground;
        const bool marked = reel->variant == unwound_mark || s.plan[i].cable->wound_limit.known();
        limit.basis = marked ? Basis::marking : Basis::practice;
        limit.edge = reel->most;
        if (reel->always_caution) limit.caution = Current(0.0 * unit::ampere);
        yield.limits.push_back(limit);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Cable& cable = *element.cable;
    OverloadWords words;
    words.place = cable.reel.written() ? cable.reel.span : cable.span;
    words.limit_words = o.variant == unwound_mark ? "unwound" : "wound";
    words.watts = watts_of(o.variant == unwound_mark ? cable.unwound_limit : cable.wound_limit);
    if (o.variant != unwound_mark && !cable.wound_limit.known())
        if (const auto third = threshold(s, "wound_reel")) words.source = third->source;
    Explanation e = explain_overload(s, o, *limit, words);
    if (o.verdict == Verdict::cannot_judge) return e;
    if (o.variant == unwound_mark) {
        e.consequence = "Even unwound the cord of the reel is not made for that.";
        return e;
    }
    e.short_words = rules::words(s, o.at, Part::cable) + " is wound on a reel and heats itself";
    e.consequence =
        "Wound up, the turns warm each other: the insulation softens from the inside, long before a breaker "
        "acts.";
    e.remedies.insert(e.remedies.begin(), {Cost::free,
                                           "unwind the whole cord before use",
                                           {{s.plan[o.at.index].path() + ".cable.reel", "unwound"}}});
    return e;
}

}  // namespace

const Rule rule{.id = "heat.reel-wound",
                .title = "a cord wound on a reel carries more than the reel may",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::reel_wound
