#include <benchfeed/advice/size.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <queue>
#include <set>
#include <tuple>

#include <benchfeed/advice/sizes.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using plan::Plan;
using rules::Judgement;
using rules::Situation;
using rules::Verdict;

namespace {

using rules::Depends;
using rules::More;

const rules::Sections& sections_of(Index rule) {
    return rules::registry()[rule].sections;
}

/// Which end of a circuit is its worst one moves with the sections: such faults are counted, not named.
bool moves(Index rule) {
    return rules::registry()[rule].id == "shock.slow-disconnection";
}

using Key = std::tuple<Index, Index, int, int, Index>;
Key key_of(const Fault& fault) {
    const Index at = moves(fault.rule) ? plan::nowhere : fault.at.index;
    return {fault.rule, fault.set, static_cast<int>(fault.at.kind), static_cast<int>(fault.part), at};
}
using Counts = std::map<Key, int>;
Counts counted(const std::vector<Fault>& faults) {
    Counts counts;
    for (const Fault& fault : faults) ++counts[key_of(fault)];
    return counts;
}

bool bad(Verdict verdict, Index rule) {
    return verdict == Verdict::fail ||
           (verdict == Verdict::cannot_judge && rules::registry()[rule].essential);
}

void add_once(std::vector<Fault>& faults, const Fault& fault) {
    if (std::find(faults.begin(), faults.end(), fault) == faults.end()) faults.push_back(fault);
}

}  // namespace

/// Plans that differ in their sections, and what does not hold in them.
class Trials {
public:
    Trials(const Situation& s, std::vector<StockGroup> groups)
        : s_(s), groups_(std::move(groups)), plan_(s.plan) {}

    [[nodiscard]] const std::vector<StockGroup>& groups() const { return groups_; }
    [[nodiscard]] std::size_t made() const { return made_; }
    Plan& plan() { return plan_; }

    void take(const std::vector<std::size_t>& sizes) {
        for (std::size_t g = 0; g < groups_.size(); ++g)
            if (!groups_[g].choices.empty())
                set_section(plan_, s_.plan, s_.tables, groups_[g], groups_[g].choices[sizes[g]]);
    }
    [[nodiscard]] network::Network network() const { return network::build(plan_, s_.tables); }

    /// Faults of rules that depend on sections.
    std::vector<Fault> faults() {
        ++made_;
        const network::Network network = this->network();
        const Situation s{plan_, network, s_.tables};
        std::vector<Fault> found;
        const auto rules = rules::registry();
        for (Index r = 0; r < rules.size(); ++r) {
            if (rules[r].families.find(s.nec() ? "nec" : "iec") == std::string_view::npos) continue;
            if (!rules[r].look || rules[r].sections.on == Depends::nothing) continue;
            const rules::Yield yield = rules[r].look(s);
            for (const rules::Outcome& o : yield.outcomes)
                if (bad(o.verdict, r)) add_once(found, {r, o.at, o.part, o.set});
            for (const rules::Limit& limit : yield.limits) add_limit(s, r, limit, found);
        }
        return found;
    }

private:
    static void add_limit(const Situation& s, Index rule, const rules::Limit& limit,
                          std::vector<Fault>& found) {
        const bool can_fail = !std::holds_alternative<std::monostate>(limit.edge);
        if (!can_fail && !rules::registry()[rule].essential) return;
        for (Index set = 0; set < s.plan.sets.size(); ++set) {
            const auto evaluated = rules::evaluate(s, limit, s.plan.sets[set].loads);
            if (!evaluated.loads.empty() && bad(rules::verdict_at(limit, evaluated), rule))
                add_once(found, {rule, limit.at, limit.part, set});
        }
    }

    Situation s_;
    std::vector<StockGroup> groups_;
    Plan plan_;
    std::size_t made_ = 0;
};

namespace {

using Sizes = std::vector<std::size_t>;  ///< of each group the position among its choices

class Sizing {
public:
    Sizing(const Situation& s, const SizeOptions& options)
        : s_(s), options_(options), trials_(s, groups_of(s, options.prices)) {
        const auto& groups = trials_.groups();
        for (const StockGroup& group : groups) {
            auto& costs = costs_.emplace_back();
            for (const Section& section : group.choices) costs.push_back(cost_of(group, section));
        }
        group_of_.assign(s.plan.elements.size(), groups.size());
        for (std::size_t g = 0; g < groups.size(); ++g)
            for (const Index cable : groups[g].cables)
                if (!groups[g].choices.empty()) group_of_[cable] = g;
    }

    Sized run() {
        const auto& groups = trials_.groups();
        Sizes largest;
        for (const StockGroup& group : groups)
            largest.push_back(group.choices.empty() ? 0 : group.choices.size() - 1);
        const Counts with_most = counts_with(largest), with_least = counts_with(Sizes(groups.size(), 0));
        // What neither the smallest nor the largest sizes cure is given; the rest has to be met.
        for (const auto& [key, count] : with_most)
            if (const auto least = with_least.find(key); least != with_least.end())
                given_[key] = std::min(count, least->second);
        Sized sized;
        auto found = search(sized.proven);
        if (!found) {  // not all of it at once: then what the largest sizes leave is given
            given_ = with_most;
            sized.conflict = sized.proven;
            if (sized.proven) found = search(sized.proven);
        }
        const Sizes sizes = found ? *found : lowered(largest);
        for (std::size_t g = 0; g < groups.size(); ++g) sized.groups.push_back(sized_group(g, sizes));
        finish(sized, sizes);
        return sized;
    }

private:
    struct Node {
        double cost = 0;
        std::size_t age = 0;  ///< of equal cost the older one first: the same answer everywhere
        Sizes sizes;
        std::vector<bool> fixed;
        friend bool operator>(const Node& a, const Node& b) {
            return std::tie(a.cost, a.age) > std::tie(b.cost, b.age);
        }
    };

    [[nodiscard]] double cost_of(const StockGroup& group, const Section& section) const {
        double cost = 0;
        for (const Index cable : group.cables) {
            const plan::Stock& stock = s_.plan.stocks[s_.plan[cable].cable->stock_index];
            const double metres = in(unit::metre, s_.network.branches[cable].length);
            if (options_.prices)
                cost += metres * options_.prices->of(*stock.type, section).value_or(0);
            else
                cost += metres * in(unit::mm2, copper_section(s_.tables, stock, section));
        }
        return cost;
    }
    [[nodiscard]] double total(const Sizes& sizes) const {
        double cost = 0;
        for (std::size_t g = 0; g < sizes.size(); ++g)
            if (!costs_[g].empty()) cost += costs_[g][sizes[g]];
        return cost;
    }
    /// With a price list a larger section may cost less: then only the order of sizes counts, not of costs.
    [[nodiscard]] double least_from(const Sizes& sizes, const std::vector<bool>& fixed) const {
        double cost = 0;
        for (std::size_t g = 0; g < sizes.size(); ++g)
            if (!costs_[g].empty())
                cost += fixed[g]
                            ? costs_[g][sizes[g]]
                            : *std::min_element(costs_[g].begin() + static_cast<std::ptrdiff_t>(sizes[g]),
                                                costs_[g].end());
        return cost;
    }

    /// Faults that have to be cured.
    std::vector<Fault> excess(const Sizes& sizes) {
        trials_.take(sizes);
        std::vector<Fault> faults = trials_.faults();
        const Counts counts = counted(faults);
        std::erase_if(faults, [&](const Fault& fault) {
            const auto given = given_.find(key_of(fault));
            return given != given_.end() && counts.at(key_of(fault)) <= given->second;
        });
        return faults;
    }

    /// Groups of which one must change if the fault is to go away: upstream ones first.
    [[nodiscard]] std::vector<std::size_t> deciding(const Fault& fault) const {
        std::vector<std::size_t> groups;
        const auto add = [&](Index element) {
            const std::size_t g = group_of_[element];
            if (g < trials_.groups().size() && std::find(groups.begin(), groups.end(), g) == groups.end())
                groups.push_back(g);
        };
        const bool placed = fault.at.kind == rules::At::Kind::element;
        const Depends on = placed ? sections_of(fault.rule).on : Depends::all;
        if (on == Depends::own || on == Depends::here) {
            add(fault.at.index);
            if (on == Depends::here)
                for (const Index child : s_.plan[fault.at.index].children) add(child);
        } else if (on == Depends::way) {
            for (const Index up : s_.plan.path_to(fault.at.index)) add(up);
        } else {
            for (std::size_t g = 0; g < trials_.groups().size(); ++g)
                if (!trials_.groups()[g].choices.empty()) groups.push_back(g);
        }
        return groups;
    }
    /// Faults that are counted: of all of them together one must go.
    [[nodiscard]] std::vector<std::size_t> deciding(const Fault& fault, const std::vector<Fault>& all) const {
        if (!moves(fault.rule)) return deciding(fault);
        std::vector<std::size_t> groups;
        for (const Fault& one : all)
            if (one.rule == fault.rule)
                for (const std::size_t g : deciding(one))
                    if (std::find(groups.begin(), groups.end(), g) == groups.end()) groups.push_back(g);
        return groups;
    }

    Counts counts_with(const Sizes& sizes) {
        trials_.take(sizes);
        return counted(trials_.faults());
    }

    /// The cheapest combination without such a fault; nothing if there is none, or if the search ended at its
    /// bound.
    std::optional<Sizes> search(bool& whole) {
        const std::size_t count = trials_.groups().size();
        std::priority_queue<Node, std::vector<Node>, std::greater<>> open;
        std::size_t age = 0;
        const auto push = [&](Sizes sizes, std::vector<bool> fixed) {
            const double cost = least_from(sizes, fixed);
            open.push({cost, age++, std::move(sizes), std::move(fixed)});
        };
        push(Sizes(count, 0), std::vector<bool>(count, false));
        std::optional<Sizes> best;
        while (!open.empty()) {
            if (trials_.made() >= options_.most_trials) {
                whole = false;
                return std::nullopt;
            }
            const Node node = open.top();
            open.pop();
            if (best && node.cost >= total(*best)) return best;
            const std::vector<Fault> faults = excess(node.sizes);
            if (faults.empty()) {
                if (!best || total(node.sizes) < total(*best)) best = node.sizes;
                // Where prices fall with the section a larger size in this corner may cost less still.
                if (total(node.sizes) <= node.cost) return best;
                split(node, all_groups(), push);
                continue;
            }
            branch(node, faults, push);
        }
        return best;
    }
    [[nodiscard]] std::vector<std::size_t> all_groups() const {
        std::vector<std::size_t> groups;
        for (std::size_t g = 0; g < trials_.groups().size(); ++g)
            if (!trials_.groups()[g].choices.empty()) groups.push_back(g);
        return groups;
    }
    [[nodiscard]] bool may_rise(const Node& node, std::size_t g) const {
        return !node.fixed[g] && node.sizes[g] + 1 < trials_.groups()[g].choices.size();
    }

    template <class Push>
    void branch(const Node& node, const std::vector<Fault>& faults, const Push& push) {
        Sizes raised = node.sizes;
        bool any = false;
        std::vector<std::size_t> fewest;
        for (const Fault& fault : faults) {
            std::vector<std::size_t> groups = deciding(fault, faults);
            std::erase_if(groups, [&](std::size_t g) { return !may_rise(node, g); });
            if (groups.empty() || sections_of(fault.rule).more == More::hurts)
                return;  // nothing in this corner cures it
            if (groups.size() == 1 && raised[groups.front()] == node.sizes[groups.front()]) {
                ++raised[groups.front()];
                any = true;
            }
            if (fewest.empty() || groups.size() < fewest.size()) fewest = groups;
        }
        if (any) return push(std::move(raised), node.fixed);  // all of these must rise, whatever else does
        split(node, fewest, push);
    }
    /// Everything in the corner but its lowest point: the first that rises, the ones before it staying.
    template <class Push>
    void split(const Node& node, const std::vector<std::size_t>& groups, const Push& push) {
        std::vector<bool> fixed = node.fixed;
        for (const std::size_t g : groups) {
            if (may_rise(node, g)) {
                Sizes sizes = node.sizes;
                ++sizes[g];
                push(std::move(sizes), fixed);
            }
            fixed[g] = true;
        }
    }

    /// Each group as low as it goes, one after the other: every rule holds, but less might do.
    Sizes lowered(Sizes sizes) {
        for (std::size_t g = 0; g < sizes.size(); ++g)
            while (sizes[g] > 0) {
                --sizes[g];
                if (excess(sizes).empty()) continue;
                ++sizes[g];
                break;
            }
        return sizes;
    }

    SizedGroup sized_group(std::size_t g, const Sizes& sizes) {
        SizedGroup sized;
        sized.group = trials_.groups()[g];
        sized.before = sized.after = s_.plan.stocks[sized.group.stocks.front()].section.value_or(Section{});
        if (sized.group.choices.empty()) return sized;
        sized.after = sized.group.choices[sizes[g]];
        sized.smallest = sizes[g] == 0;
        if (sized.smallest) return sized;
        Sizes less = sizes;
        --less[g];
        sized.binds = excess(less);
        return sized;
    }

    void finish(Sized& sized, const Sizes& sizes) {
        trials_.take(sizes);
        auto plan = std::make_shared<const Plan>(trials_.plan());
        auto network = std::make_shared<const network::Network>(trials_.network());
        const Situation after{*plan, *network, s_.tables};
        sized.judgement = rules::judge(after);
        sized.uncured = faults_of(sized.judgement);
        for (Index i = 0; i < s_.plan.elements.size(); ++i) {
            if (!s_.plan[i].cable || s_.network.house[i] || rules::as_sold(s_, i)) continue;
            const Index stock = s_.plan[i].cable->stock_index;
            if (stock == plan::nowhere || !s_.plan.stocks[stock].section.known()) continue;
            if (!s_.plan[i].cable->length.known()) {
                sized.without_length.push_back(i);
                continue;
            }
            sized.copper_before += copper_of(s_.plan, s_.network, i);
            sized.copper_after += copper_of(*plan, *network, i);
        }
        if (options_.prices) {
            sized.cost_before = sized.cost_after = 0;
            for (std::size_t g = 0; g < sized.groups.size(); ++g) {
                if (costs_[g].empty()) continue;
                *sized.cost_before += cost_of(sized.groups[g].group, sized.groups[g].before);
                *sized.cost_after += costs_[g][sizes[g]];
            }
        }
        sized.plan = std::move(plan);
        sized.network = std::move(network);
        sized.trials = trials_.made();
    }

    Situation s_;
    SizeOptions options_;
    Trials trials_;
    std::vector<std::vector<double>> costs_;  ///< of each group, by size
    std::vector<std::size_t> group_of_;       ///< by element
    Counts given_;                            ///< faults that need not be cured
};

}  // namespace

std::vector<Fault> faults_of(const Judgement& judgement) {
    std::vector<Fault> faults;
    for (const rules::Outcome& o : judgement.outcomes)
        if (bad(o.verdict, o.rule)) add_once(faults, {o.rule, o.at, o.part, o.set});
    return faults;
}

Sized size(const Situation& situation, const SizeOptions& options) {
    return Sizing(situation, options).run();
}

std::vector<LongestCord> longest_cords(const Sized& sized, const tables::Catalogue& tables, Index element) {
    constexpr double longest_tried = 100;  // m: far beyond what plan.implausible asks about
    const auto group = std::find_if(sized.groups.begin(), sized.groups.end(), [&](const SizedGroup& g) {
        return std::find(g.group.cables.begin(), g.group.cables.end(), element) != g.group.cables.end();
    });
    std::vector<LongestCord> found;
    if (group == sized.groups.end()) return found;
    Trials trials(sized.situation(tables), {group->group});
    const Counts given = counted(trials.faults());
    for (std::size_t k = 0; k < group->group.choices.size(); ++k) {
        trials.take({k});
        const auto holds = [&](int tenths) {
            trials.plan().elements[element].cable->length.value = tenths * 0.1 * unit::metre;
            for (const auto& [key, count] : counted(trials.faults())) {
                const auto there = given.find(key);
                if (there == given.end() || there->second < count) return false;
            }
            return true;
        };
        LongestCord cord{group->group.choices[k], std::nullopt, false};
        int good = 0, beyond = static_cast<int>(longest_tried * 10);
        if (holds(beyond)) {
            cord.length = longest_tried * unit::metre;
            cord.at_least = true;
        } else {
            while (beyond - good > 1) {
                const int middle = (good + beyond) / 2;
                (holds(middle) ? good : beyond) = middle;
            }
            if (good > 0) cord.length = good * 0.1 * unit::metre;
        }
        found.push_back(cord);
    }
    return found;
}

}  // namespace benchfeed::advice
