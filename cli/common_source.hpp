#pragma once
// Common files on disk: which file a name in a plan stands for, and whether it may be read.
#include <string>

#include <benchfeed/plan/common.hpp>

namespace benchfeed::cli {

/// The folder out of which no common file is read: said once by --root, before any plan is read. The working
/// directory where nobody says one. Returns why it cannot be, or "".
[[nodiscard]] std::string set_root(const std::string& folder);

/// Names are relative to the folder of the file in which they stand and must end, with all links followed,
/// below the root, at a plain file.
[[nodiscard]] plan::CommonSource common_source();
/// The same below another folder, for a tree of plans as it was; "" for the root of all.
[[nodiscard]] plan::CommonSource common_source(const std::string& folder);

}  // namespace benchfeed::cli
