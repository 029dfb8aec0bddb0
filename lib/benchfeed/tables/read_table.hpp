#pragma once
// Text of a file in data/tables -> table. Used when the library is built, and by tests: the library itself
// has its tables as constants.
#include <memory>
#include <string_view>
#include <variant>

#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::tables {

/// Read one table; what it points into lives as long as it does. The title of its source stays empty: it
/// stands in sources.toml. Errors name the row; a table with any error is refused whole.
[[nodiscard]] std::variant<std::shared_ptr<const Table>, Diagnostics> read_table(std::string_view id,
                                                                                 std::string_view text);

}  // namespace benchfeed::tables
