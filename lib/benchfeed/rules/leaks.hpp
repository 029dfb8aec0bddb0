#pragma once
// What healthy tools leak to the protective conductor.
#include <map>
#include <span>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What a load may leak: the limit of its kind, from table leakage-of-loads.
[[nodiscard]] tables::Found<tables::Figure<Current>> leaks(const Situation& s, Index load);

/// Loads behind a plug whose metal is earthed through it, and what they may leak in all.
struct Leak {
    std::vector<Index> loads;
    Current sum{};
};
/// Of loads that run together. What no table says is left out: shock.leakage asks for it.
[[nodiscard]] Leak leak_behind(const Situation& s, Index plug, std::span<const Index> loads);

/// The sets by the loads that they hold: who asks at many elements does not go through all sets at each.
class LoadsOfSets {
public:
    /// The situation must outlive it.
    explicit LoadsOfSets(const Situation& s);
    /// The loads behind an element by set, in the order of the network.
    [[nodiscard]] std::map<Index, std::vector<Index>> behind(Index element) const;

private:
    const Situation& s_;
    std::vector<std::vector<Index>> sets_of_;  ///< by element index
};

}  // namespace benchfeed::rules
