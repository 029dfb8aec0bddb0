#pragma once
// A table between its file and its constants. For read_table.cpp alone.
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
    std::optional<Grade> grade;
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

/// The table that shows a draft. The draft lives as long as the table does.
[[nodiscard]] std::shared_ptr<const Table> shown(Draft draft);

}  // namespace benchfeed::tables
