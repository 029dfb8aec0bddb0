#pragma once
// Every table of the library by id.
#include <span>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::tables {

/// The tables of data/tables as constants, sorted by id. Defined in a file that is made when the library is
/// built; a table that cannot be read, or whose source is not in sources.toml, ends the build.
[[nodiscard]] std::span<const Table> all();

/// Where in all() a table stands, plus one: at its Key::hash modulo the size, or behind it before the next 0.
/// Made with all(), and at least half empty.
inline constexpr std::size_t index_size = 512;
[[nodiscard]] std::span<const std::uint16_t, index_size> index();

/// What rules and readers are handed, so that they do not reach for a global.
class BENCHFEED_API Catalogue {
public:
    /// The table, or nullptr when there is none of that id. May be called from several threads.
    [[nodiscard]] const Table* table(Key id) const;
    /// Ids of all tables, sorted.
    [[nodiscard]] std::vector<std::string_view> ids() const;
};

}  // namespace benchfeed::tables
