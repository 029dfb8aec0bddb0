#pragma once
// Plans that differ in their sections, and what is found in them. Not for use outside this folder.
#include <map>
#include <vector>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/rules/set_sums.hpp>

namespace benchfeed::advice {

/// Of each group the position of its size among its choices.
using Sizes = std::vector<std::size_t>;

/// What is found at one place for one set: 0 or 1 of each, or of all places together where the worst one
/// moves with the sections.
struct Seen {
    int cautions = 0, undecided = 0, fails = 0;  ///< of at least this: a fail counts in all three
    std::vector<Index> places;                   ///< elements at which something does not hold
    std::vector<rules::Verdict> verdicts;        ///< there
    /// Nothing of it is worse than it was.
    [[nodiscard]] bool within(const Seen& before) const {
        return cautions <= before.cautions && undecided <= before.undecided && fails <= before.fails;
    }
};
/// By rule, place and set, whatever the order in which they were found.
struct FaultOrder {
    /// The one comes first.
    bool operator()(const Fault& a, const Fault& b) const;
};
/// Everything that is not in order, of rules that depend on sections.
using Found = std::map<Fault, Seen, FaultOrder>;

/// A fail, or a cannot judge of an essential rule.
[[nodiscard]] bool bad(const Seen& seen, Index rule);
[[nodiscard]] bool bad(rules::Verdict verdict, Index rule);

/// The plan with other sections, looked at by every rule that depends on them.
class Trials {
public:
    /// The plan itself stays as it is.
    Trials(const rules::Situation& situation, std::vector<StockGroup> groups);

    /// Stocks that are sized as one.
    [[nodiscard]] const std::vector<StockGroup>& groups() const { return groups_; }
    /// How often it was looked at.
    [[nodiscard]] std::size_t made() const { return made_; }
    /// The plan with the sections of now.
    [[nodiscard]] plan::Plan& plan() { return plan_; }
    /// Its network.
    [[nodiscard]] network::Network network() const {
        return network::build(plan_, s_.tables, s_.network.plate_end);
    }

    /// Puts these sections into it.
    void take(const Sizes& sizes);
    /// What is found in the plan as it is now.
    [[nodiscard]] Found look();

private:
    void add_limit(const rules::Situation& s, const rules::Limit& limit, Index rule,
                   const std::vector<rules::SetSums>& sums, Found& found) const;
    [[nodiscard]] rules::Evaluated evaluated(const rules::Situation& s, const rules::Limit& limit, Index set,
                                             const rules::SetSums& sums) const;

    rules::Situation s_;
    std::vector<StockGroup> groups_;
    plan::Plan plan_;
    std::vector<std::vector<Index>> sets_at_;  ///< for each element the sets with a load at or below it
    std::vector<std::vector<Index>>
        by_enter_;  ///< of each set of many loads those loads, neighbours together
    std::size_t made_ = 0;
};

}  // namespace benchfeed::advice
