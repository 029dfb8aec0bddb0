#pragma once
// The point of a convex set that is nearest to a place, where only its corners in directions are known.
#include <algorithm>
#include <complex>

namespace benchfeed::rules {

/// How far a convex set is from a place, and the direction from its nearest point to the place.
struct Nearest {
    double distance = 0;  ///< 0: the set holds the place
    double direction = 0;
};

/// How far one phasor reaches along another, times the length of that.
[[nodiscard]] inline double along(const std::complex<double>& phasor, const std::complex<double>& direction) {
    return phasor.real() * direction.real() + phasor.imag() * direction.imag();
}

namespace nearest_detail {

using Plane = std::complex<double>;

inline double across(Plane a, Plane b) {
    return (std::conj(a) * b).imag();
}

/// A side, and its point nearest to a place.
struct Side {
    Plane from, to, near;
};
inline Side side_of(Plane from, Plane to, Plane place) {
    const double length = std::norm(to - from);
    const double part = length > 0 ? std::clamp(along(to - from, place - from) / length, 0.0, 1.0) : 0.0;
    if (part == 0) return {from, from, from};
    if (part == 1) return {to, to, to};
    return {from, to, from + part * (to - from)};
}
inline Side nearer_of(const Side& a, const Side& b, Plane place) {
    return std::abs(place - a.near) <= std::abs(place - b.near) ? a : b;
}
inline bool triangle_holds(Plane a, Plane b, Plane c, Plane place) {
    const double one = across(b - a, place - a), two = across(c - b, place - b),
                 three = across(a - c, place - c);
    return (one > 0 && two > 0 && three > 0) || (one < 0 && two < 0 && three < 0);
}

}  // namespace nearest_detail

/// `corner(direction)` gives a point of the set that none lies beyond in the direction [rad].
///
/// Method  from the nearest point so far towards the place, the corner there, and on with the side of the two
///         that is nearer (Gilbert, Johnson and Keerthi 1988), until no corner lies beyond by more than 1e-12
///         of the place. Ended early it is a little less, never more.
template <class Corner>
[[nodiscard]] Nearest nearest(std::complex<double> place, const Corner& corner) {
    using namespace nearest_detail;
    constexpr int most_steps = 64;
    const double tiny = 1e-12 * std::abs(place);
    const Plane first = corner(std::arg(place));
    Side side{first, first, first};
    Nearest found{0, std::arg(place)};
    for (int step = 0; step < most_steps; ++step) {
        const Plane rest = place - side.near;
        if (std::abs(rest) <= tiny) return {0, found.direction};
        const double direction = std::arg(rest);
        const Plane farther = corner(direction);
        const double nearer = along(farther - side.near, rest) / std::abs(rest);
        const double least = std::abs(rest) - nearer;
        if (least >= found.distance) found = {least, direction};
        if (nearer <= tiny) break;
        if (triangle_holds(side.from, side.to, farther, place)) return {0, direction};
        side = nearer_of(side_of(side.from, farther, place), side_of(side.to, farther, place), place);
    }
    return found;
}

}  // namespace benchfeed::rules
