#pragma once
// Which limits a set of loads reaches, and which of its loads a limit counts: what is judged or told of many
// sets looks at these alone, not at each limit for each set.
#include <span>
#include <vector>

#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

/// The limits at each element. What runs reaches no other limits than those on the way to it. Both arguments
/// must outlive it.
class LimitsAt {
public:
    /// Sorts the limits by the element that they are reached at.
    LimitsAt(const plan::Plan& plan, const std::vector<Limit>& limits);

    /// Positions in the list of limits, rising.
    [[nodiscard]] std::vector<Index> on_the_way_to(std::span<const Index> loads) const;

private:
    /// A limit at a start concerns the sets that hold the starter: kept at that, since the elements near a
    /// supply have one for each motor of the plan.
    static Index kept_at(const Limit& limit) {
        return limit.reach.starter == plan::nowhere ? limit.reach.element : limit.reach.starter;
    }
    const plan::Plan& plan_;
    const std::vector<Limit>& all_;
    std::vector<Index> begin_, limits_;
};

/// The loads of a set, by the element behind which they hang. Both arguments must outlive it.
class LoadsBelow {
public:
    /// Sorts the loads by where they hang.
    LoadsBelow(const network::Network& network, std::span<const Index> loads);

    /// Loads on which the value of a limit depends, rising: those behind its element where nothing else
    /// counts. Sets of usual size are given whole. Valid until the next call.
    [[nodiscard]] std::span<const Index> that_count_for(const Limit& limit);

private:
    [[nodiscard]] Index enter(Index element) const { return network_.enter[element]; }
    const network::Network& network_;
    std::span<const Index> all_;
    std::vector<Index> by_enter_, found_;
};

}  // namespace benchfeed::rules
