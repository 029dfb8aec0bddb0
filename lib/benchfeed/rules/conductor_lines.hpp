#pragma once
// Volts between two conductors, worked on paper: each cable's ohms, each conductor's amps, what is lost in
// each.
#include <array>
#include <optional>
#include <vector>

#include <benchfeed/network/network.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// Where a conductor stands in figures that are kept by conductor.
[[nodiscard]] constexpr std::size_t index_of(plan::Conductor c) {
    return static_cast<std::size_t>(c);
}

/// Resistance and reactance of some lengths of a cable's conductor, worked from the printed table.
struct CableOhms {
    Value resistance, reactance;
};
/// `passes` lengths of the cable that feeds `at`, whose impedance is `total`; a reading or an unknown run has
/// no working and prints `total` itself. `suffix` tells several of one cable apart.
[[nodiscard]] CableOhms explain_cable(Working& working, const Situation& s, Index at, Ratio passes,
                                      ComplexImpedance total, const std::string& suffix = "");

/// Resistance of a cable at the temperature to which this current warms it, beside the figure at its rating.
///
///     theta = theta_a + (I / Iz)^2 * (theta_r - theta_a)
///
/// Source  physics: the heat goes with I^2 and the cable is at theta_r with Iz in air of theta_a; the same
///         reasoning stands in BS 7671 appendix 4 section 6.1 (from memory).
/// Nothing, and nothing printed, where ampacity, resistance or ambient is not known, or the current is above
/// Iz.
[[nodiscard]] std::optional<Value> explain_warmth(Working& working, const Situation& s, Index at,
                                                  Ratio passes, Current current);

/// What runs, as a sum of currents sees it.
struct Flow {
    Index load = plan::nowhere;
    Value amps;         ///< worked or as printed on the plate
    Current current{};  ///< the same
    std::array<CurrentPhasor, network::live_conductors>
        draw{};  ///< of it, at the angles of the nominal volts
};
/// The loads while they run, each with its amps worked.
[[nodiscard]] std::vector<Flow> running_flows(Working& working, const Situation& s,
                                              const std::vector<Index>& loads);

/// Volts that are left between the two conductors of a pair at an element.
///
///     U_left = |U - sum over the cables of (Z_from * I_from - Z_to * I_to)|
///
/// Real parts point along the nominal volts of the pair, lagging parts are positive.
/// The source before the panel, if it is counted, is resistance: half of it in each line, half in the
/// neutral.
[[nodiscard]] Value explain_pair(Working& working, const Situation& s, Index target, network::Pair pair,
                                 const std::vector<Flow>& flows, std::optional<Impedance> source);

}  // namespace benchfeed::rules
