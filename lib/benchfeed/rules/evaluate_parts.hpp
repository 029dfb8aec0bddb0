#pragma once
// What the functions behind evaluate() share, one file for what runs and one for starts. Not for use outside
// them.
#include <array>
#include <complex>
#include <limits>
#include <span>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

using Plane = std::complex<double>;  ///< amperes, volts or ohms on the complex plane

/// The loads of a set that hang below an element.
[[nodiscard]] std::vector<const network::LoadPoint*> members(const Situation& s,
                                                             std::span<const Index> set_loads, Index below);
/// The load is one of the set.
[[nodiscard]] bool holds(std::span<const Index> set_loads, Index load);
/// The load itself is one of the set, or one of the set hangs behind the switch.
[[nodiscard]] bool runs_behind(const Situation& s, std::span<const Index> set_loads, Index element);
/// The pairs of conductors between which a load hangs, or the coil of a switch may hang.
[[nodiscard]] std::vector<network::Pair> pairs_at(const Situation& s, Index element);
/// A load that counts and whose current nobody knows.
[[nodiscard]] Index unknown_among(const std::vector<const network::LoadPoint*>& loads, const Weight& weight);
/// Nobody knows the power factor of one of them: magnitudes add.
[[nodiscard]] bool any_factor_unknown(const std::vector<const network::LoadPoint*>& loads);

/// The pair of a load's conductors with the fewest volts left, and how many; of three lines the worst two.
struct FewestVolts {
    Voltage volts = std::numeric_limits<double>::infinity() * unit::volt;
    network::Pair between{};
    std::vector<bool> members;  ///< of the worst subset
};
[[nodiscard]] FewestVolts fewest_of(const std::vector<VoltTerms>& pairs);
/// The loads of the worst subset, the one at which the volts are measured always among them.
[[nodiscard]] std::vector<Index> who_counts(const std::vector<const network::LoadPoint*>& loads,
                                            const FewestVolts& fewest, Index target);

/// Amperes that a load draws from a conductor.
[[nodiscard]] inline Plane ampere_plane(const network::LoadPoint& load, std::size_t conductor) {
    return {in(unit::ampere, real_part(load.draw[conductor])),
            in(unit::ampere, imag_part(load.draw[conductor]))};
}
/// Position of a conductor in what is kept for each.
[[nodiscard]] inline std::size_t line_index(plan::Conductor c) {
    return static_cast<std::size_t>(c);
}

// ---- while a motor starts, evaluate_starts.cpp ----
/// A start as seen from the loads: what it draws of each conductor with no other load running, and how that
/// answers to the volts. Three lines keep what they draw, which is never too little.
struct StartSeen {
    Plane loop = 0;  ///< of a start between two conductors, cables and motor [ohm]; 0: of three lines
    std::array<Plane, network::live_conductors> pattern{};  ///< 1 from, -1 to the conductor of that loop
    std::array<Plane, network::live_conductors> drawn{};    ///< [A]
};
/// The start of the reach's starter by the reach's estimate.
[[nodiscard]] StartSeen start_seen(const Situation& s, const Reach& reach, network::Extent extent);
/// Ohms that the feeds of two elements share, the reach's source included: half of it in each conductor.
[[nodiscard]] std::array<Plane, network::live_conductors> shared_ohms(const Situation& s, const Reach& reach,
                                                                      Index a, Index b,
                                                                      network::Extent extent);
/// Amperes that a start draws from a conductor by itself: at the motor's terminals where the estimate is
/// high.
[[nodiscard]] double start_amperes(const Situation& s, const Reach& reach, const StartSeen& start,
                                   std::size_t conductor);
/// Volts between the pairs of conductors of the reach's element while its starter starts and others run.
[[nodiscard]] std::vector<VoltTerms> terms_at_start(const Situation& s, const Reach& reach,
                                                    const std::vector<const network::LoadPoint*>& others,
                                                    network::Extent extent);
/// Volts that are left at a load at the worst start of a set.
[[nodiscard]] Evaluated left_at_start(const Situation& s, const Limit& limit,
                                      std::span<const Index> set_loads);
/// The others' worst subset and the start: angles of starts are not known well, so their amps add.
[[nodiscard]] Evaluated through_at_start(const Situation& s, const Limit& limit,
                                         std::span<const Index> set_loads);

}  // namespace benchfeed::rules
