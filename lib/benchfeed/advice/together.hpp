#pragma once
// What may run together and what must not.
#include <optional>
#include <vector>

#include <benchfeed/advice/conditions.hpp>
#include <benchfeed/base/api.hpp>

namespace benchfeed::advice {

enum class Together : std::uint8_t { yes, no, turns, cannot_judge };

/// Loads of which any `count` are meant; all of them where there is only one.
struct Choice {
    std::vector<Index> of;
    std::size_t count = 1;
};
/// A set as choices, without what always runs.
struct ChosenSet {
    std::vector<Choice> choices;
    std::vector<Index> loads;      ///< one way to choose, by rising element index
    std::vector<Index> running;    ///< these and all that runs with them, by rising element index
    Current amps{};                ///< plain sum of those chosen, of whatever circuit
    std::optional<Broken> broken;  ///< of a forbidden set: what forbids it
    bool certain = true;           ///< false: only where what nobody gave is at its worst
    /// Of an allowed set: loads in turns that start by themselves and are too much beside it. It may run
    /// while the switch or the outlet that they share with others keeps them off.
    std::vector<Index> not_beside;
};
/// One list of the answer: largest allowed, or smallest forbidden sets.
struct ChosenSets {
    std::vector<ChosenSet> sets;  ///< fewest loads first, then most amps, then by name
    bool more = false;            ///< there are further ones
    bool stopped = false;  ///< the search ended at its bound: some may be missing, those here are right
};

/// A set of the plan, as check judges it.
struct PlanSet {
    Index set = plan::nowhere;  ///< index into Plan::sets
    Together answer = Together::yes;
    rules::Weakest weakest;
    std::optional<Current> value, left;  ///< at the weakest element; left is negative where it is too much
    std::optional<Power> watts_left;     ///< at the volts of the supply
    std::optional<Broken> broken;
};

/// Which loads may run at once.
struct BENCHFEED_API TogetherAnswer {
    Company company;
    std::vector<Doubt> doubts;                 ///< for each load
    std::vector<std::vector<Together>> pairs;  ///< for each two loads; on the diagonal the load alone
    std::vector<std::vector<Index>> equals;  ///< loads that stand for each other in every limit, two or more
    std::optional<Broken> always_broken;     ///< what runs always is too much already: no set is allowed
    bool always_perhaps = false;             ///< it may be, by what nobody gave: no set can be allowed
    ChosenSets largest;                      ///< without loads that cannot be judged
    ChosenSets forbidden;
    std::vector<PlanSet> sets;
    std::size_t fails_whatever_runs = 0;  ///< fails of the plan that no choice of loads changes
    /// True when every set that the plan declares is allowed.
    [[nodiscard]] bool declared_sets_fit() const;
};

/// How many sets are listed.
struct TogetherOptions {
    std::size_t most_sets = 20;
    /// Places of the search looked at for each of the two lists; beyond it the list says that it is not
    /// whole.
    std::size_t most_steps = 400'000;
};

/// Which sets of loads hold every limit of every rule, exactly.
///
/// A set stands for all its subsets. Self-starting loads are in every set; what a load starts, and the
/// machine that carries it, runs with it; loads in turns never run at the same time, and that is no
/// prohibition. A set is allowed if no limit fails and no essential rule is undecided about it, with what
/// nobody gave at the end that hurts most; it is forbidden for certain if it is so at the end that hurts
/// least as well.
[[nodiscard]] BENCHFEED_API TogetherAnswer together(const rules::Situation& situation,
                                                    const rules::Judgement& judgement,
                                                    const TogetherOptions& options = {});

/// The volts at which watts of a place are counted: between line and neutral where it has a neutral.
[[nodiscard]] Voltage volts_at(const rules::Situation& situation, Index element);

}  // namespace benchfeed::advice
