#pragma once
// A set stands for all its subsets: which of them is worst.
#include <vector>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed::rules {

/// Largest |sum| over all subsets of the shares: the worst current.
///
/// Method  The best subset holds the shares with a positive projection on some direction, and it changes only
///         at directions perpendicular to a share: trying both sides of each is exact.
/// Check   equal to brute force in tests/unit/rules.
[[nodiscard]] Current largest_sum(const std::vector<CurrentPhasor>& shares);

/// A share whose lag nobody knows: anything from the phasor itself to one that lags by as much as the power
/// factor allows.
struct Fan {
    CurrentPhasor in_phase{};
    Ratio least_power_factor = 1.0 * unit::one;  ///< 1: the lag is known, and in the phasor
};

/// Largest |sum| over all subsets and all lags.
///
/// Method  The greatest, over directions, of the sum of what each share can give towards it; between two
///         directions at which a share begins or ends to count that is a sine and a constant, so the peak of
///         each piece is known. Exact.
/// Check   subsets and lags by brute force in tests/unit/rules; with every lag known it is largest_sum.
[[nodiscard]] Current largest_sum_of_fans(const std::vector<Fan>& fans);

/// Smallest |start + sum| over all subsets, or a little less: the fewest volts that are left.
///
/// Method  The greatest, over directions d, of start.d + sum of min(0, share.d). It lets a load draw anything
///         from nothing to all, so it is never above the best subset. Mostly a subset is found that is the
///         worst beyond doubt; else it is the distance to all that parts of the shares can take.
/// Check   brute force in tests/unit/rules: at most 0.001 % below, never above.
[[nodiscard]] Voltage smallest_remaining(VoltagePhasor start, const std::vector<VoltagePhasor>& shares);
/// The same, and which shares the worst subset holds.
struct Worst {
    Voltage left{};
    std::vector<bool> members;
};
[[nodiscard]] Worst worst_of(VoltagePhasor start, const std::vector<VoltagePhasor>& shares);

}  // namespace benchfeed::rules
