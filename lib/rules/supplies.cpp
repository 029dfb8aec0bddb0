#include "rules/supplies.hpp"

#include <algorithm>

namespace benchfeed::rules {

namespace {

/// What one supply says of the other: its name or path stands in `separate_from`.
Known says(const Situation& s, Index from, Index other) {
    const auto& list = s.plan[from].as<plan::Supply>()->separate_from;
    if (!list.known()) return Known::open;
    const bool named = std::any_of(list->begin(), list->end(), [&](const std::string& name) {
        return name == s.plan[other].name || name == s.plan[other].path();
    });
    return named ? Known::yes : Known::no;
}

}  // namespace

bool feeds_the_bench(const Situation& s, Index supply) {
    for (Index at = s.network.enter[supply]; at < s.network.leave[supply]; ++at) {
        const Index i = s.network.order[at];
        const auto kind = s.plan[i].kind;
        if (kind != plan::Kind::load && kind != plan::Kind::supply && !s.network.house[i]) return true;
    }
    return false;
}

std::vector<SupplyPair> supply_pairs(const Situation& s) {
    std::vector<Index> supplies;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::supply && feeds_the_bench(s, i)) supplies.push_back(i);
    // Which of two is the second one must not hang on the order of a file.
    std::sort(supplies.begin(), supplies.end(),
              [&](Index a, Index b) { return s.plan[a].name < s.plan[b].name; });
    std::vector<SupplyPair> pairs;
    for (std::size_t a = 0; a < supplies.size(); ++a)
        for (std::size_t b = a + 1; b < supplies.size(); ++b) {
            const Known there = says(s, supplies[a], supplies[b]), back = says(s, supplies[b], supplies[a]);
            Known separate = Known::open;
            if (there == Known::yes || back == Known::yes)
                separate = Known::yes;
            else if (there == Known::no || back == Known::no)
                separate = Known::no;
            pairs.push_back({supplies[a], supplies[b], separate});
        }
    return pairs;
}

}  // namespace benchfeed::rules
