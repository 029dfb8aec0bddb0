#pragma once
// sources.toml, read when the library is built.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>

namespace benchfeed::tables {

/// A standard or other text from which tables were taken; one entry of data/tables/sources.toml.
struct Source {
    std::string key, title, publisher, kind;
    std::vector<std::string> editions;  ///< those of the tables taken from it
    std::vector<std::string> notes;     ///< errata, and where prints differ
};
/// Entries of sources.toml; faults are appended to `problems`.
[[nodiscard]] std::vector<Source> read_sources(std::string_view text, Diagnostics& problems);

}  // namespace benchfeed::tables
