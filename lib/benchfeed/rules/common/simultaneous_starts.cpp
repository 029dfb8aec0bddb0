// trip.simultaneous-starts: motors that something really starts together trip a device that each alone does
// not.
#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/starting.hpp>

namespace benchfeed::rules::simultaneous_starts {
namespace {

using network::Guard;

bool starts(const Situation& s, Index load) {
    const Index position = s.network.load_of[load];
    return position != plan::nowhere && s.network.loads[position].start.has_value();
}

/// Loads that one event starts: a load with those that start with it; or all that start by themselves.
std::vector<std::vector<Index>> groups(const Situation& s) {
    std::vector<std::vector<Index>> found;
    std::vector<Index> by_themselves;
    std::unordered_map<Index, std::vector<Index>> with;  // by the load with which they start
    for (const network::LoadPoint& point : s.network.loads)
        if (const Index other = s.plan[point.element].as<plan::Load>()->starts_with_index;
            other != plan::nowhere && starts(s, point.element))
            with[other].push_back(point.element);
    for (const network::LoadPoint& point : s.network.loads) {
        if (!point.start) continue;
        if (s.plan[point.element].as<plan::Load>()->self_starting.is(true))
            by_themselves.push_back(point.element);
        std::vector<Index> group{point.element};
        const auto others = with.find(point.element);
        if (others == with.end()) continue;
        group.insert(group.end(), others->second.begin(), others->second.end());
        found.push_back(std::move(group));
    }
    if (by_themselves.size() > 1) found.push_back(std::move(by_themselves));
    return found;
}

std::vector<Index> behind(const Situation& s, const std::vector<Index>& group, Index element) {
    std::vector<Index> found;
    for (const Index load : group)
        if (s.network.hangs_below(load, element)) found.push_back(load);
    return found;
}

Current highest_start(const Situation& s, Index load) {
    return s.network.loads[s.network.load_of[load]].start->high;
}

std::optional<Outcome> judge_device(const Situation& s, const Guard& guard, const std::vector<Index>& group) {
    const std::vector<Index> loads = behind(s, group, guard.element);
    if (loads.size() < 2) return std::nullopt;
    Outcome o;
    o.at = at_element(guard.element);
    o.part = part_of(guard);
    o.basis = Basis::practice;
    const auto carries = network::start_withstand(s.plan, s.tables, guard, false);
    const auto margin = threshold(s, "surge_margin");
    if (!carries || !margin) return std::nullopt;  // trip.start-surge asks for the band
    Current sum{}, largest{};
    for (const Index load : loads) {
        sum += highest_start(s, load);
        largest = std::max(largest, highest_start(s, load));
    }
    const Current edge = carries->current * margin->value;
    o.value = sum;
    o.caution = edge;
    // What one motor alone does is told by trip.start-surge.
    if (above(sum, edge) && !above(largest, edge)) o.verdict = Verdict::caution;
    return o;
}

/// The group of loads of an outcome.
std::vector<Index> group_of(const Situation& s, const Outcome& o) {
    std::vector<Index> most;
    for (const auto& group : groups(s)) {
        auto loads = behind(s, group, o.at.index);
        Current sum{};
        for (const Index load : loads) sum += highest_start(s, load);
        if (loads.size() > 1 && std::holds_alternative<Current>(o.value) && sum == std::get<Current>(o.value))
            most = std::move(loads);
    }
    return most;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const auto& group : groups(s))
        for (const Guard& guard :
             network::guards_above(s.plan, s.tables, group.front(), network::Place::whole))
            if (const auto outcome = judge_device(s, guard, group)) yield.outcomes.push_back(*outcome);
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const std::vector<Index> loads = group_of(s, o);
    const std::string device = words(s, o.at, o.part);
    Explanation e;
    e.place = {s.plan[o.at.index].header, ""};
    Working working;
    std::vector<Value> amps;
    std::string pattern;
    for (const Index load : loads) {
        pattern += pattern.empty() ? "{}" : " + {}";
        amps.push_back(explain_start_current(working, s, load, true));
        e.related.push_back({s.plan[load].header, ""});
    }
    const Value sum = working.add("I", "sum of the starts", pattern, amps, "A");
    working.compare(
        sum, number(o.value) > number(o.caution) * (1 + 1e-9) ? ">" : "<=",
        explain_margin(working, s,
                       explain_carried(working, s, *guard_at(s, loads.front(), o.at.index, o.part), false)));
    e.steps = working.finish();
    e.headline = fmt::format("{} start together: up to {} through {}, which may trip above {}",
                             capital(list(s, loads)), to_text(o.value), device, to_text(o.caution));
    e.sources.push_back(threshold(s, "surge_margin")->source);
    if (o.verdict == Verdict::ok) {
        e.headline = fmt::format("{} may start together through {}", capital(list(s, loads)), device);
        return e;
    }
    e.consequence = "Each alone starts; both in the same instant may trip it.";
    e.remedies = {{Cost::free, "start the second tool by hand, after the first has run up"},
                  {Cost::cheap, "an automatic switch that starts the second tool some seconds later"}};
    return e;
}

}  // namespace

const Rule rule{.id = "trip.simultaneous-starts",
                .title = "motors that start together trip a device",
                .harm = Harm::trip,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::simultaneous_starts
