#pragma once
#include <string_view>
#include <vector>

#include "tables/catalogue.hpp"

namespace benchfeed::tables {

/// Entries of sources.toml; faults are appended to `problems`.
[[nodiscard]] std::vector<Source> read_sources(std::string_view text, Diagnostics& problems);

}  // namespace benchfeed::tables
