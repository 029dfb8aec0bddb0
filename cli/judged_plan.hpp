#pragma once
// One plan read and judged for a command that needs it whole; faults are told on standard error.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/check.hpp>
#include <benchfeed/report/style.hpp>
#include "cli/files.hpp"

namespace benchfeed::cli {

struct JudgedPlan {
    std::optional<text::Document> document;
    std::optional<Judged> judged;  ///< nothing: the plan cannot be used, and why has been told
};
/// `root`: where common files are read below another folder than that of --root.
[[nodiscard]] JudgedPlan judged_plan(const std::string& path, const std::vector<std::string>& overrides,
                                     const tables::Catalogue& catalogue, const report::Style& style,
                                     const std::string& root = "");

/// Faults of --set options, each with the option's own text under the message.
[[nodiscard]] std::string override_faults(const Diagnostics& problems,
                                          const std::vector<std::string>& overrides,
                                          const report::Style& style);

}  // namespace benchfeed::cli
