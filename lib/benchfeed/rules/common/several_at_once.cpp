// restart.several-at-once: one hand closes a release, a main switch or a residual current device, and two or
// more tools start.
#include <algorithm>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::several_at_once {
namespace {

using Loads = std::vector<Index>;

/// Latched cutters that start when this element's output becomes live, by element index. What a release
/// below holds back is not among them; of the positions of a changeover switch the fullest counts.
std::vector<Loads> started_by(const Situation& s) {
    std::vector<Loads> started(s.plan.elements.size());
    for (auto it = s.network.order.rbegin(); it != s.network.order.rend(); ++it) {
        const plan::Element& e = s.plan[*it];
        Loads& here = started[*it];
        const auto* sw = e.as<plan::Switch>();
        const bool in_turns = sw && sw->changeover.is(true);
        for (const Index child : e.children) {
            const auto* below = s.plan[child].as<plan::Switch>();
            if (below && below->no_volt.is(true)) continue;
            const Loads& there = started[child];
            if (!in_turns)
                here.insert(here.end(), there.begin(), there.end());
            else if (there.size() > here.size())
                here = there;
        }
        const auto* load = e.as<plan::Load>();
        if (load && !load->no_volt.is(true) && starts_and_cuts(*load) == Known::yes) here.push_back(*it);
    }
    return started;
}

/// What one hand closes: any switch, or a device that trips at a residual current.
bool is_closed_by_hand(const Situation& s, Index i) {
    if (s.plan[i].as<plan::Switch>()) return true;
    const auto* device = s.plan[i].as<plan::Device>();
    return device && residual_part(s, *device) == Known::yes;
}

/// Where a caution was told, here or below, for all that starts here.
bool told_below(const Situation& s, const std::vector<Loads>& started, const std::vector<bool>& told,
                Index i) {
    const auto& children = s.plan[i].children;
    return std::any_of(children.begin(), children.end(), [&](Index child) {
        return told[child] && started[child].size() == started[i].size();
    });
}

Yield look(const Situation& s) {
    Yield yield;
    const auto started = started_by(s);
    std::vector<bool> told(s.plan.elements.size(), false);
    for (auto it = s.network.order.rbegin(); it != s.network.order.rend(); ++it) {
        const Index i = *it;
        if (started[i].size() < 2) continue;
        told[i] = told_below(s, started, told, i);
        if (told[i] || !is_closed_by_hand(s, i)) continue;
        told[i] = true;
        Outcome o;
        o.at = at_element(i);
        o.basis = Basis::practice;
        o.verdict = Verdict::caution;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    Loads loads = started_by(s)[o.at.index];
    std::sort(loads.begin(), loads.end());
    Explanation e;
    e.place = {element.header, ""};
    const std::string closed = element.kind == plan::Kind::device ? "reset" : "switched on";
    e.headline = "When " + element.words() + " is " + closed + ", " + list(s, loads) +
                 " start at once if they were left on";
    e.short_words = list(s, loads) + " start at once";
    e.consequence = "Whoever closes it looks at one of them; a hand may be at another.";
    for (const Index load : loads) e.related.push_back({s.plan[load].header, "starts with it"});
    e.remedies = {{Cost::free, "switch off every tool before it is closed again"},
                  {Cost::cheap, "a release (no_volt = true) before each outlet, or in each tool"}};
    return e;
}

}  // namespace

const Rule rule{.id = "restart.several-at-once",
                .title = "one hand starts two or more tools",
                .harm = Harm::restart,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::several_at_once
