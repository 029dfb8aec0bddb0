#pragma once
// Starts behind a generator or an inverter: nobody can say how far its volts sag, so the amps are held
// against what its maker lets it give for a moment.
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

inline constexpr std::uint8_t source_start = 10;  ///< variant of the limits and outcomes of these two

/// Limits for the start of one motor. The maker's figure for starts alone says ok; without it a start above a
/// multiple of what a generator gives for hours is a caution, and the rest cannot be judged.
void add_source_start(const Situation& s, Yield& yield, const network::LoadPoint& motor);

/// Words of such an outcome.
[[nodiscard]] Explanation explain_source_start(const Situation& s, const Outcome& outcome,
                                               const Limit* limit);

}  // namespace benchfeed::rules
