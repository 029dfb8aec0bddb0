#include <benchfeed/advice/size_search.hpp>

#include <algorithm>
#include <queue>
#include <tuple>

#include <benchfeed/advice/sizes.hpp>

namespace benchfeed::advice {

using rules::Depends;
using rules::More;
using rules::Situation;

namespace {

const rules::Sections& sections_of(Index rule) {
    return rules::registry()[rule].sections;
}

/// A pair of cores that no cable has: its place is the position of the group of the protective core.
constexpr Index not_made = plan::nowhere;
/// What a metre counts that a price list has not.
constexpr double without_price = 1e9;

}  // namespace

struct Combinations::Node {
    double cost = 0;
    std::size_t age = 0;  ///< of equal cost the older one first: the same answer everywhere
    Sizes sizes;
    std::vector<bool> fixed;
    friend bool operator>(const Node& a, const Node& b) {
        return std::tie(a.cost, a.age) > std::tie(b.cost, b.age);
    }
};

class Combinations::Queue {
public:
    explicit Queue(const Combinations& of) : of_(of) {}
    void push(Sizes sizes, std::vector<bool> fixed) {
        const double cost = of_.least_from(sizes, fixed);
        open_.push({cost, age_++, std::move(sizes), std::move(fixed)});
    }
    [[nodiscard]] bool empty() const { return open_.empty(); }
    Node pop() {
        Node node = open_.top();
        open_.pop();
        return node;
    }

private:
    const Combinations& of_;
    std::priority_queue<Node, std::vector<Node>, std::greater<>> open_;
    std::size_t age_ = 0;
};

Combinations::Combinations(const Situation& s, std::vector<StockGroup> groups, const PriceList* prices,
                           std::size_t most_trials)
    : s_(s), trials_(s, std::move(groups)), most_trials_(most_trials), groups_of_(s.plan.elements.size()) {
    const auto& all = trials_.groups();
    for (std::size_t g = 0; g < all.size(); ++g) {
        auto& costs = costs_.emplace_back();
        for (const Section& section : all[g].choices) costs.push_back(cost_of(all[g], section, prices));
        own_.push_back(all[g].own);
        for (const Index cable : all[g].cables)
            if (!all[g].choices.empty()) groups_of_[cable].push_back(g);
    }
    before_ = found(own_);
}

double Combinations::cost_of(const StockGroup& group, const Section& section, const PriceList* prices) const {
    double cost = 0;
    for (const Index cable : group.cables) {
        const plan::Stock& stock = s_.plan.stocks[s_.plan[cable].cable->stock_index];
        const double metres = in(unit::metre, s_.network.branches[cable].length);
        if (prices)  // what the list does not have is taken last of all
            cost += group.protective ? 0 : metres * prices->of(*stock.type, section).value_or(without_price);
        else
            cost += metres * in(unit::mm2, copper_section(s_.tables, stock, group, section));
    }
    return cost;
}

double Combinations::total(const Sizes& sizes) const {
    double cost = 0;
    for (std::size_t g = 0; g < sizes.size(); ++g)
        if (!costs_[g].empty()) cost += costs_[g][sizes[g]];
    return cost;
}

/// With a price list a larger section may cost less: then only the order of sizes counts, not of costs.
double Combinations::least_from(const Sizes& sizes, const std::vector<bool>& fixed) const {
    double cost = 0;
    for (std::size_t g = 0; g < sizes.size(); ++g) {
        if (costs_[g].empty()) continue;
        const auto from = costs_[g].begin() + static_cast<std::ptrdiff_t>(sizes[g]);
        cost += fixed[g] ? *from : *std::min_element(from, costs_[g].end());
    }
    return cost;
}

const Found& Combinations::found(const Sizes& sizes) {
    const auto known = known_.find(sizes);
    if (known != known_.end()) return known->second;
    trials_.take(sizes);
    return known_.emplace(sizes, trials_.look()).first->second;
}

bool Combinations::cured(const Found& found, const Goal& goal) {
    const auto seen = found.find(goal.fault);
    return seen == found.end() || (goal.wholly ? seen->second.cautions == 0 : seen->second.undecided == 0);
}

/// A fault that stays gets worse: a cable that it depends on is thinner where section helps, thicker where it
/// hurts, and where nobody can say what it does, thinner.
bool Combinations::harmed(const Fault& fault, const Found& found, const Sizes& sizes) const {
    const More more = sections_of(fault.rule).more;
    const auto groups = deciding(fault, found);
    return std::any_of(groups.begin(), groups.end(), [&](std::size_t g) {
        return more == More::hurts ? sizes[g] > own_[g] : sizes[g] < own_[g];
    });
}

/// Protective cores that are not made beside their lines, or that lost their share of them.
void Combinations::add_unmade(const Sizes& sizes, std::vector<Fault>& faults) const {
    const auto& all = groups();
    for (std::size_t g = 0; g < all.size(); ++g) {
        if (!all[g].protective || all[g].choices.empty()) continue;
        const std::size_t lines = all[g].lines;
        if (sizes[g] == own_[g] && sizes[lines] == own_[lines]) continue;
        if (!is_made(s_, all[g], lines_section(s_, all[lines], sizes[lines]), all[g].choices[sizes[g]]))
            faults.push_back({not_made, {rules::At::Kind::stock, static_cast<Index>(g)}});
    }
}

/// What keeps a combination from being written, whatever is asked for.
const std::vector<Fault>& Combinations::forbidding(const Sizes& sizes) {
    const auto known = forbidding_.find(sizes);
    if (known != forbidding_.end()) return known->second;
    std::vector<Fault> faults;
    add_unmade(sizes, faults);
    const Found& now = found(sizes);
    const static Seen nothing;
    for (const auto& [fault, seen] : now) {
        const auto before = before_.find(fault);
        const Seen& was = before == before_.end() ? nothing : before->second;
        const bool worse = !seen.within(was);
        if (worse || (bad(was, fault.rule) && seen.undecided > 0 && harmed(fault, now, sizes)))
            faults.push_back(fault);
    }
    return forbidding_.emplace(sizes, std::move(faults)).first->second;
}

std::vector<Fault> Combinations::excess(const Sizes& sizes, const std::vector<Goal>& asked) {
    std::vector<Fault> faults = forbidding(sizes);
    const Found& now = found(sizes);
    for (const Goal& goal : asked)
        if (!cured(now, goal) && std::find(faults.begin(), faults.end(), goal.fault) == faults.end())
            faults.push_back(goal.fault);
    return faults;
}

std::vector<std::size_t> Combinations::deciding(Depends on, const rules::At& at) const {
    std::vector<std::size_t> found;
    const auto add = [&](Index element) {
        for (const std::size_t g : groups_of_[element])
            if (std::find(found.begin(), found.end(), g) == found.end()) found.push_back(g);
    };
    if (at.kind != rules::At::Kind::element || at.index == plan::nowhere) on = Depends::all;
    if (on == Depends::own || on == Depends::here) {
        add(at.index);
        if (on == Depends::here)
            for (const Index child : s_.plan[at.index].children) add(child);
    } else if (on == Depends::way) {
        for (const Index up : s_.plan.path_to(at.index)) add(up);
    } else {
        for (std::size_t g = 0; g < groups().size(); ++g)
            if (!groups()[g].choices.empty()) found.push_back(g);
    }
    return found;
}

std::vector<std::size_t> Combinations::deciding(const Fault& fault, const Found& now) const {
    if (fault.rule == not_made) return {groups()[fault.at.index].lines, fault.at.index};
    if (fault.at.kind != rules::At::Kind::element || fault.at.index != plan::nowhere)
        return deciding(sections_of(fault.rule).on, fault.at);
    std::vector<std::size_t> all;  // counted: of all of them together one must go
    const auto seen = now.find(fault);
    if (seen == now.end()) return all;
    for (const Index place : seen->second.places)
        for (const std::size_t g : deciding(sections_of(fault.rule).on, rules::at_element(place)))
            if (std::find(all.begin(), all.end(), g) == all.end()) all.push_back(g);
    return all;
}

bool Combinations::may_rise(const Node& node, std::size_t g) const {
    return !node.fixed[g] && node.sizes[g] + 1 < groups()[g].choices.size();
}

/// The largest sizes of a corner.
Sizes Combinations::highest(const Node& node) const {
    Sizes sizes = node.sizes;
    for (std::size_t g = 0; g < sizes.size(); ++g)
        if (!node.fixed[g] && !groups()[g].choices.empty()) sizes[g] = groups()[g].choices.size() - 1;
    return sizes;
}

bool Combinations::only_helps(const Fault& fault) {
    return fault.rule != not_made && sections_of(fault.rule).more == More::helps;
}

/// It fails with the largest sizes of the corner as well, and more section only helps.
bool Combinations::hopeless(const Node& node, const std::vector<Fault>& faults,
                            const std::vector<Goal>& asked) {
    if (std::none_of(faults.begin(), faults.end(), only_helps)) return false;
    const Found& there = found(highest(node));
    const auto goes_on = [&](const Fault& fault) {
        const auto before = before_.find(fault);
        return fails_in(there, fault) && (before == before_.end() || before->second.fails == 0);
    };
    return std::any_of(faults.begin(), faults.end(), goes_on) ||
           std::any_of(asked.begin(), asked.end(),
                       [&](const Goal& goal) { return fails_in(there, goal.fault); });
}

/// More section only helps against it, and it fails there all the same.
bool Combinations::fails_in(const Found& there, const Fault& fault) {
    const auto seen = there.find(fault);
    return only_helps(fault) && seen != there.end() && fault.at.index != plan::nowhere &&
           seen->second.fails > 0;
}

bool Combinations::never(const Goal& goal) {
    return only_helps(goal.fault) && fails_in(found(highest(whole())), goal.fault);
}

/// The corner of all sizes.
Combinations::Node Combinations::whole() const {
    Node node;
    node.sizes.assign(groups().size(), 0);
    node.fixed.assign(groups().size(), false);
    return node;
}

std::optional<Sizes> Combinations::least(const std::vector<Goal>& asked, End& end) {
    end = End::whole;
    Queue queue(*this);
    queue.push(lowest(), std::vector<bool>(groups().size(), false));
    std::optional<Sizes> best;
    while (!queue.empty()) {
        if (trials_.made() >= most_trials_) {
            end = End::at_bound;
            return std::nullopt;
        }
        const Node node = queue.pop();
        if (best && node.cost >= total(*best)) return best;
        const std::vector<Fault> faults = excess(node.sizes, asked);
        if (!faults.empty()) {
            if (!hopeless(node, faults, asked)) branch(node, faults, asked, queue);
            continue;
        }
        if (!best || total(node.sizes) < total(*best)) best = node.sizes;
        // Where prices fall with the section a larger size in this corner may cost less still.
        if (total(node.sizes) <= node.cost) return best;
        split(node, deciding(Depends::all, {}), queue);
    }
    return best;
}

/// The groups of which one must change, for each place of a fault that is counted if all of them must go.
std::vector<std::vector<std::size_t>> Combinations::each_deciding(const Fault& fault, const Found& now,
                                                                  const std::vector<Goal>& asked) const {
    const bool counted = fault.rule != not_made && fault.at.kind == rules::At::Kind::element &&
                         fault.at.index == plan::nowhere;
    const auto seen = now.find(fault);
    if (!counted || seen == now.end()) return {deciding(fault, now)};
    const auto before = before_.find(fault);
    const Seen was = before == before_.end() ? Seen{} : before->second;
    const auto is_asked = [&](bool wholly) {
        return std::any_of(asked.begin(), asked.end(),
                           [&](const Goal& goal) { return goal.fault == fault && goal.wholly == wholly; });
    };
    // From this verdict on none may be left.
    std::optional<rules::Verdict> none;
    if (was.fails == 0 && seen->second.fails > 0) none = rules::Verdict::fail;
    if (seen->second.undecided > 0 && (was.undecided == 0 || is_asked(false)))
        none = rules::Verdict::cannot_judge;
    if (was.cautions == 0 || is_asked(true)) none = rules::Verdict::caution;
    if (!none) return {deciding(fault, now)};
    std::vector<std::vector<std::size_t>> each;
    for (std::size_t i = 0; i < seen->second.places.size(); ++i)
        if (seen->second.verdicts[i] >= *none)
            each.push_back(deciding(sections_of(fault.rule).on, rules::at_element(seen->second.places[i])));
    return each;
}

/// What more section makes worse, and fails already.
bool Combinations::hurt_by_more(const Fault& fault, const Found& now) {
    if (fault.rule == not_made || sections_of(fault.rule).more != More::hurts) return false;
    const auto seen = now.find(fault);
    return seen != now.end() && seen->second.fails > 0;
}

/// What must rise in a corner, whatever else does: where only one of the groups that decide can. `fewest`: of
/// the other faults the groups of the one with the fewest. Nothing where no rise cures one of the faults.
std::optional<Sizes> Combinations::forced(const Node& node, const std::vector<Fault>& faults,
                                          const std::vector<Goal>& asked, std::vector<std::size_t>& fewest) {
    Sizes raised = node.sizes;
    const Found& now = found(node.sizes);
    for (const Fault& fault : faults) {
        // Nothing in this corner cures it. What fails at a size fails at a larger one, whatever is known
        // there.
        if (hurt_by_more(fault, now)) return std::nullopt;
        for (std::vector<std::size_t>& groups : each_deciding(fault, now, asked)) {
            std::erase_if(groups, [&](std::size_t g) { return !may_rise(node, g); });
            if (groups.empty()) return std::nullopt;
            if (groups.size() == 1 && raised[groups.front()] == node.sizes[groups.front()])
                ++raised[groups.front()];
            if (fewest.empty() || groups.size() < fewest.size()) fewest = groups;
        }
    }
    return raised;
}

/// The lowest corner of all that may be written: what every search would find first, found once.
const Sizes& Combinations::lowest() {
    if (lowest_.empty()) {
        Node node = whole();
        for (bool rises = true; rises && trials_.made() < most_trials_;) {
            std::vector<std::size_t> fewest;
            const auto raised = forced(node, forbidding(node.sizes), {}, fewest);
            rises = raised && *raised != node.sizes;
            if (rises) node.sizes = *raised;
        }
        lowest_ = std::move(node.sizes);
    }
    return lowest_;
}

void Combinations::branch(const Node& node, const std::vector<Fault>& faults, const std::vector<Goal>& asked,
                          Queue& queue) {
    std::vector<std::size_t> fewest;
    auto raised = forced(node, faults, asked, fewest);
    if (!raised) return;
    if (*raised != node.sizes) return queue.push(std::move(*raised), node.fixed);
    split(node, fewest, queue);
}

/// Everything in the corner but its lowest point: the first that rises, the ones before it staying.
void Combinations::split(const Node& node, const std::vector<std::size_t>& groups, Queue& queue) const {
    std::vector<bool> fixed = node.fixed;
    for (const std::size_t g : groups) {
        if (may_rise(node, g)) {
            Sizes sizes = node.sizes;
            ++sizes[g];
            queue.push(std::move(sizes), fixed);
        }
        fixed[g] = true;
    }
}

Sizes Combinations::improved(const std::vector<Goal>& asked) {
    Sizes best = own_, sizes = own_;
    const auto left = [&](const Sizes& at) {
        return std::count_if(asked.begin(), asked.end(),
                             [&](const Goal& goal) { return !cured(found(at), goal); });
    };
    for (bool rises = true; rises;) {
        rises = false;
        for (const Fault& fault : excess(sizes, asked))
            for (const std::size_t g : deciding(fault, found(sizes)))
                if (!rises && sizes[g] + 1 < groups()[g].choices.size()) {
                    ++sizes[g];
                    rises = true;
                }
        if (rises && excess(sizes, {}).empty() && left(sizes) < left(best)) best = sizes;
    }
    const auto cured_by_best = left(best);
    for (std::size_t g = 0; g < best.size(); ++g)
        while (best[g] > 0) {
            --best[g];
            if (excess(best, {}).empty() && left(best) <= cured_by_best) continue;
            ++best[g];
            break;
        }
    return best;
}

}  // namespace benchfeed::advice
