#include <benchfeed/advice/size_trials.hpp>

#include <algorithm>
#include <tuple>

#include <benchfeed/advice/sizes.hpp>

namespace benchfeed::advice {

using rules::Situation;
using rules::Verdict;

namespace {

/// Which end of a circuit is its worst one moves with the sections: such faults are counted, not named.
bool moves(Index rule) {
    return rules::registry()[rule].id == "shock.slow-disconnection";
}

auto order_of(const Fault& fault) {
    return std::tuple(fault.rule, fault.set, fault.at.kind, fault.at.index, fault.part);
}

void add(Found& found, Fault fault, Verdict verdict) {
    if (verdict == Verdict::ok) return;
    const Index place = fault.at.index;
    const bool counted = moves(fault.rule);
    if (counted) fault.at.index = plan::nowhere;
    Seen& seen = found[fault];
    const auto note = [&](int& count, Verdict least) {
        if (verdict >= least) count = counted ? count + 1 : 1;
    };
    note(seen.cautions, Verdict::caution);
    note(seen.undecided, Verdict::cannot_judge);
    note(seen.fails, Verdict::fail);
    seen.places.push_back(place);
    seen.verdicts.push_back(verdict);
}

/// Only what runs behind the element of the limit counts.
bool counts_below(const rules::Limit& limit) {
    using Kind = rules::Reach::Kind;
    const Kind kind = limit.reach.kind;
    return kind == Kind::through || kind == Kind::largest_way || kind == Kind::neutral;
}

constexpr std::size_t many_loads = 32;  ///< sets with fewer are added up whole

}  // namespace

bool FaultOrder::operator()(const Fault& a, const Fault& b) const {
    return order_of(a) < order_of(b);
}

bool bad(const Seen& seen, Index rule) {
    return seen.fails > 0 || (seen.undecided > 0 && rules::registry()[rule].essential);
}
bool bad(Verdict verdict, Index rule) {
    return verdict == Verdict::fail ||
           (verdict == Verdict::cannot_judge && rules::registry()[rule].essential);
}

Trials::Trials(const Situation& s, std::vector<StockGroup> groups)
    : s_(s),
      groups_(std::move(groups)),
      plan_(s.plan),
      sets_at_(s.plan.elements.size()),
      by_enter_(s.plan.sets.size()) {
    const auto enter = [&](Index load) { return s.network.enter[load]; };
    for (Index set = 0; set < s.plan.sets.size(); ++set) {
        const auto& loads = s.plan.sets[set].loads;
        for (const Index load : loads)
            for (Index up = load; up != plan::nowhere; up = s.plan[up].parent) {
                if (!sets_at_[up].empty() && sets_at_[up].back() == set) break;
                sets_at_[up].push_back(set);
            }
        if (loads.size() < many_loads) continue;
        by_enter_[set] = loads;
        std::sort(by_enter_[set].begin(), by_enter_[set].end(),
                  [&](Index a, Index b) { return enter(a) < enter(b); });
    }
}

void Trials::take(const Sizes& sizes) {
    std::vector<Section> lines(groups_.size());
    for (std::size_t g = 0; g < groups_.size(); ++g)
        if (!groups_[g].choices.empty()) lines[g] = groups_[g].choices[sizes[g]];
    set_sections(plan_, s_.plan, s_.tables, groups_, lines);
}

Found Trials::look() {
    ++made_;
    const network::Network network = this->network();
    const Situation s{plan_, network, s_.tables};
    std::vector<rules::SetSums> sums;
    for (const plan::RunSet& set : plan_.sets) sums.emplace_back(s, set.loads);
    Found found;
    const auto rules = rules::registry();
    for (Index r = 0; r < rules.size(); ++r) {
        if (rules[r].families.find(s.nec() ? "nec" : "iec") == std::string_view::npos) continue;
        if (!rules[r].look || rules[r].sections.on == rules::Depends::nothing) continue;
        if (rules[r].harm == rules::Harm::plan) continue;  // words of the plan, not the bench
        const rules::Yield yield = rules[r].look(s);
        for (const rules::Outcome& o : yield.outcomes) add(found, {r, o.at, o.part, o.set}, o.verdict);
        for (const rules::Limit& limit : yield.limits) add_limit(s, limit, r, sums, found);
    }
    return found;
}

rules::Evaluated Trials::evaluated(const Situation& s, const rules::Limit& limit, Index set,
                                   const rules::SetSums& sums) const {
    if (!counts_below(limit) || by_enter_[set].empty()) return sums.evaluated(limit);
    const auto& all = by_enter_[set];
    const Index element = limit.reach.element;
    auto at = std::lower_bound(all.begin(), all.end(), s.network.enter[element],
                               [&](Index load, Index wanted) { return s.network.enter[load] < wanted; });
    std::vector<Index> below;
    for (; at != all.end() && s.network.hangs_below(*at, element); ++at) below.push_back(*at);
    std::sort(below.begin(), below.end());
    return rules::evaluate(s, limit, below);
}

void Trials::add_limit(const Situation& s, const rules::Limit& limit, Index rule,
                       const std::vector<rules::SetSums>& sums, Found& found) const {
    // What a start does is judged in the sets of its starter.
    const Index starter = limit.reach.starter;
    const Index who = starter == plan::nowhere ? limit.reach.element : starter;
    for (const Index set : sets_at_[who]) {
        const rules::Evaluated what = evaluated(s, limit, set, sums[set]);
        if (what.loads.empty()) continue;
        const Verdict verdict = rules::verdict_at(limit, what);
        // The caution of a contact is told at the weakest one of a set alone, whatever the sections are.
        if (limit.once_per_set && verdict == Verdict::caution) continue;
        add(found, {rule, limit.at, limit.part, set}, verdict);
    }
}

}  // namespace benchfeed::advice
