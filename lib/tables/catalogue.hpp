#pragma once
// Every table of the library by id.
#include <span>
#include <string_view>
#include <vector>

#include "tables/table.hpp"

namespace benchfeed::tables {

/// The tables of data/tables as constants, sorted by id. Defined in a file that is made when the library is
/// built; a table that cannot be read, or whose source is not in sources.toml, ends the build.
[[nodiscard]] std::span<const Table> all();

/// What rules and readers are handed, so that they do not reach for a global.
class Catalogue {
public:
    /// The table, or nullptr when there is none of that id. May be called from several threads.
    [[nodiscard]] const Table* table(std::string_view id) const;
    /// Ids of all tables, sorted.
    [[nodiscard]] std::vector<std::string_view> ids() const;
};

}  // namespace benchfeed::tables
