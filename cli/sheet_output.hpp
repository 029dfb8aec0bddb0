#pragma once
// A sheet printed as it was asked for.
#include <benchfeed/report/sheet.hpp>
#include "cli/commands.hpp"

namespace benchfeed::cli {

/// Text, html, svg or pdf on the paper of the options. Unusable, and told why, where there is no such page or
/// no PDF can be written.
[[nodiscard]] Exit print_sheet(const report::Sheet& sheet, const CardOptions& options,
                               const report::Style& style);

}  // namespace benchfeed::cli
