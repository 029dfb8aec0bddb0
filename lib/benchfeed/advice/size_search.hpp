#pragma once
// The search behind size(). Not for use outside this folder.
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include <benchfeed/advice/size_trials.hpp>

namespace benchfeed::advice {

/// Something that does not hold and is to be cured: to a caution, or wholly.
struct Goal {
    Fault fault;
    bool wholly = false;
};

/// Combinations of sizes of one plan, against what the plan was before.
///
/// A combination may be written if nothing is worse by it: no verdict at any place, and where a fault stays,
/// no cable on which it depends is changed to its disadvantage. The plan's own sizes may always be written.
class Combinations {
public:
    /// At most so many combinations are judged.
    Combinations(const rules::Situation& situation, std::vector<StockGroup> groups, const PriceList* prices,
                 std::size_t most_trials);

    /// Stocks that are sized as one.
    [[nodiscard]] const std::vector<StockGroup>& groups() const { return trials_.groups(); }
    /// The sizes of the plan.
    [[nodiscard]] const Sizes& own() const { return own_; }
    /// How many combinations were judged.
    [[nodiscard]] std::size_t made() const { return trials_.made(); }
    /// Copper, or money with a price list, of one size of a group.
    [[nodiscard]] double cost(std::size_t group, std::size_t size) const { return costs_[group][size]; }
    /// The same of a whole combination.
    [[nodiscard]] double total(const Sizes& sizes) const;
    /// The plan with other sections, as it is looked at.
    [[nodiscard]] Trials& trials() { return trials_; }
    /// What is found with these sizes.
    const Found& found(const Sizes& sizes);
    /// What keeps a combination from being written, or is asked for and not cured.
    std::vector<Fault> excess(const Sizes& sizes, const std::vector<Goal>& asked);
    /// What is asked for is no longer found.
    [[nodiscard]] static bool cured(const Found& found, const Goal& goal);

    /// It fails with the largest sizes there are, and more section only helps: no combination cures it.
    [[nodiscard]] bool never(const Goal& goal);

    /// How a search ended.
    enum class End : std::uint8_t { whole, at_bound };
    /// The cheapest combination that may be written and cures what is asked for; nothing if there is none, or
    /// if the search ended at its bound.
    ///
    /// Method  branch and bound from the smallest sizes up, cheapest corner first. A fault goes away only
    /// when
    ///         one of the cables that it depends on changes. A corner ends where more section makes its fault
    ///         worse, or where it fails with the largest sizes of the corner as well and section only helps.
    std::optional<Sizes> least(const std::vector<Goal>& asked, End& end);
    /// From a combination that may be written: faults cured by whatever raises, then each size as low as it
    /// goes. May be written, and is not the least.
    Sizes improved(const std::vector<Goal>& asked);
    /// Groups of which one must change if the fault is to go away: upstream ones first.
    [[nodiscard]] std::vector<std::size_t> deciding(const Fault& fault, const Found& found) const;

private:
    struct Node;
    class Queue;
    [[nodiscard]] double cost_of(const StockGroup& group, const Section& section,
                                 const PriceList* prices) const;
    [[nodiscard]] double least_from(const Sizes& sizes, const std::vector<bool>& fixed) const;
    [[nodiscard]] std::vector<std::size_t> deciding(rules::Depends on, const rules::At& at) const;
    [[nodiscard]] bool harmed(const Fault& fault, const Found& found, const Sizes& sizes) const;
    const std::vector<Fault>& forbidding(const Sizes& sizes);
    void add_unmade(const Sizes& sizes, std::vector<Fault>& faults) const;
    [[nodiscard]] bool may_rise(const Node& node, std::size_t g) const;
    [[nodiscard]] Node whole() const;
    [[nodiscard]] Sizes highest(const Node& node) const;
    static bool only_helps(const Fault& fault);
    static bool fails_in(const Found& there, const Fault& fault);
    bool hopeless(const Node& node, const std::vector<Fault>& faults, const std::vector<Goal>& asked);
    [[nodiscard]] std::vector<std::vector<std::size_t>> each_deciding(const Fault& fault, const Found& found,
                                                                      const std::vector<Goal>& asked) const;
    static bool hurt_by_more(const Fault& fault, const Found& now);
    std::optional<Sizes> forced(const Node& node, const std::vector<Fault>& faults,
                                const std::vector<Goal>& asked, std::vector<std::size_t>& fewest);
    const Sizes& lowest();
    void branch(const Node& node, const std::vector<Fault>& faults, const std::vector<Goal>& asked,
                Queue& queue);
    void split(const Node& node, const std::vector<std::size_t>& groups, Queue& queue) const;

    rules::Situation s_;
    Trials trials_;
    std::size_t most_trials_;
    std::vector<std::vector<double>> costs_;           ///< of each group, by size
    std::vector<std::vector<std::size_t>> groups_of_;  ///< by element: its lines, its protective core
    Sizes own_;
    Sizes lowest_;  ///< empty: not looked for yet
    std::map<Sizes, Found> known_;
    std::map<Sizes, std::vector<Fault>> forbidding_;
    Found before_;
};

}  // namespace benchfeed::advice
