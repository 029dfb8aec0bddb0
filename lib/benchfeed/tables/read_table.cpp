// One table file -> Table. A file with any fault is refused whole: half a table is worse than none.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/tables/read_table.hpp>
#include <benchfeed/tables/table_draft.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::tables {

namespace {

constexpr std::array<std::string_view, 3> families{"iec", "nec", "common"};
constexpr std::array<std::string_view, 38> units{
    "",     "1",      "%",       "A",     "mA",        "kA",          "V",   "mV/A/m", "W",   "kW",
    "hp",   "kVA/hp", "ohm",     "Mohm",  "m",         "ft",          "in",  "mm",     "mm2", "AWG",
    "cmil", "in3",    "cm3",     "degC",  "1/K",       "s",           "min", "h",      "Hz",  "kg",
    "A2s",  "ohm/km", "ohm/kft", "ohm/m", "ohm*mm2/m", "A*s^0.5/mm2", "deg", "kVA"};

template <class Words>
std::optional<std::size_t> position(const Words& words, std::string_view word) {
    const auto it = std::find(words.begin(), words.end(), word);
    if (it == words.end()) return std::nullopt;
    return static_cast<std::size_t>(it - words.begin());
}

template <class Words>
std::string listed(const Words& words) {
    return fmt::format("{}", fmt::join(words.begin(), words.end(), ", "));
}

using Keys = std::initializer_list<std::string_view>;

class TableReader {
public:
    TableReader(std::string_view id, std::string_view text)
        : document_(std::string(id) + ".toml", std::string(text)) {
        table_.id = id;
    }

    std::variant<Draft, Diagnostics> read() {
        text::Limits limits;
        limits.text_characters = 2000;
        const text::Parsed parsed = text::parse_toml(document_, limits);
        if (!parsed.problems.empty()) return parsed.problems;
        only_keys(parsed.root, {"table", "facts", "data"});
        if (const auto* head = table_at(parsed.root, "table", true)) read_head(*head);
        if (const auto* facts = table_at(parsed.root, "facts", false)) read_facts(*facts);
        if (const auto* data = table_at(parsed.root, "data", false)) read_data(*data);
        if (table_.rows.empty() && table_.facts.empty() && table_.notes.empty())
            fault({}, "it has neither rows, facts nor notes");
        if (!problems_.empty()) return std::move(problems_);
        return std::move(table_);
    }

private:
    void fault(const Span& span, std::string message) {
        Diagnostic problem;
        problem.path = table_.id;
        problem.message = table_.id + ": " + message;
        if (!span.nowhere()) problem.labels.push_back({span, ""});
        problems_.push_back(std::move(problem));
    }

    void only_keys(const text::Table& table, Keys known) {
        for (const auto& entry : table.entries)
            if (std::find(known.begin(), known.end(), entry.key) == known.end())
                fault(entry.key_span, fmt::format("unknown key {}; known are {}", entry.key, listed(known)));
    }

    const text::Table* table_at(const text::Table& in, std::string_view key, bool needed) {
        const auto* entry = in.find(key);
        const auto* table = entry ? entry->node.as<text::Table>() : nullptr;
        if (!table && (needed || entry))
            fault(entry ? entry->node.span : Span{}, fmt::format("[{}] must be there as a table", key));
        return table;
    }

    std::string text_at(const text::Table& in, std::string_view key, bool may_be_empty = false) {
        const auto* entry = in.find(key);
        const auto* value = entry ? entry->node.as<std::string>() : nullptr;
        const bool enough = value && (may_be_empty || !value->empty());
        if (!enough) fault(entry ? entry->node.span : Span{}, fmt::format("{} must be a text", key));
        return value ? *value : "";
    }

    const text::Array* array_at(const text::Table& in, std::string_view key) {
        const auto* entry = in.find(key);
        const auto* array = entry ? entry->node.as<text::Array>() : nullptr;
        if (entry && !array) fault(entry->node.span, fmt::format("{} must be a list", key));
        return array;
    }

    std::vector<std::string> texts_at(const text::Table& in, std::string_view key) {
        std::vector<std::string> out;
        const auto* array = array_at(in, key);
        for (const auto& item : array ? array->items : std::vector<text::Node>{}) {
            if (const auto* value = item.as<std::string>())
                out.push_back(*value);
            else
                fault(item.span, fmt::format("{} must be a list of texts", key));
        }
        return out;
    }

    std::optional<Grade> grade_at(const text::Table& in, const Span& span, bool needed) {
        const auto* entry = in.find("verified");
        if (!entry) {
            if (needed) fault(span, fmt::format("verified is missing: {}", listed(grade_words)));
            return std::nullopt;
        }
        const auto* word = entry->node.as<std::string>();
        const auto at = word ? position(grade_words, *word) : std::nullopt;
        if (!at) fault(entry->node.span, fmt::format("verified must be one of: {}", listed(grade_words)));
        return at ? std::optional(static_cast<Grade>(*at)) : std::nullopt;
    }

    void read_head(const text::Table& head) {
        only_keys(head, {"id", "title", "family", "topic", "source", "edition", "place", "status", "verified",
                         "seen_in", "kept_for", "notes", "columns", "key", "for_each"});
        if (text_at(head, "id") != table_.id) fault({}, "id is not the name of the file");
        table_.title = text_at(head, "title");
        table_.family = text_at(head, "family");
        table_.topic = text_at(head, "topic");
        table_.source_key = text_at(head, "source");
        table_.edition = text_at(head, "edition", true);
        table_.place = text_at(head, "place");
        if (!position(families, table_.family))
            fault({}, fmt::format("family \"{}\" is none of: {}", table_.family, listed(families)));
        const auto status = position(status_words, text_at(head, "status"));
        if (!status) fault({}, fmt::format("status must be one of: {}", listed(status_words)));
        table_.status = static_cast<Status>(status.value_or(0));
        table_.grade = grade_at(head, {}, true).value_or(Grade::memory);
        table_.notes = texts_at(head, "notes");
        table_.seen_in = texts_at(head, "seen_in");
        if (head.find("for_each")) table_.for_each = text_at(head, "for_each");
        if (head.find("kept_for")) table_.kept_for = text_at(head, "kept_for");
        const auto* columns = array_at(head, "columns");
        for (const auto& item : columns ? columns->items : std::vector<text::Node>{}) read_column(item);
        read_key(head);
    }

    void read_column(const text::Node& node) {
        const auto* column = node.as<text::Table>();
        if (!column) return fault(node.span, "a column is { name = ..., unit = ... }");
        only_keys(*column, {"name", "unit", "verified", "closed", "names"});
        DraftColumn read{text_at(*column, "name"), text_at(*column, "unit", true),
                         grade_at(*column, node.span, false)};
        if (const auto* closed = column->find("closed"))
            read.closed = closed->node.as<bool>() && *closed->node.as<bool>();
        if (column->find("names")) read.names = text_at(*column, "names");
        if ((read.closed || !read.names.empty()) && !read.unit.empty())
            fault(node.span, "only words can be closed, or name something");
        if (!position(units, read.unit)) fault(node.span, fmt::format("there is no unit \"{}\"", read.unit));
        if (table_.column(read.name)) fault(node.span, fmt::format("column {} stands twice", read.name));
        table_.columns.push_back(std::move(read));
    }

    void read_key(const text::Table& head) {
        for (const std::string& name : texts_at(head, "key")) {
            if (const auto at = table_.column(name))
                table_.key_columns.push_back(*at);
            else
                fault(head.find("key")->node.span,
                      fmt::format("key names column {}, which is not there", name));
        }
        if (table_.key_columns.empty()) table_.key_columns.push_back(0);
    }

    DraftCell cell_of(const text::Node& node, std::string_view unit) {
        const bool words = unit.empty() || unit == "AWG";
        if (const auto* word = node.as<std::string>()) {
            if (*word == "-") return std::monostate{};
            if (!words) fault(node.span, fmt::format("\"{}\" stands where a number is wanted", *word));
            if (word->empty()) fault(node.span, "an empty text; where there is no figure write \"-\"");
            if (unit == "AWG" && !gauge_of(*word)) fault(node.span, fmt::format("\"{}\" is no gauge", *word));
            return *word;
        }
        if (const auto* flag = node.as<bool>()) {
            if (!unit.empty()) fault(node.span, "true or false stands in a column with a unit");
            return *flag;
        }
        if (!node.is_number()) {
            fault(node.span, fmt::format("{} cannot be a cell", text::kind_name(node)));
            return std::monostate{};
        }
        if (words) fault(node.span, "a number stands where a text is wanted: name a unit, \"1\" for a ratio");
        if (!std::isfinite(node.number())) fault(node.span, "a figure must be finite");
        return node.number();
    }

    void read_facts(const text::Table& facts) {
        for (const auto& entry : facts.entries) {
            const auto* fact = entry.node.as<text::Table>();
            const auto* value = fact ? fact->find("value") : nullptr;
            if (!value) {
                fault(entry.node.span, fmt::format("fact {} is {{ value = ..., unit = ... }}", entry.key));
                continue;
            }
            only_keys(*fact, {"value", "unit", "verified"});
            DraftFact read{entry.key,
                           {},
                           fact->find("unit") ? text_at(*fact, "unit", true) : "",
                           grade_at(*fact, entry.node.span, false)};
            if (!position(units, read.unit))
                fault(entry.node.span, fmt::format("there is no unit \"{}\"", read.unit));
            read.value = cell_of(value->node, read.unit);
            table_.facts.push_back(std::move(read));
        }
    }

    void read_data(const text::Table& data) {
        only_keys(data, {"rows", "row_verified", "cell_verified"});
        const auto* rows = array_at(data, "rows");
        if (!rows || rows->items.empty()) return fault({}, "[data] needs rows");
        if (table_.columns.empty()) return fault({}, "rows need columns");
        for (const auto& item : rows->items) read_row(item);
        for (std::size_t column = 0; column < table_.columns.size(); ++column) one_kind(column);
        read_grades(data, "row_verified");
        read_grades(data, "cell_verified");
    }

    void read_row(const text::Node& node) {
        const auto* cells = node.as<text::Array>();
        if (!cells || cells->items.size() != table_.columns.size())
            return fault(node.span, fmt::format("a row has {} cells", table_.columns.size()));
        DraftRow row;
        row.span = node.span;
        for (std::size_t i = 0; i < cells->items.size(); ++i)
            row.cells.push_back(cell_of(cells->items[i], table_.columns[i].unit));
        for (const DraftRow& other : table_.rows)
            if (same_key(row, other))
                fault(node.span,
                      fmt::format("a second row for the same key; the first is in line {}", other.span.line));
        table_.rows.push_back(std::move(row));
    }

    bool same_key(const DraftRow& a, const DraftRow& b) const {
        return std::all_of(table_.key_columns.begin(), table_.key_columns.end(),
                           [&](std::size_t column) { return a.cells[column] == b.cells[column]; });
    }

    /// A column holds texts or flags, never both.
    void one_kind(std::size_t column) {
        const DraftCell* first = nullptr;
        for (const DraftRow& row : table_.rows) {
            const DraftCell& cell = row.cells[column];
            if (std::holds_alternative<std::monostate>(cell)) continue;
            if (first && first->index() != cell.index())
                return fault(row.span,
                             fmt::format("column {} mixes texts and flags", table_.columns[column].name));
            first = &cell;
        }
    }

    /// `row` names the key of a row: one cell, or a list where the key has several columns.
    std::optional<std::size_t> named_row(const text::Table& entry, const Span& span) {
        const auto* named = entry.find("row");
        const auto* list = named ? named->node.as<text::Array>() : nullptr;
        std::vector<text::Node> wanted;
        if (list)
            wanted = list->items;
        else if (named)
            wanted.push_back(named->node);
        for (std::size_t row = 0; row < table_.rows.size() && wanted.size() == table_.key_columns.size();
             ++row) {
            std::size_t same = 0;
            while (same < wanted.size() &&
                   is_cell(wanted[same], table_.rows[row].cells[table_.key_columns[same]]))
                ++same;
            if (same == wanted.size()) return row;
        }
        fault(span, "no row has this key");
        return std::nullopt;
    }

    static bool is_cell(const text::Node& node, const DraftCell& cell) {
        if (const auto* word = node.as<std::string>())
            return *word == "-" ? cell == DraftCell(std::monostate{}) : cell == DraftCell(*word);
        return node.is_number() && cell == DraftCell(node.number());
    }

    void read_grades(const text::Table& data, std::string_view key) {
        const bool cells = key == "cell_verified";
        const auto* list = array_at(data, key);
        for (const auto& item : list ? list->items : std::vector<text::Node>{}) {
            const auto* one = item.as<text::Table>();
            if (!one) {
                fault(item.span, fmt::format("{} is a list of {{ row = ..., verified = ... }}", key));
                continue;
            }
            if (cells)
                only_keys(*one, {"row", "column", "verified"});
            else
                only_keys(*one, {"row", "verified"});
            const auto row = named_row(*one, item.span);
            const auto grade = grade_at(*one, item.span, true);
            if (!row || !grade) continue;
            if (cells)
                grade_cell(*one, item.span, *row, *grade);
            else if (std::exchange(table_.rows[*row].grade, grade))
                fault(item.span, "the row has a grade already");
        }
    }

    void grade_cell(const text::Table& entry, const Span& span, std::size_t row, Grade grade) {
        const auto column = table_.column(text_at(entry, "column"));
        if (!column) return fault(span, "no such column");
        for (const auto& known : table_.cell_grades)
            if (known.row == row && known.column == *column) fault(span, "the cell has a grade already");
        table_.cell_grades.push_back({row, *column, grade});
    }

    text::Document document_;
    Draft table_;
    Diagnostics problems_;
};

}  // namespace

std::variant<Draft, Diagnostics> read_draft(std::string_view id, std::string_view text) {
    return TableReader(id, text).read();
}

std::variant<std::shared_ptr<const Table>, Diagnostics> read_table(std::string_view id,
                                                                   std::string_view text) {
    auto read = read_draft(id, text);
    if (auto* problems = std::get_if<Diagnostics>(&read)) return std::move(*problems);
    return shown(std::get<Draft>(std::move(read)));
}

}  // namespace benchfeed::tables
