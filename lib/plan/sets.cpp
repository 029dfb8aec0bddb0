// Which loads may run at the same time: declared sets, assumed ones, and everything (rule 6 of the format).
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/quantity_text.hpp"
#include "plan/reading.hpp"

namespace benchfeed::plan {

namespace {

const Load& load_of(const Plan& plan, Index i) {
    return *plan[i].as<Load>();
}

bool holds(const std::vector<Index>& loads, Index load) {
    return std::find(loads.begin(), loads.end(), load) != loads.end();
}

/// A rough size, only to choose between loads in turns.
double size_of(const Plan& plan, Index i) {
    const auto& plate = load_of(plan, i).plate;
    if (!plate) return 0;
    if (plate->current.known()) return in(unit::ampere, *plate->current);
    const double volts = plate->voltage.known() ? in(unit::volt, plate->voltage->low) : 200;
    if (plate->power_in.known()) return in(unit::watt, *plate->power_in) / volts;
    if (plate->power_out.known()) return 1.5 * in(unit::watt, *plate->power_out) / volts;
    return plate->horsepower.known() ? 1.5 * in(unit::watt, plate->horsepower->power) / volts : 0;
}

/// What cannot run together: more loads than ways at an outlet, two positions of a changeover switch.
struct Conflict {
    Index at = nowhere;  ///< outlet or switch
    bool changeover = false;
};

/// The child of `top` on the way to `below`; nowhere if it does not hang there.
Index branch_towards(const Plan& plan, Index top, Index below) {
    for (Index at = below; at != nowhere; at = plan[at].parent)
        if (plan[at].parent == top) return at;
    return nowhere;
}

std::optional<Conflict> conflict_in(const Plan& plan, const std::vector<Index>& loads) {
    std::map<Index, int> plugged;     // loads at one outlet
    std::map<Index, Index> position;  // changeover switch -> its branch in use
    for (const Index load : loads) {
        const Index outlet = plan[load].parent;
        if (outlet != nowhere && plan[outlet].kind == Kind::outlet) {
            int others = 0;
            for (const Index child : plan[outlet].children)
                others += plan[child].kind != Kind::load && plan[child].plug.written();
            if (++plugged[outlet] + others > plan[outlet].as<Outlet>()->ways.value_or(1))
                return Conflict{outlet, false};
        }
        for (Index up = outlet; up != nowhere; up = plan[up].parent) {
            const auto* sw = plan[up].as<Switch>();
            if (!sw || !sw->changeover.is(true)) continue;
            const Index branch = branch_towards(plan, up, load);
            const auto [it, fresh] = position.emplace(up, branch);
            if (!fresh && it->second != branch) return Conflict{up, true};
        }
    }
    return std::nullopt;
}

/// Loads that join by themselves: self-starting ones, those started by a member or starting one, and the
/// machine in whose socket a member is plugged.
std::vector<Index> closed(const Plan& plan, std::vector<Index> loads,
                          const std::vector<Index>& self_starting) {
    for (const Index load : self_starting)
        if (!holds(loads, load)) {
            loads.push_back(load);
            if (conflict_in(plan, loads)) loads.pop_back();  // another tool has its way, so it is unplugged
        }
    std::vector<std::vector<Index>> starts(plan.elements.size());
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (const auto* load = plan[i].as<Load>(); load && load->starts_with_index != nowhere)
            starts[load->starts_with_index].push_back(i);
    for (std::size_t at = 0; at < loads.size(); ++at) {
        const Index load = loads[at];
        for (const Index started : starts[load])
            if (!holds(loads, started)) loads.push_back(started);
        const Index outlet = plan[load].parent;
        const Index carrier = outlet == nowhere ? nowhere : plan[outlet].parent;
        if (plan[load].kind == Kind::load && carrier != nowhere && plan[carrier].kind == Kind::load &&
            !holds(loads, carrier))
            loads.push_back(carrier);
    }
    std::sort(loads.begin(), loads.end());
    return loads;
}

std::vector<Index> all_loads(const Plan& plan) {
    std::vector<Index> loads;
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (plan[i].kind == Kind::load) loads.push_back(i);
    return loads;
}

void tell_conflict(Context& context, const Plan& plan, const Together& set, const Conflict& conflict) {
    const Element& at = plan[conflict.at];
    const std::string path = "together." + set.name.value_or("") + ".loads";
    if (conflict.changeover)
        context.fault(path, fmt::format("the set runs two positions of {}", at.path()),
                      {{set.loads.span, ""}, {at.header, "one position at a time"}}, "one of them");
    else
        context.fault(path, fmt::format("the set has more loads than {} has ways", at.path()),
                      {{set.loads.span, ""},
                       {at.header, fmt::format("{} plug{}", at.as<Outlet>()->ways.value_or(1),
                                               at.as<Outlet>()->ways.value_or(1) == 1 ? "" : "s")}},
                      "one of them, or ways on the outlet");
}

/// A load in no declared set: with all extractors and lights that can run with it.
std::vector<Index> usual_company(const Plan& plan, Index load, const std::vector<Index>& all) {
    std::vector<Index> loads{load};
    for (const Index other : all) {
        const auto& kind = load_of(plan, other).kind;
        if (other == load || !(kind.is(LoadKind::extractor) || kind.is(LoadKind::light))) continue;
        loads.push_back(other);
        if (conflict_in(plan, loads)) loads.pop_back();
    }
    return loads;
}

void add_assumed_sets(Plan& plan, const std::vector<Index>& all, const std::vector<Index>& self_starting) {
    std::vector<Index> placed;
    for (const RunSet& set : plan.sets) placed.insert(placed.end(), set.loads.begin(), set.loads.end());
    const auto is_company = [&](Index i) {
        return load_of(plan, i).kind.is(LoadKind::extractor) || load_of(plan, i).kind.is(LoadKind::light);
    };
    // Tools first: an extractor or lamp that stands in one of their sets needs none of its own.
    for (const bool company : {false, true})
        for (const Index load : all) {
            if (is_company(load) != company || holds(placed, load)) continue;
            RunSet set;
            set.name = plan[load].name;
            set.assumed = true;
            set.loads = closed(plan, usual_company(plan, load, all), self_starting);
            if (company) placed.insert(placed.end(), set.loads.begin(), set.loads.end());
            plan.sets.push_back(std::move(set));
            if (!company)
                for (const Index member : plan.sets.back().loads)
                    if (is_company(member)) placed.push_back(member);
        }
}

/// All loads; of loads in turns or behind a changeover those with most amps.
std::vector<Index> everything_of(const Plan& plan, std::vector<Index> all) {
    std::stable_sort(all.begin(), all.end(),
                     [&](Index a, Index b) { return size_of(plan, a) > size_of(plan, b); });
    std::vector<Index> loads;
    for (const Index load : all) {
        loads.push_back(load);
        if (conflict_in(plan, loads)) loads.pop_back();
    }
    std::sort(loads.begin(), loads.end());
    return loads;
}

}  // namespace

void make_sets(Context& context, Plan& plan) {
    const std::vector<Index> all = all_loads(plan);
    std::vector<Index> self_starting;
    for (const Index load : all)
        if (load_of(plan, load).self_starting.is(true) || load_of(plan, load).self_starting.stated_unknown)
            self_starting.push_back(load);
    for (Index t = 0; t < plan.together.size(); ++t) {
        const Together& together = plan.together[t];
        if (const auto conflict = conflict_in(plan, together.load_indices))
            tell_conflict(context, plan, together, *conflict);
        RunSet set;
        set.name = together.name.value_or("");
        set.declared = t;
        set.loads = closed(plan, together.load_indices, self_starting);
        plan.sets.push_back(std::move(set));
    }
    add_assumed_sets(plan, all, self_starting);
    plan.everything.name = "everything";
    plan.everything.loads = everything_of(plan, all);
}

}  // namespace benchfeed::plan
