// restart.lights-cut: what stops the tools puts out the only lamp, beside a blade that still turns.
#include <algorithm>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::lights_cut {
namespace {

/// Or may feed one: what is said to be unknown is a caution as well.
bool feeds_a_cutter(const Situation& s, Index i) {
    const auto loads = loads_below(s, i);
    return std::any_of(loads.begin(), loads.end(), [&](Index load) {
        const auto& cutter = s.plan[load].as<plan::Load>()->cutter;
        return cutter.is(true) || cutter.stated_unknown;
    });
}

/// The release above a lamp that also feeds a cutter, or nowhere.
Index release_over(const Situation& s, Index lamp) {
    for (Index up = s.plan[lamp].parent; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* sw = s.plan[up].as<plan::Switch>();
        if (sw && is_release(*sw) && feeds_a_cutter(s, up)) return up;
    }
    return plan::nowhere;
}

Yield look(const Situation& s) {
    Yield yield;
    std::vector<Index> lamps;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* load = s.plan[i].as<plan::Load>();
        if (load && load->kind.is(plan::LoadKind::light)) lamps.push_back(i);
    }
    if (lamps.empty()) return yield;
    std::sort(lamps.begin(), lamps.end(), [&](Index a, Index b) { return s.plan[a].name < s.plan[b].name; });
    const auto stays_on = std::find_if(lamps.begin(), lamps.end(),
                                       [&](Index lamp) { return release_over(s, lamp) == plan::nowhere; });
    Outcome o;
    o.at = at_element(stays_on == lamps.end() ? lamps.front() : *stays_on);
    o.basis = Basis::practice;
    if (stays_on == lamps.end()) o.verdict = Verdict::caution;
    yield.outcomes.push_back(o);
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& lamp = s.plan[o.at.index];
    Explanation e;
    e.place = {lamp.header, ""};
    if (o.verdict == Verdict::ok) {
        e.headline = "A lamp stays on when the tools are stopped";
        return e;
    }
    const plan::Element& release = s.plan[release_over(s, o.at.index)];
    e.headline =
        capital(release.words()) + " puts out " + lamp.words() + " as well, and the plan has no other lamp";
    e.short_words = release.words() + " puts out the light";
    e.place.text = "off with the tools";
    e.related.push_back({release.header, "what opens"});
    e.consequence = "A blade runs down for seconds: it is dark just then.";
    e.remedies = {{Cost::free, "feed the lamp from the box before " + release.words()},
                  {Cost::cheap, "or a lamp with a battery of its own"}};
    return e;
}

}  // namespace

const Rule rule{.id = "restart.lights-cut",
                .title = "what stops the tools puts out the only lamp",
                .harm = Harm::restart,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::lights_cut
