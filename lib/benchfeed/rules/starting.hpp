#pragma once
// What the rules about starts share: the source before the panel, and the worked lines of a start.
#include <optional>

#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// What lies before the panel, as a start at a load sees it.
struct SourceSeen {
    std::optional<Impedance> impedance;  ///< nothing: not known, or a reading on the way holds it
    bool known = false;
};
[[nodiscard]] SourceSeen source_seen(const Situation& s, Index load);

/// Worked: the start current that the plate, the code letter or the kind of motor gives.
Value explain_start_current(Working& working, const Situation& s, Index motor, bool high);

/// Worked: its high end at the volts of the supply, where they are more than the plate's.
Value explain_high_start(Working& working, const Situation& s, Index motor);

/// Worked: volts at a load while a motor starts and the others of the worst subset run. At the motor itself
///
///     U_start = U_run * Zm / sqrt((Zm cos + R)^2 + (Zm sin + X)^2)
///
/// and elsewhere, or for a motor on three lines, the start current is one more current through the cables.
/// Pre: `evaluated` is of a limit with this reach.
Value explain_volts_at_start(Working& working, const Situation& s, const Reach& reach,
                             const Evaluated& evaluated);

/// Worked: the start current as the cables let it through.
Value explain_weakened_start(Working& working, const Situation& s, const Reach& reach);

/// The starter before all others of its set, where that makes the outcome better.
[[nodiscard]] std::optional<Remedy> start_first(const Situation& s, const Outcome& outcome,
                                                const Limit& limit);

/// The device upstream of a motor at this place.
[[nodiscard]] std::optional<network::Guard> guard_at(const Situation& s, Index motor, Index element,
                                                     Part part);

/// Worked: a multiple of the rating; what a device is sure to carry of a start (see
/// network::start_withstand); and the share of it that the trade leaves as a margin.
Value explain_multiple(Working& working, const std::string& symbol, const network::Guard& guard,
                       const tables::Figure<Ratio>& multiple);
Value explain_carried(Working& working, const Situation& s, const network::Guard& guard,
                      bool longer_than_a_second);
Value explain_margin(Working& working, const Situation& s, Value carried);

}  // namespace benchfeed::rules
