#pragma once
// A family on its way through all sets. Not for use outside.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <optional>
#include <vector>

#include <benchfeed/advice/family.hpp>

namespace benchfeed::advice {

[[nodiscard]] inline double sum_of(const std::vector<double>& numbers) {
    return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

/// No place among the sums.
inline constexpr std::size_t no_sum = std::numeric_limits<std::size_t>::max();

/// One of the directions in which shares are added up, as an angle.
[[nodiscard]] inline double direction_of(std::size_t k) {
    return 2 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(directions);
}
/// What harmonics add, by their three plain sums.
[[nodiscard]] inline double harmonics_of(double triplen, double a, double b, double c) {
    return std::min(triplen * std::max({a, b, c}), a + b + c);
}

/// No sum between two directions is longer, of which this much is given towards the one and the other: where
/// what is given is a longest sum over choices of shares, it lies within both.
[[nodiscard]] inline double most_between(double there, double here, double step) {
    const double across = (here - there * std::cos(step)) / std::sin(step);
    if (across <= 0) return there;
    if (there - here * std::cos(step) <= 0) return here;
    return std::sqrt(there * there + across * across);
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
    [[nodiscard]] double used(std::size_t condition) const { return sums_[at(condition).most]; }
    /// Sum of one row of its `least`. Pre: it is not exact.
    [[nodiscard]] double used(std::size_t condition, std::size_t row) const {
        return sums_[at(condition).rows + row];
    }
    /// A load runs with which its shares add as plain amounts.
    [[nodiscard]] bool unsure(std::size_t condition) const {
        return at(condition).unsure != no_sum && sums_[at(condition).unsure] > 0.5;
    }
    /// Plain sum of one line's harmonics. Pre: they count in it.
    [[nodiscard]] double harmonics(std::size_t condition, std::size_t line) const {
        return sums_[at(condition).harmonics + line];
    }
    /// What a load and its company add to one row. Pre: the condition is not exact.
    [[nodiscard]] double gives(std::size_t condition, std::size_t row, std::size_t load) const {
        double sum = 0;
        for (const std::size_t one : family_.loads_.company[load])
            sum += std::max(0.0, family_.shares_[one][at(condition).rows + row]);
        return sum;
    }
    /// What was looked at so far, in conditions.
    [[nodiscard]] std::size_t work() const { return work_; }
    /// So many more were looked at.
    void worked(std::size_t conditions) const { work_ += conditions; }

    /// The condition does not hold for what runs now.
    [[nodiscard]] bool broken(std::size_t index) const {
        const Condition& c = family_.conditions_[index];
        if (used(index) <= 1) return false;
        for (const std::size_t needed : c.needs)
            if (running_[needed] == 0) return false;
        if (c.exact || unsure(index)) return true;
        if (!c.phasors.empty())
            if (const auto known = broken_by_phasors(index)) return *known;
        if (!c.spread.empty()) return broken_by_spread(index);
        double row = 0;
        for (std::size_t i = 0; i < at(index).row_count; ++i) row = std::max(row, used(index, i));
        if (row > 1) return true;
        work_ += c.cost;
        return !c.holds(list());
    }
    /// Turns first: what cannot run at all forbids nothing.
    [[nodiscard]] Family::Answer answer() const {
        work_ += family_.conditions_.size();
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
    [[nodiscard]] const Family::Sums& at(std::size_t condition) const { return family_.sums_[condition]; }
    void count(std::size_t load, int sign) {
        const auto& shares = family_.shares_[load];
        work_ += shares.size() / 4;
        if (sign > 0)
            for (std::size_t i = 0; i < shares.size(); ++i) sums_[i] += shares[i];
        else
            for (std::size_t i = 0; i < shares.size(); ++i) sums_[i] -= shares[i];
    }
    [[nodiscard]] std::optional<bool> broken_by_phasors(std::size_t index) const {
        const Condition& c = family_.conditions_[index];
        const std::complex<double> sum{sums_[at(index).phasor], sums_[at(index).phasor + 1]};
        if (c.sent == 0) return c.base + std::sqrt(std::norm(sum)) > 1;
        const std::complex<double> left = c.sent - sum;
        if (left.real() <= 0 || std::abs(std::arg(left)) > c.turn) return std::nullopt;
        return std::sqrt(std::norm(left)) < c.sent - 1;
    }
    /// The longest sum of shares that spread, looked for between the directions where it may be. What they
    /// give towards an angle between two others is never above what the two say of it together.
    [[nodiscard]] bool broken_by_spread(std::size_t index) const {
        const Condition& c = family_.conditions_[index];
        double room = 1;
        if (c.triplen > 0)
            room -= harmonics_of(c.triplen, harmonics(index, 0), harmonics(index, 1), harmonics(index, 2));
        for (std::size_t k = 0; k < directions; ++k)
            if (used(index, k) > room) return true;
        for (std::size_t k = 0; k < directions; ++k) {
            const Slice slice{direction_of(k), direction_of(k + 1), used(index, k),
                              used(index, (k + 1) % directions)};
            if (const auto known = reaches(c, slice, room, 0)) {
                if (*known) return true;
                continue;
            }
            work_ += c.cost;
            return !c.holds(list());
        }
        return false;
    }
    struct Slice {
        double from, to, there, here;  ///< two angles and what is given towards them
        /// No sum between the two angles is longer.
        [[nodiscard]] double most() const { return most_between(there, here, to - from); }
    };
    /// A sum between two angles exceeds the room; nothing where that lies within rounding.
    [[nodiscard]] std::optional<bool> reaches(const Condition& c, const Slice& slice, double room,
                                              int depth) const {
        constexpr int deepest = 16;
        if (slice.most() <= room) return false;
        if (depth == deepest) return std::nullopt;
        const double middle = (slice.from + slice.to) / 2;
        double given = 0;
        work_ += running_.size() / 2;
        for (std::size_t i = 0; i < running_.size(); ++i)
            if (running_[i] > 0) given += c.spread[i].towards(middle);
        if (given > room) return true;
        const auto first = reaches(c, {slice.from, middle, slice.there, given}, room, depth + 1);
        if (first.value_or(true)) return first;
        return reaches(c, {middle, slice.to, given, slice.here}, room, depth + 1);
    }

    const Family& family_;
    std::vector<int> running_;
    std::vector<double> sums_;
    mutable std::size_t work_ = 0;
};

/// Largest allowed sets, or smallest forbidden ones: see Family::largest() and smallest_forbidden().
[[nodiscard]] SetList enumerate(const Family& family, std::size_t want, std::size_t most_steps,
                                std::vector<bool> left_out, bool forbidden);

}  // namespace benchfeed::advice
