#pragma once
// What the names in the headers of tables are made of. For the program of the build.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "make_figures.hpp"

namespace benchfeed {

/// A text as a literal. Octal escapes end after three digits, hexadecimal ones do not.
std::string literal(std::string_view text);
/// A word as a name: "BS 1362" -> bs_1362, "0.725" -> n0_725.
std::string name_of(std::string_view word);
/// The enumeration of a closed column: "loop_table" -> LoopTable.
std::string type_of(std::string_view column);

/// The quantity of a unit; "" for plain numbers: no quantity of the library has that dimension.
std::string_view quantity_of(std::string_view unit);

/// The cell holds no figure.
bool is_nothing(const tables::DraftCell& cell);

/// A column as its record shows it.
struct Shown {
    const tables::DraftColumn* column = nullptr;
    std::size_t at = 0;
    std::string name;
    bool whole = true;  ///< every row has one
    bool flag = false;
    std::vector<std::string> words;  ///< of a closed column, as they first stand
    /// Words and no quantity.
    [[nodiscard]] bool is_text() const { return column->unit.empty() && !flag; }
    /// As of its unit; "" for none.
    [[nodiscard]] std::string_view quantity() const { return quantity_of(column->unit); }
};
/// Every column of a table.
std::vector<Shown> columns_of(const tables::Draft& draft);

/// The column in which the table stands whose fact this one names; nothing where it names none.
std::optional<std::size_t> table_column(const tables::Draft& draft, const tables::DraftColumn& column);
/// The fact that a cell names, or nullptr.
const tables::DraftFact* fact_named(const tables::Draft& draft, std::size_t row, std::size_t table_at,
                                    std::size_t fact_at, const Drafts& drafts);

}  // namespace benchfeed
