#include <benchfeed/rules/worst_subset.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>
#include <optional>
#include <utility>

#include <benchfeed/rules/nearest.hpp>

namespace benchfeed::rules {

namespace {

using Plane = std::complex<double>;  // amperes or volts on the complex plane

/// Length of a phasor. std::abs() guards against sums beyond 1e154, which nothing here comes near, and takes
/// longer.
double length(const Plane& phasor) {
    return std::sqrt(std::norm(phasor));
}

template <class Unit>
Plane plain(const bu::quantity<Unit>& unit_of_it, const bu::quantity<Unit, Plane>& phasor) {
    return {in(unit_of_it, real_part(phasor)), in(unit_of_it, imag_part(phasor))};
}
template <class Unit>
std::vector<Plane> plain(const bu::quantity<Unit>& unit_of_it,
                         const std::vector<bu::quantity<Unit, Plane>>& phasors) {
    std::vector<Plane> numbers;
    numbers.reserve(phasors.size());
    for (const auto& phasor : phasors) numbers.push_back(plain(unit_of_it, phasor));
    return numbers;
}

/// Shares that can point anywhere from `late` to `early`, directions of length 1 no more than a right angle
/// apart: together of this size.
struct Arc {
    double from, to;  ///< the angles of the two
    Plane late, early;
    double size;
};

/// Angle between -pi and pi.
double wrapped(double angle) {
    return std::remainder(angle, 2 * std::numbers::pi);
}

/// One arc for all fans between the same two angles.
std::vector<Arc> arcs_of(const std::vector<Fan>& fans) {
    std::map<std::pair<double, double>, double> sizes;
    for (const Fan& fan : fans) {
        const Plane share = plain(unit::ampere, fan.in_phase);
        const double lag = std::acos(std::clamp(in(unit::one, fan.least_power_factor), 0.0, 1.0));
        sizes[{std::arg(share) - lag, std::arg(share)}] += length(share);
    }
    std::vector<Arc> arcs;
    for (const auto& [angles, size] : sizes)
        arcs.push_back({angles.first, angles.second, std::polar(1.0, angles.first),
                        std::polar(1.0, angles.second), size});
    return arcs;
}

/// What the arcs give towards a direction, and the phasor of those that are turned away from it by a known
/// angle: the peak of the sum near there lies where that phasor points.
struct Towards {
    double sum = 0;
    Plane turned_away = 0;
};
Towards towards(const std::vector<Arc>& arcs, double angle) {
    const Plane direction = std::polar(1.0, angle), across = direction * Plane(0, 1);
    Towards result;
    for (const Arc& arc : arcs) {
        const double late = along(arc.late, direction), early = along(arc.early, direction);
        const bool between =
            along(arc.late, across) <= 0 && along(arc.early, across) >= 0 && late + early > 0;
        const double share = between ? 1.0 : std::max(late, early);
        if (share <= 0) continue;
        result.sum += arc.size * share;
        if (!between) result.turned_away += arc.size * (early > late ? arc.early : arc.late);
    }
    return result;
}

}  // namespace

Current largest_sum_of_fans(const std::vector<Fan>& fans) {
    const std::vector<Arc> arcs = arcs_of(fans);
    std::vector<double> bounds;
    for (const Arc& arc : arcs)
        for (const double angle :
             {arc.from, arc.to, arc.from - std::numbers::pi / 2, arc.to + std::numbers::pi / 2})
            bounds.push_back(wrapped(angle));
    std::sort(bounds.begin(), bounds.end());
    double largest = 0;
    for (std::size_t i = 0; i < bounds.size(); ++i) {
        const double here = bounds[i],
                     next = i + 1 < bounds.size() ? bounds[i + 1] : bounds.front() + 2 * std::numbers::pi;
        largest = std::max(largest, towards(arcs, here).sum);
        const Plane inside = towards(arcs, (here + next) / 2).turned_away;
        if (length(inside) > 0) largest = std::max(largest, towards(arcs, std::arg(inside)).sum);
    }
    return largest * unit::ampere;
}

Current largest_sum(const std::vector<CurrentPhasor>& phasors) {
    const std::vector<Plane> shares = plain(unit::ampere, phasors);
    if (std::all_of(shares.begin(), shares.end(), [](Plane s) { return s.imag() == 0 && s.real() >= 0; })) {
        double sum = 0;  // all in one direction
        for (const Plane& share : shares) sum += share.real();
        return sum * unit::ampere;
    }
    const auto sum_towards = [&](double angle) {
        const Plane direction = std::polar(1.0, angle);
        Plane sum = 0;
        for (const Plane& share : shares)
            if (along(share, direction) > 0) sum += share;
        return length(sum);
    };
    double largest = 0;
    for (const Plane& share : shares) {
        const double ahead = std::arg(share), turn = std::numbers::pi / 2, nudge = 1e-9;
        for (const double angle :
             {ahead, ahead + turn - nudge, ahead + turn + nudge, ahead - turn - nudge, ahead - turn + nudge})
            largest = std::max(largest, sum_towards(angle));
    }
    return largest * unit::ampere;
}

namespace {

/// What is left at worst, and the direction in which it is seen.
struct Remaining {
    double size = 0;
    Plane direction;
};
/// A subset whose own sum points where just its members have a negative share is the worst one: in every
/// direction something is left of it that is no longer than its sum. Nothing where the guesses do not settle.
std::optional<Remaining> settled(const Plane& start, const std::vector<Plane>& shares) {
    Plane sum = start;
    for (const Plane& share : shares) sum += share;
    for (int guess = 0; guess < 4 && length(sum) > 0; ++guess) {
        const Plane direction = sum / length(sum);
        Plane next = start;
        for (const Plane& share : shares)
            if (along(share, direction) < 0) next += share;
        if (length(next - sum) <= 1e-12 * length(sum)) return Remaining{length(next), direction};
        sum = next;
    }
    return std::nullopt;
}

Remaining remaining(const Plane& start, const std::vector<Plane>& shares) {
    if (const auto quick = settled(start, shares)) return *quick;
    // What the shares can take, and the nearest to the start of all that.
    const Nearest rest = nearest(start, [&](double angle) {
        const Plane direction = std::polar(1.0, angle);
        Plane taken = 0;
        for (const Plane& share : shares)
            if (along(share, direction) < 0) taken -= share;
        return taken;
    });
    return {rest.distance, std::polar(1.0, rest.direction)};
}

}  // namespace

Voltage smallest_remaining(VoltagePhasor sent, const std::vector<VoltagePhasor>& phasors) {
    return remaining(plain(unit::volt, sent), plain(unit::volt, phasors)).size * unit::volt;
}

Worst worst_of(VoltagePhasor sent, const std::vector<VoltagePhasor>& phasors) {
    const std::vector<Plane> shares = plain(unit::volt, phasors);
    const Remaining left = remaining(plain(unit::volt, sent), shares);
    Worst worst{left.size * unit::volt, {}};
    for (const Plane& share : shares) worst.members.push_back(along(share, left.direction) < 0);
    return worst;
}

}  // namespace benchfeed::rules
