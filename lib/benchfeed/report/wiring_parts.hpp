#pragma once
// The wiring sheet: a checklist of cores, like runs in one table. For card.cpp alone.
#include <string>
#include <vector>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

/// "W1", "W2" for each run that somebody wires, in the order of the schedule; "" for the others.
[[nodiscard]] std::vector<std::string> run_keys(const advice::Schedule& schedule);
/// What is refused and why, a table for each kind of run, then the ways of each potential.
[[nodiscard]] std::vector<SheetSection> core_sections(const rules::Situation& s,
                                                      const advice::Schedule& schedule);
/// Buttons, contacts and coils of each control circuit, one after another.
[[nodiscard]] std::vector<ControlCircuit> control_circuits(const rules::Situation& s,
                                                           const advice::Schedule& schedule);
/// The feeds of a diagram with the keys of their runs before them.
void name_runs(Diagram& diagram, const advice::Schedule& schedule);

}  // namespace benchfeed::report
