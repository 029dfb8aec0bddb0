// heat.neutral-overloaded: what a shared neutral carries at the worst subset, third harmonics included.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::neutral_overloaded {
namespace {

bool shares_a_neutral(const Situation& s, Index i) {
    const auto conductors = s.plan[i].conductors.value_or(plan::Conductors{});
    return cable_is_judged(s, i) && conductors.lines() >= 2 && conductors.has(plan::Conductor::n);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!shares_a_neutral(s, i)) continue;
        const network::Ampacity iz = network::ampacity(s.plan, s.tables, s.network, i);
        if (!iz.value) continue;  // heat.cable-overloaded asks for what is missing
        Limit limit;
        limit.at = at_element(i);
        limit.part = Part::cable;
        limit.reach.kind = Reach::Kind::neutral;
        limit.reach.element = i;
        limit.edge = *iz.value;
        limit.basis = Basis::physics;
        limit.ground = {iz.grade, iz.beyond};
        limit.weakest = false;  // the lines of the same cable are never loaded less by rating
        yield.limits.push_back(limit);
    }
    return yield;
}

/// Loads between a line and the neutral, line by line.
Value explain_sum(Working& working, const Situation& s, const Outcome& o, const std::vector<Index>& loads) {
    for (const auto line : {plan::Conductor::l1, plan::Conductor::l2, plan::Conductor::l3}) {
        std::vector<Index> here;
        for (const Index load : loads)
            if (s.network.loads[s.network.load_of[load]].conductors.has(line)) here.push_back(load);
        if (here.empty()) continue;
        plan::Conductors one;
        one.add(line);
        one.add(plan::Conductor::n);
        sum_of(working, s, here, "I_" + plan::conductors_text(one));
    }
    working.note(fmt::format(
        "Any of them may be off, which relieves a shared neutral least, and one whose power factor is not "
        "known may lag by as much as its kind does: {} at the worst.",
        to_text(o.value, 4)));
    return working.computed(number(o.value), "A");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    const plan::Element& element = s.plan[o.at.index];
    const network::Ampacity iz = network::ampacity(s.plan, s.tables, s.network, o.at.index);
    const Evaluated evaluated = evaluate(s, *limit, set_of(s.plan, o.set).loads);
    if (o.verdict == Verdict::cannot_judge) {
        if (evaluated.unknown != plan::nowhere) return ask_for_plate(s, o, evaluated.unknown);
        return rests_on_memory_words(s, o, cable_place(element), {iz.base.source});
    }
    Explanation e;
    const std::string cable = words(s, o.at, Part::cable);
    e.place = {cable_place(element), ""};
    e.sources.push_back(iz.base.source);
    for (const auto& factor : iz.factors) e.sources.push_back(factor.figure.source);
    Working working;
    const Value neutral = explain_sum(working, s, o, evaluated.loads);
    const Value capacity = network::explain_ampacity(working, iz);
    working.compare(neutral, o.verdict == Verdict::fail ? ">" : "<=", capacity);
    e.steps = working.finish();
    e.headline = fmt::format("{}: the neutral of {} carries {}, and is made for {}", set_words(s, o.set),
                             cable, to_text(o.value), to_text(o.edge));
    if (o.verdict == Verdict::ok) return e;
    e.short_words = "the shared neutral of " + cable + " is overloaded";
    e.consequence = "The neutral has no device of its own: it heats and nothing trips.";
    e.remedies = {{Cost::free, "spread the tools over the lines, or run fewer of them"},
                  {cost_at(s, o.at.index, Cost::cheap), "a cable of larger section"}};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.neutral-overloaded",
                .title = "a shared neutral carries more than it may",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::neutral_overloaded
