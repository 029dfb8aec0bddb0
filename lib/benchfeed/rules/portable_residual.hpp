#pragma once
// A portable residual device at the wall outlet as a cure, with the lines that a plan gets for it.
#include <optional>

#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

/// A portable residual device between an outlet and each bench that is plugged into it: words, the elements
/// to add, and what then hangs on them. Whoever tells it tries it on the whole plan first.
///
/// Valid    outlets of one line and neutral up to what portable devices are made for (table thresholds).
/// Omits    benches that are wired, and loads that are plugged into the outlet themselves.
/// Nothing  where no bench is plugged in there, and behind a source that floats: it sees no fault there.
[[nodiscard]] std::optional<Remedy> portable_residual(const Situation& s, Index outlet,
                                                      const ResidualPractice& practice);

}  // namespace benchfeed::rules
