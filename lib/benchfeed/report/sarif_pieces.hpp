#pragma once
// Pieces of SARIF besides those of every format.
#include <string>

#include <benchfeed/report/baseline.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

/// A finding that came or got worse, at the value that changed; nowhere: at the value that causes it.
[[nodiscard]] BENCHFEED_API std::string sarif_moved(const JudgedPlan& plan, const rules::Finding& finding,
                                                    const Span& cause);
/// Mistakes of a plan, held against an earlier report.
[[nodiscard]] BENCHFEED_API std::string sarif_unreadable(const std::string& path, const Diagnostics& problems,
                                                         Baseline& baseline);
/// Results of an earlier report that nothing says any more.
[[nodiscard]] BENCHFEED_API std::string sarif_absent(const Baseline& baseline);

}  // namespace benchfeed::report
