// Which loads may run at the same time: declared sets, assumed ones, and everything (rule 6 of the format).
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/reading.hpp>

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

/// The larger first, of equals the first by name: who gets a way or a position does not depend on the order
/// of a file.
void sort_by_size(const Plan& plan, std::vector<Index>& loads) {
    std::sort(loads.begin(), loads.end(), [&](Index a, Index b) {
        const double x = size_of(plan, a), y = size_of(plan, b);
        return x != y ? x > y : plan[a].name < plan[b].name;
    });
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

/// Which ways and positions are taken; loads are added one by one.
class Occupancy {
public:
    explicit Occupancy(const Plan& plan) : plan_(plan) {}

    /// Take the place of a load; what stands in its way otherwise, and then nothing is taken.
    std::optional<Conflict> take(Index load) {
        const Index outlet = plan_[load].parent;
        const bool plugged = outlet != nowhere && plan_[outlet].kind == Kind::outlet;
        if (plugged && used_ways(outlet) >= plan_[outlet].as<Outlet>()->ways.value_or(1))
            return Conflict{outlet, false};
        std::vector<std::pair<Index, Index>> positions;
        for (Index up = outlet; up != nowhere; up = plan_[up].parent) {
            const auto* sw = plan_[up].as<Switch>();
            if (!sw || !sw->changeover.is(true)) continue;
            const Index branch = branch_towards(plan_, up, load);
            const auto there = position_.find(up);
            if (there != position_.end() && there->second != branch) return Conflict{up, true};
            positions.emplace_back(up, branch);
        }
        if (plugged) ++plugged_[outlet];
        position_.insert(positions.begin(), positions.end());
        return std::nullopt;
    }

private:
    int used_ways(Index outlet) const {
        int used = 0;
        for (const Index child : plan_[outlet].children)
            used += plan_[child].kind != Kind::load && plan_[child].plug.written();
        const auto there = plugged_.find(outlet);
        return used + (there == plugged_.end() ? 0 : there->second);
    }

    const Plan& plan_;
    std::map<Index, int> plugged_;     ///< loads at one outlet
    std::map<Index, Index> position_;  ///< changeover switch -> its branch in use
};

/// Those of the loads that can run together, the first ones first; `conflict` takes the first that cannot.
std::vector<Index> compatible(const Plan& plan, const std::vector<Index>& loads,
                              std::optional<Conflict>* conflict = nullptr) {
    Occupancy occupancy(plan);
    std::vector<Index> fitting;
    for (const Index load : loads) {
        const auto found = occupancy.take(load);
        if (!found) fitting.push_back(load);
        if (found && conflict && !*conflict) *conflict = found;
    }
    return fitting;
}

/// Who starts without being asked.
struct Starters {
    std::vector<Index> by_themselves;
    std::multimap<Index, Index> with;  ///< load -> one that it starts

    [[nodiscard]] std::vector<Index> started_by(Index load) const {
        std::vector<Index> started;
        for (auto [it, end] = with.equal_range(load); it != end; ++it) started.push_back(it->second);
        return started;
    }
};

/// Loads that join by themselves: self-starting ones, those started by a member or starting one, and the
/// machine in whose socket a member is plugged.
std::vector<Index> closed(const Plan& plan, std::vector<Index> loads, const Starters& starters) {
    for (const Index load : starters.by_themselves)
        if (!holds(loads, load)) loads.push_back(load);
    loads = compatible(plan, loads);  // where another tool has its way, a self-starting one is unplugged
    for (std::size_t at = 0; at < loads.size(); ++at) {
        const Index load = loads[at];
        for (const Index started : starters.started_by(load))
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
std::vector<Index> usual_company(const Plan& plan, Index load, const std::vector<Index>& company) {
    std::vector<Index> loads{load};
    for (const Index other : company)
        if (other != load) loads.push_back(other);
    return compatible(plan, loads);
}

void add_assumed_sets(Context& context, Plan& plan, const std::vector<Index>& all, const Starters& starters) {
    std::set<Index> placed;
    for (const RunSet& set : plan.sets) placed.insert(set.loads.begin(), set.loads.end());
    const auto is_company = [&](Index i) {
        return load_of(plan, i).kind.is(LoadKind::extractor) || load_of(plan, i).kind.is(LoadKind::light);
    };
    std::vector<Index> company;
    std::copy_if(all.begin(), all.end(), std::back_inserter(company), is_company);
    sort_by_size(plan, company);
    // Tools first: an extractor or lamp that stands in one of their sets needs none of its own.
    for (const bool for_company : {false, true})
        for (const Index load : all) {
            if (is_company(load) != for_company || placed.contains(load)) continue;
            if (plan.sets.size() == most_sets)
                return context.fault(
                    "together",
                    fmt::format("more than {} sets: each load in no set has one of its own", most_sets),
                    {{plan[load].header, "this load"}},
                    "[[together]] for the loads that really run together");
            RunSet set;
            set.name = plan[load].name;
            set.assumed = true;
            set.loads = closed(plan, usual_company(plan, load, company), starters);
            for (const Index member : set.loads)
                if (is_company(member)) placed.insert(member);
            plan.sets.push_back(std::move(set));
        }
}

/// All loads of the same position of the changeover switch nearest the supply; 0 where there is none.
double size_of_position(const Plan& plan, const std::vector<Index>& all, Index load) {
    Index position = nowhere;
    for (Index up = load; plan[up].parent != nowhere; up = plan[up].parent) {
        const auto* sw = plan[plan[up].parent].as<Switch>();
        if (sw && sw->changeover.is(true)) position = up;
    }
    if (position == nowhere) return 0;
    double sum = 0;
    for (const Index other : all)
        if (other == position || branch_towards(plan, plan[position].parent, other) == position)
            sum += size_of(plan, other);
    return sum;
}

/// All loads; of loads in turns those with most amps, of the positions of a changeover the one with most in
/// all, of equals the first by name.
std::vector<Index> everything_of(const Plan& plan, std::vector<Index> all) {
    std::map<Index, std::tuple<double, double, std::string>> order;
    for (const Index load : all)
        order[load] = {-size_of_position(plan, all, load), -size_of(plan, load), plan[load].name};
    std::sort(all.begin(), all.end(), [&](Index a, Index b) { return order[a] < order[b]; });
    std::vector<Index> loads = compatible(plan, all);
    std::sort(loads.begin(), loads.end());
    return loads;
}

}  // namespace

void make_sets(Context& context, Plan& plan) {
    const std::vector<Index> all = all_loads(plan);
    Starters starters;
    for (const Index load : all) {
        const Load& what = load_of(plan, load);
        if (what.self_starting.is(true) || what.self_starting.stated_unknown)
            starters.by_themselves.push_back(load);
        if (what.starts_with_index != nowhere) starters.with.emplace(what.starts_with_index, load);
    }
    sort_by_size(plan, starters.by_themselves);
    for (Index t = 0; t < plan.together.size(); ++t) {
        const Together& together = plan.together[t];
        std::optional<Conflict> conflict;
        (void)compatible(plan, together.load_indices, &conflict);
        if (conflict) tell_conflict(context, plan, together, *conflict);
        RunSet set;
        set.name = together.name.value_or("");
        set.declared = t;
        set.loads = closed(plan, together.load_indices, starters);
        plan.sets.push_back(std::move(set));
    }
    add_assumed_sets(context, plan, all, starters);
    plan.everything.name = "everything";
    plan.everything.loads = everything_of(plan, all);
}

}  // namespace benchfeed::plan
