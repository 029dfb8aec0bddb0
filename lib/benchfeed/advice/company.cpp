#include <benchfeed/advice/company.hpp>

#include <algorithm>
#include <set>

namespace benchfeed::advice {

using plan::Element;
using plan::Kind;
using plan::Load;
using plan::Plan;

namespace {

/// Ways of an outlet that loads may take: what else is plugged in keeps its own.
int ways_for_loads(const Plan& plan, Index outlet) {
    int ways = plan[outlet].as<plan::Outlet>()->ways.value_or(1);
    for (const Index child : plan[outlet].children)
        if (plan[child].kind != Kind::load && plan[child].plug.written()) --ways;
    return std::max(ways, 0);
}

bool below(const Plan& plan, Index element, Index above) {
    for (Index up = element; up != plan::nowhere; up = plan[up].parent)
        if (up == above) return true;
    return false;
}

void find_turns(const Plan& plan, Company& company) {
    for (Index i = 0; i < plan.elements.size(); ++i) {
        if (plan[i].kind == Kind::outlet) {
            Turns turns{i, ways_for_loads(plan, i), {}};
            for (const Index child : plan[i].children)
                if (plan[child].kind == Kind::load) turns.loads.push_back(child);
            if (turns.loads.size() > static_cast<std::size_t>(turns.ways))
                company.turns.push_back(std::move(turns));
        }
        const auto* sw = plan[i].as<plan::Switch>();
        if (!sw || !sw->changeover.is(true)) continue;
        Positions positions{i, {}};
        for (const Index child : plan[i].children) {
            std::vector<Index> there;
            for (const Index load : company.loads)
                if (below(plan, load, child)) there.push_back(load);
            if (!there.empty()) positions.loads.push_back(std::move(there));
        }
        if (positions.loads.size() > 1) company.changeovers.push_back(std::move(positions));
    }
}

bool may_start_by_itself(const Plan& plan, Index load) {
    const auto& starts = plan[load].as<Load>()->self_starting;
    return starts.is(true) || starts.stated_unknown;
}

/// The ways out of changeover switches that feed an element, rising.
std::vector<Index> positions_of(const Plan& plan, const Company& company, Index element) {
    std::vector<Index> ways;
    for (Index up = element; up != plan::nowhere; up = plan[up].parent) {
        const auto switched = [&](const Positions& positions) { return positions.at == plan[up].parent; };
        if (std::any_of(company.changeovers.begin(), company.changeovers.end(), switched)) ways.push_back(up);
    }
    std::sort(ways.begin(), ways.end());
    return ways;
}

/// For each load what starts by itself at the positions of switches that it needs. What takes turns at an
/// outlet may be unplugged.
std::vector<std::vector<Index>> started_by_position(const Plan& plan, const Company& company) {
    std::vector<std::vector<Index>> positions;
    for (const Index load : company.loads) positions.push_back(positions_of(plan, company, load));
    std::vector<std::vector<Index>> started(company.loads.size());
    for (std::size_t other = 0; other < company.loads.size(); ++other) {
        const Index load = company.loads[other];
        const auto holds = [&](const Turns& turns) {
            return std::find(turns.loads.begin(), turns.loads.end(), load) != turns.loads.end();
        };
        if (positions[other].empty() || !may_start_by_itself(plan, load) ||
            std::any_of(company.turns.begin(), company.turns.end(), holds))
            continue;
        for (std::size_t i = 0; i < company.loads.size(); ++i)
            if (std::includes(positions[i].begin(), positions[i].end(), positions[other].begin(),
                              positions[other].end()))
                started[i].push_back(load);
    }
    return started;
}

/// It, what it starts, what starts by itself where it is fed from, the machine in whose socket it is plugged,
/// and what those bring along.
std::vector<Index> joined(const Plan& plan, const std::vector<Index>& loads,
                          const std::vector<std::vector<Index>>& started, Index first) {
    std::vector<Index> found{first};
    for (std::size_t at = 0; at < found.size(); ++at) {
        const auto join = [&](Index load) {
            if (std::find(found.begin(), found.end(), load) == found.end()) found.push_back(load);
        };
        for (const Index other : loads)
            if (plan[other].as<Load>()->starts_with_index == found[at]) join(other);
        const auto position = std::lower_bound(loads.begin(), loads.end(), found[at]) - loads.begin();
        for (const Index other : started[static_cast<std::size_t>(position)]) join(other);
        const Index outlet = plan[found[at]].parent;
        const Index carrier = outlet == plan::nowhere ? plan::nowhere : plan[outlet].parent;
        if (carrier != plan::nowhere && plan[carrier].kind == Kind::load) join(carrier);
    }
    std::sort(found.begin(), found.end());
    return found;
}

}  // namespace

Company company_of(const Plan& plan) {
    Company company;
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (plan[i].kind == Kind::load) company.loads.push_back(i);
    find_turns(plan, company);
    std::set<Index> in_turns;
    for (const Turns& turns : company.turns) in_turns.insert(turns.loads.begin(), turns.loads.end());
    for (const Positions& positions : company.changeovers)
        for (const auto& loads : positions.loads) in_turns.insert(loads.begin(), loads.end());
    const auto started = started_by_position(plan, company);
    for (const Index load : company.loads) {
        company.joins.push_back(joined(plan, company.loads, started, load));
        if (may_start_by_itself(plan, load) && !in_turns.contains(load)) company.always.push_back(load);
    }
    return company;
}

}  // namespace benchfeed::advice
