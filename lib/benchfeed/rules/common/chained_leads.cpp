// heat.chained-leads: a strip or bench plugged into a strip or bench, a lead before the bench, leads in
// series.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::chained_leads {
namespace {

enum Variant : std::uint8_t { alone, strip_on_strip, lead_before_bench, leads_in_series };

/// Something of the builder's with a plug: a lead has one outlet, a strip or a bench has several or none.
bool plugged(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    return e.kind != plan::Kind::load && (e.plug.known() || e.plug.stated_unknown);
}

int ways_of(const Situation& s, Index i);

/// Ways that hang at an element without another plug between.
int ways_behind(const Situation& s, Index i) {
    int ways = 0;
    for (const Index child : s.plan[i].children)
        if (!plugged(s, child) && s.plan[child].kind != plan::Kind::load) ways += ways_of(s, child);
    return ways;
}

int ways_of(const Situation& s, Index i) {
    const auto* outlet = s.plan[i].as<plan::Outlet>();
    return (outlet ? outlet->ways.value_or(1) : 0) + ways_behind(s, i);
}

/// A residual device with a plug and one way. Without a cord it sits in the outlet itself and makes no chain:
/// what its contacts carry is heat.plug-overloaded's matter. With one it is a lead.
bool is_portable(const Situation& s, Index i) {
    const auto* device = s.plan[i].as<plan::Device>();
    return device && ways_of(s, i) == 1 && residual_part(s, *device) == Known::yes;
}

/// A reel with one thing plugged in serves as a lead, however many ways it has.
bool is_lead(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (is_portable(s, i)) return true;
    if (e.kind != plan::Kind::outlet) return false;
    const bool reel = e.cable && (e.cable->reel.is(plan::Reel::wound) ||
                                  e.cable->reel.is(plan::Reel::unwound) || e.cable->reel.stated_unknown);
    return ways_of(s, i) == 1 || (reel && e.children.size() <= 1);
}

struct Chain {
    Variant variant = alone;
    std::vector<Index> before;  ///< what hangs between this one and the wall, nearest first
};

Chain chain_of(const Situation& s, Index i) {
    Chain chain;
    bool strip = false, lead = false;
    for (Index up = s.plan[i].parent; up != plan::nowhere; up = s.plan[up].parent) {
        if (!plugged(s, up) || (is_portable(s, up) && !s.plan[up].cable)) continue;
        chain.before.push_back(up);
        (is_lead(s, up) ? lead : strip) = true;
    }
    if (is_lead(s, i))
        chain.variant = lead ? leads_in_series : alone;
    else if (strip)
        chain.variant = strip_on_strip;
    else if (lead)
        chain.variant = lead_before_bench;
    return chain;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!plugged(s, i)) continue;
        Outcome o;
        o.at = at_element(i);
        o.variant = chain_of(s, i).variant;
        o.basis = s.nec() && o.variant == strip_on_strip ? Basis::marking : Basis::practice;
        if (o.variant == strip_on_strip) o.verdict = Verdict::fail;
        if (o.variant == lead_before_bench || o.variant == leads_in_series) o.verdict = Verdict::caution;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const Chain chain = chain_of(s, o.at.index);
    const std::string name = element.words();
    Explanation e;
    e.place = {place_of(element.plug, element), ""};
    if (chain.variant == alone) {
        e.headline = capital(name) + " is plugged in without a strip or a lead before it";
        return e;
    }
    for (const Index up : chain.before)
        e.related.push_back({place_of(s.plan[up].plug, s.plan[up]), "plugged in before it"});
    const std::string before = list(s, chain.before);
    e.short_words = name + " is plugged in behind " + before;
    e.remedies = {{Cost::free, "plug " + name + " into the wall outlet itself"},
                  {Cost::cheap, "or give it one cord that is long enough, of the next thicker section"}};
    switch (o.variant) {
        case strip_on_strip:
            e.headline =
                capital(name) + " is plugged in behind " + before + ": one plug carries what both feed";
            e.consequence =
                "Everything behind both runs through the first plug, and every further contact heats and "
                "drops "
                "volts of its own.";
            if (s.nec()) e.consequence += " The listing of strips rules it out.";
            break;
        case lead_before_bench:
            e.headline = capital(name) + " is plugged in behind " + before + ", an extension lead";
            e.consequence =
                "One contact more carries the whole bench, and the lead may be thinner than its cord.";
            break;
        default:
            e.headline = capital(name) + " is plugged in behind " + before + ": leads in series";
            e.consequence =
                "Their lengths add up for the drop, and the joint on the floor is stepped on and heats.";
    }
    return e;
}

}  // namespace

const Rule rule{.id = "heat.chained-leads",
                .title = "leads or strips are plugged into one another",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::chained_leads
