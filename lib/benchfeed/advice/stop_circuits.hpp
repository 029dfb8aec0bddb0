#pragma once
// Emergency stops whose contact stands in front of other coils. Not for use outside this folder.
#include <string>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::advice {

using plan::Index;

/// An emergency stop without contacts of its own for the power.
struct StopCircuit {
    Index stop = plan::nowhere;
    std::vector<Index> coils;  ///< contactors whose buttons are fed through its contact
    std::string refused;       ///< why it cannot be drawn; then no coil is fed through it
};

/// Each such stop of the plan, in its order.
///
/// Method  one contact feeds the buttons of all contactors that it drops out: they and the stop start in one
///         box. Several stops of the same contactors stand in series, in the order of the plan.
/// Refuses what has its coil inside, starts elsewhere, or hangs on stops that drop out different contactors.
[[nodiscard]] std::vector<StopCircuit> stop_circuits(const rules::Situation& situation);
/// The one of a stop; nullptr for every other element.
[[nodiscard]] const StopCircuit* stop_at(const std::vector<StopCircuit>& circuits, Index element);
/// The stop behind which the buttons of a contactor start, or the next stop in the series; nowhere: behind
/// none.
[[nodiscard]] Index stop_before(const std::vector<StopCircuit>& circuits, Index element);

}  // namespace benchfeed::advice
