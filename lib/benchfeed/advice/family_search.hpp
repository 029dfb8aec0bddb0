#pragma once
// The search behind Family: what runs at one point of it, and its way through all sets. Not for use outside.
#include <algorithm>
#include <numeric>
#include <vector>

#include <benchfeed/advice/family.hpp>

namespace benchfeed::advice {

[[nodiscard]] inline double sum_of(const std::vector<double>& numbers) {
    return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

/// The loads that run at one point of a search, and how much of each condition they use.
class Search {
public:
    /// Only what always runs.
    explicit Search(const Family& family)
        : family_(family), running_(family.loads_.company.size(), 0), sums_(family.base_) {
        for (const std::size_t load : family.loads_.always) add(load);
    }

    /// The load and its company run once more.
    void add(std::size_t load) {
        for (const std::size_t one : family_.loads_.company[load])
            if (running_[one]++ == 0) count(one, 1);
    }
    /// ... and once less.
    void remove(std::size_t load) {
        for (const std::size_t one : family_.loads_.company[load])
            if (--running_[one] == 0) count(one, -1);
    }
    /// Chosen, or in company, or always.
    [[nodiscard]] bool runs(std::size_t load) const { return running_[load] > 0; }
    /// Sum of `most` of a condition.
    [[nodiscard]] double used(std::size_t condition) const { return sums_[family_.first_sum_[condition]]; }
    /// Sum of one row of its `least`.
    [[nodiscard]] double used(std::size_t condition, std::size_t row) const {
        return sums_[family_.first_sum_[condition] + 1 + row];
    }

    /// The condition does not hold for what runs now.
    [[nodiscard]] bool broken(std::size_t index) const {
        const Condition& c = family_.conditions_[index];
        if (used(index) <= 1) return false;
        for (const std::size_t needed : c.needs)
            if (running_[needed] == 0) return false;
        if (c.exact) return true;
        double row = 0;
        for (std::size_t i = 0; i < c.least.size(); ++i) row = std::max(row, used(index, i));
        if (row > 1) return true;
        if (c.surely > 0 && row <= c.surely) return false;
        return !c.holds(list());
    }
    /// Turns first: what cannot run at all forbids nothing.
    [[nodiscard]] Family::Answer answer() const {
        auto answer = Family::Answer::allowed;
        for (std::size_t i = 0; i < family_.conditions_.size(); ++i) {
            if (answer == Family::Answer::forbidden && !family_.conditions_[i].turns) continue;
            if (!broken(i)) continue;
            if (family_.conditions_[i].turns) return Family::Answer::turns;
            answer = Family::Answer::forbidden;
        }
        return answer;
    }
    /// Every load that runs, rising.
    [[nodiscard]] std::vector<std::size_t> list() const {
        std::vector<std::size_t> loads;
        for (std::size_t i = 0; i < running_.size(); ++i)
            if (running_[i] > 0) loads.push_back(i);
        return loads;
    }

private:
    void count(std::size_t load, int sign) {
        const auto& shares = family_.shares_[load];
        for (std::size_t i = 0; i < shares.size(); ++i) sums_[i] += sign * shares[i];
    }

    const Family& family_;
    std::vector<int> running_;
    std::vector<double> sums_;
};

/// Largest allowed sets, or smallest forbidden ones: see Family::largest() and smallest_forbidden().
[[nodiscard]] SetList enumerate(const Family& family, std::size_t want, std::size_t most_steps,
                                std::vector<bool> left_out, bool forbidden);

}  // namespace benchfeed::advice
