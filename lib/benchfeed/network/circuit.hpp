#pragma once
// The network of a plan with some of its loads running, as the solver takes it.
#include <optional>
#include <span>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/network/solve.hpp>

namespace benchfeed::network {

/// How a circuit is made of a plan. The default is what a plate says.
struct CircuitChoice {
    Extent extent = Extent::near_end;   ///< of runs whose length nobody knows
    std::optional<Impedance> source{};  ///< what lies before the panel, line and neutral together
    bool motors_keep_power = false;     ///< motors and electronics draw more where volts are low
    Index starting = plan::nowhere;     ///< this load starts: an impedance, U / I_start
    bool carrying_only = false;         ///< leave out what lies on the way to no load that runs
    bool high_start = true;             ///< at the high end of its range, in phase; else the low end
};

/// A plan as the solver takes it, and which node is which element.
struct PlanCircuit {
    Circuit circuit;
    std::vector<Index> element_of;  ///< by node
    std::vector<Index> node_of;     ///< by element; nowhere for those of other supplies
    std::vector<Index> load_of;     ///< by draw: element of the load; three draws for three lines
};

/// The tree below a supply with these loads (elements) running.
///
/// Models  plate amps whatever the volts; heaters as impedances U^2 / P; a starting motor as the impedance
///         that draws its start current at the plate's volts; a load on three lines as three between lines.
/// Omits   the protective conductor, which carries nothing while all is well.
///         The source is taken as resistance, half of it in each line and half in the neutral: whole for a
///         load on one line, and once between two.
[[nodiscard]] BENCHFEED_API PlanCircuit circuit_of(const plan::Plan& plan, const Network& network,
                                                   Index supply, std::span<const Index> running,
                                                   const CircuitChoice& choice = {});

/// Volts between the conductors of a load in a solved circuit; of three lines the fewest between two.
[[nodiscard]] BENCHFEED_API Voltage volts_at(const plan::Plan& plan, const PlanCircuit& built,
                                             const Solution& solution, Index element);

}  // namespace benchfeed::network
