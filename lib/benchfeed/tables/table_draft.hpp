#pragma once
// A table between its file and its constants. For read_table.cpp and the program of the build.
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/base/section.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::tables {

/// What a cell of the file holds.
using DraftCell = std::variant<std::monostate, double, std::string, bool>;

/// A column as the file names it.
struct DraftColumn {
    std::string name, unit;
    std::optional<Grade> grade = {};
    bool closed = false;  ///< its words are all that there are: they become an enumeration
    /// What a cell names: "table"; "fact of COLUMN", of the table that the row names there; "row of TABLE",
    /// by the first column of that. "" for nothing.
    std::string names = {};
};
/// A row and its place in the file.
struct DraftRow {
    std::vector<DraftCell> cells;
    std::optional<Grade> grade;
    Span span;
};
/// A single figure beside the rows.
struct DraftFact {
    std::string name;
    DraftCell value;
    std::string unit;
    std::optional<Grade> grade;
};
/// A table while it is read: the same as Table, with texts of its own.
struct Draft {
    std::string id, title, family, topic, source_key, edition, place, kept_for;
    std::string
        for_each;  ///< a table for each of whose rows there must be one of the same key here; "" for none
    Status status = Status::standard;
    Grade grade = Grade::memory;
    std::vector<std::string> notes, seen_in;
    std::vector<DraftColumn> columns;
    std::vector<std::size_t> key_columns;
    std::vector<DraftRow> rows;
    std::vector<DraftFact> facts;
    std::vector<CellGrade> cell_grades;

    /// Position of a column by its name.
    [[nodiscard]] std::optional<std::size_t> column(std::string_view name) const {
        for (std::size_t i = 0; i < columns.size(); ++i)
            if (columns[i].name == name) return i;
        return std::nullopt;
    }
};

/// "14 AWG" in a gauge column.
[[nodiscard]] std::optional<Awg> gauge_of(const std::string& word);

/// The draft of a file, or all that is wrong with it.
[[nodiscard]] std::variant<Draft, Diagnostics> read_draft(std::string_view id, std::string_view text);

/// The table that shows a draft. The draft lives as long as the table does.
[[nodiscard]] std::shared_ptr<const Table> shown(Draft draft);

}  // namespace benchfeed::tables
