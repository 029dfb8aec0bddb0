#pragma once
// What the rules about starts share: the source before the panel, and the worked lines of a start.
#include <optional>

#include "rules/judge.hpp"

namespace benchfeed::rules {

/// What lies before the panel, as a start at a load sees it.
struct SourceSeen {
    std::optional<Impedance> impedance;  ///< nothing: not known, or a reading on the way holds it
    bool known = false;
};
[[nodiscard]] SourceSeen source_seen(const Situation& s, Index load);

/// Worked: the start current that the plate, the code letter or the kind of motor gives.
Value explain_start_current(Working& working, const Situation& s, Index motor, bool high);

/// Worked: volts at a motor while it starts and `others` run. Pre: one_loop(s, motor).
///
///     U_start = U_run * Zm / sqrt((Zm cos + R)^2 + (Zm sin + X)^2)
Value explain_volts_at_start(Working& working, const Situation& s, const Reach& reach,
                             const std::vector<Index>& others);

/// Worked: the start current as the cables let it through. Pre: one_loop(s, motor).
Value explain_weakened_start(Working& working, const Situation& s, const Reach& reach);

}  // namespace benchfeed::rules
