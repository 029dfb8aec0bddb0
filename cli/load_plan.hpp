#pragma once
// One plan for a command that needs it whole.
#include <optional>
#include <string>
#include <vector>

#include "check.hpp"
#include "report/style.hpp"

namespace benchfeed::cli {

/// Read and judge; every mistake is told on standard error, and nothing comes back.
[[nodiscard]] std::optional<Judged> load_plan(const std::string& path,
                                              const std::vector<std::string>& overrides,
                                              const tables::Catalogue& catalogue, const report::Style& style);

/// Faults of --set options, each with the option's own text under the message.
[[nodiscard]] std::string override_faults(const Diagnostics& problems,
                                          const std::vector<std::string>& overrides,
                                          const report::Style& style);

}  // namespace benchfeed::cli
