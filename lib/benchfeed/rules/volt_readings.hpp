#pragma once
// Volts that a meter shows at an outlet while nothing runs, and at which figures somebody stops.
#include <optional>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// One of them.
struct VoltReading {
    plan::Test test{};
    std::optional<Voltage> expected;  ///< nothing: as before, of one that is read twice
    std::optional<Voltage> least;     ///< below it a conductor is missing
    std::optional<Voltage> doubt;     ///< above it something may be wrong
    std::optional<Voltage> most;      ///< above it something is
    std::vector<tables::Citation> sources;
};
/// Those that an outlet's conductors allow, in the order in which they are read.
///
///     lines                      nominal between two lines, +- volt_reading
///     line to neutral, to earth  nominal of the system, +- volt_reading
///     neutral to earth           0 V; doubtful above neutral_to_earth, stop above neutral_to_earth_most
///     rise                       with one line loaded, of the others to N; stop above neutral_rise
///
/// None of them to earth where the neutral of the source is not earthed. Source  table thresholds.
[[nodiscard]] std::vector<VoltReading> volt_readings(const Situation& situation, plan::Index outlet);
/// One of these; nothing where the outlet has not the conductors for it.
[[nodiscard]] std::optional<VoltReading> volt_reading(const Situation& situation, plan::Index outlet,
                                                      plan::Test test);

}  // namespace benchfeed::rules
