// One table file -> Table. A file with any fault is refused whole: half a table is worse than none.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "tables/read_sources.hpp"
#include "tables/table.hpp"
#include "text/toml.hpp"

namespace benchfeed::tables {

namespace {

constexpr std::array<std::string_view, 3> grades{"memory", "one source", "two sources"};
constexpr std::array<std::string_view, 5> statuses{"standard", "recommendation", "marking", "physics", "practice"};
constexpr std::array<std::string_view, 3> families{"iec", "nec", "common"};
constexpr std::array<std::string_view, 27> units{"",       "1",      "%",      "A",    "mA",    "V",    "mV/A/m", "W",   "kW",
                                                 "hp",     "ohm",    "ohm/km", "ohm/kft", "ohm/m", "m",  "ft",     "in",  "mm",
                                                 "mm2",    "AWG",    "cmil",   "degC", "1/K",   "s",    "min",    "in3", "cm3"};
constexpr std::array<std::string_view, 8> more_units{"h", "Hz", "kg", "kVA/hp", "A2s", "A*s^0.5/mm2", "ohm*mm2/m", "deg"};

bool known_unit(std::string_view unit) {
    return std::find(units.begin(), units.end(), unit) != units.end() || std::find(more_units.begin(), more_units.end(), unit) != more_units.end();
}

template <class Words>
std::optional<std::size_t> position(const Words& words, std::string_view word) {
    const auto it = std::find(words.begin(), words.end(), word);
    if (it == words.end()) return std::nullopt;
    return static_cast<std::size_t>(it - words.begin());
}

class TableReader {
public:
    TableReader(std::string_view id, std::string_view text) : document_(std::string(id) + ".toml", std::string(text)) { table_.id = id; }

    std::variant<Table, Diagnostics> read() {
        text::Limits limits;
        limits.text_characters = 2000;
        text::Parsed parsed = text::parse_toml(document_, limits);
        if (!parsed.problems.empty()) return std::move(parsed.problems);
        only_keys(parsed.root, {"table", "facts", "data"}, {});
        const auto* head = table_at(parsed.root, "table");
        if (!head) {
            fault({}, "there is no [table]");
            return std::move(problems_);
        }
        read_head(*head);
        if (const auto* facts = table_at(parsed.root, "facts")) read_facts(*facts);
        if (const auto* data = table_at(parsed.root, "data")) read_data(*data);
        if (table_.rows.empty() && table_.facts.empty() && table_.notes.empty()) fault({}, "it has neither rows, facts nor notes");
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
    void only_keys(const text::Table& table, std::initializer_list<std::string_view> known, const Span&) {
        for (const auto& entry : table.entries)
            if (std::find(known.begin(), known.end(), entry.key) == known.end()) fault(entry.key_span, fmt::format("unknown key {}", entry.key));
    }
    static const text::Table* table_at(const text::Table& in, std::string_view key) {
        const auto* entry = in.find(key);
        return entry ? entry->node.as<text::Table>() : nullptr;
    }
    std::string text_at(const text::Table& in, std::string_view key, bool needed = true) {
        const auto* entry = in.find(key);
        const auto* value = entry ? entry->node.as<std::string>() : nullptr;
        if (!value && (needed || entry)) fault(entry ? entry->node.span : Span{}, fmt::format("{} must be a text", key));
        return value ? *value : "";
    }
    std::optional<Grade> grade_at(const text::Table& in, bool needed) {
        if (!in.find("verified")) {
            if (needed) fault({}, "verified is missing");
            return std::nullopt;
        }
        const auto word = text_at(in, "verified");
        const auto at = position(grades, word);
        if (!at) fault(in.find("verified")->node.span, fmt::format("there is no grade \"{}\"", word));
        return at ? std::optional(static_cast<Grade>(*at)) : std::nullopt;
    }
    std::vector<std::string> texts_at(const text::Table& in, std::string_view key) {
        std::vector<std::string> out;
        const auto* entry = in.find(key);
        if (!entry) return out;
        const auto* array = entry->node.as<text::Array>();
        if (!array) fault(entry->node.span, fmt::format("{} must be a list of texts", key));
        for (const auto& item : array ? array->items : std::vector<text::Node>{}) {
            if (const auto* value = item.as<std::string>())
                out.push_back(*value);
            else
                fault(item.span, fmt::format("{} must be a list of texts", key));
        }
        return out;
    }

    void read_head(const text::Table& head) {
        only_keys(head, {"id", "title", "family", "topic", "source", "edition", "place", "status", "verified", "seen_in", "notes", "columns"}, {});
        if (text_at(head, "id") != table_.id) fault({}, "id is not the name of the file");
        table_.title = text_at(head, "title");
        table_.family = text_at(head, "family");
        table_.topic = text_at(head, "topic");
        table_.source_key = text_at(head, "source");
        table_.edition = text_at(head, "edition");
        table_.place = text_at(head, "place");
        if (!position(families, table_.family)) fault({}, fmt::format("there is no family \"{}\"", table_.family));
        const auto status = position(statuses, text_at(head, "status"));
        if (!status) fault({}, "status must be standard, recommendation, marking, physics or practice");
        table_.status = static_cast<Status>(status.value_or(0));
        table_.grade = grade_at(head, true).value_or(Grade::memory);
        table_.notes = texts_at(head, "notes");
        table_.seen_in = texts_at(head, "seen_in");
        const auto* columns = head.find("columns");
        const auto* list = columns ? columns->node.as<text::Array>() : nullptr;
        for (const auto& item : list ? list->items : std::vector<text::Node>{}) read_column(item);
    }

    void read_column(const text::Node& node) {
        const auto* column = node.as<text::Table>();
        if (!column) return fault(node.span, "a column is { name = ..., unit = ... }");
        only_keys(*column, {"name", "unit", "verified"}, node.span);
        Column read{text_at(*column, "name"), text_at(*column, "unit"), grade_at(*column, false)};
        if (!known_unit(read.unit)) fault(node.span, fmt::format("there is no unit \"{}\"", read.unit));
        if (table_.column(read.name)) fault(node.span, fmt::format("column {} stands twice", read.name));
        table_.columns.push_back(std::move(read));
    }

    Cell cell_of(const text::Node& node, std::string_view unit) {
        if (const auto* word = node.as<std::string>()) {
            if (*word == "-") return std::monostate{};
            if (!unit.empty() && unit != "AWG") fault(node.span, fmt::format("\"{}\" stands where a number is wanted", *word));
            return *word;
        }
        if (const auto* flag = node.as<bool>()) return *flag;
        if (node.is_number()) {
            if (unit.empty() || unit == "AWG") fault(node.span, "a number stands where a text is wanted");
            return node.number();
        }
        fault(node.span, fmt::format("{} cannot be a cell", text::kind_name(node)));
        return std::monostate{};
    }

    void read_facts(const text::Table& facts) {
        for (const auto& entry : facts.entries) {
            const auto* fact = entry.node.as<text::Table>();
            const auto* value = fact ? fact->find("value") : nullptr;
            if (!value) {
                fault(entry.node.span, fmt::format("fact {} is {{ value = ..., unit = ... }}", entry.key));
                continue;
            }
            only_keys(*fact, {"value", "unit", "verified"}, entry.node.span);
            Fact read{entry.key, {}, fact->find("unit") ? text_at(*fact, "unit") : "", grade_at(*fact, false)};
            if (!known_unit(read.unit)) fault(entry.node.span, fmt::format("there is no unit \"{}\"", read.unit));
            read.value = cell_of(value->node, read.unit);
            table_.facts.push_back(std::move(read));
        }
    }

    void read_data(const text::Table& data) {
        only_keys(data, {"rows", "row_verified", "cell_verified"}, {});
        const auto* rows = data.find("rows");
        const auto* list = rows ? rows->node.as<text::Array>() : nullptr;
        if (!list) return fault({}, "[data] needs rows");
        for (const auto& item : list->items) read_row(item);
        read_grades(data);
        std::vector<std::vector<Cell>> seen;
        for (const Row& row : table_.rows) {
            if (std::find(seen.begin(), seen.end(), row.cells) != seen.end()) fault(row.span, "the row stands twice");
            seen.push_back(row.cells);
        }
    }

    void read_row(const text::Node& node) {
        const auto* cells = node.as<text::Array>();
        if (!cells || cells->items.size() != table_.columns.size())
            return fault(node.span, fmt::format("a row has {} cells", table_.columns.size()));
        Row row;
        row.span = node.span;
        for (std::size_t i = 0; i < cells->items.size(); ++i) row.cells.push_back(cell_of(cells->items[i], table_.columns[i].unit));
        table_.rows.push_back(std::move(row));
    }

    /// `row` names the first cell of a row, `index` its position from 0.
    std::optional<std::size_t> named_row(const text::Table& entry, const Span& span) {
        if (const auto* index = entry.find("index")) {
            const auto* number = index->node.as<std::int64_t>();
            if (number && *number >= 0 && static_cast<std::size_t>(*number) < table_.rows.size()) return static_cast<std::size_t>(*number);
        } else if (const auto* first = entry.find("row")) {
            for (std::size_t i = 0; i < table_.rows.size(); ++i) {
                const Cell& cell = table_.rows[i].cells.front();
                const auto* word = first->node.as<std::string>();
                if (word ? cell == Cell(*word) : first->node.is_number() && cell == Cell(first->node.number())) return i;
            }
        }
        fault(span, "no such row");
        return std::nullopt;
    }

    void read_grades(const text::Table& data) {
        for (const std::string_view key : {"row_verified", "cell_verified"}) {
            const auto* entry = data.find(key);
            const auto* list = entry ? entry->node.as<text::Array>() : nullptr;
            for (const auto& item : list ? list->items : std::vector<text::Node>{}) {
                const auto* one = item.as<text::Table>();
                if (!one) {
                    fault(item.span, fmt::format("{} is a list of tables", key));
                    continue;
                }
                const auto row = named_row(*one, item.span);
                const auto grade = grade_at(*one, true);
                if (!row || !grade) continue;
                if (key == "row_verified") {
                    table_.rows[*row].grade = grade;
                    continue;
                }
                const auto column = table_.column(text_at(*one, "column"));
                if (!column) {
                    fault(item.span, "no such column");
                    continue;
                }
                table_.cell_grades.push_back({*row, *column, *grade});
            }
        }
    }

    text::Document document_;
    Table table_;
    Diagnostics problems_;
};

}  // namespace

std::string_view words(Grade grade) { return grades[static_cast<std::size_t>(grade)]; }
std::string_view words(Status status) { return statuses[static_cast<std::size_t>(status)]; }

std::variant<Table, Diagnostics> read_table(std::string_view id, std::string_view text) { return TableReader(id, text).read(); }

std::vector<Source> read_sources(std::string_view content, Diagnostics& problems) {
    const text::Document document("sources.toml", std::string(content));
    text::Limits limits;
    limits.text_characters = 2000;
    text::Parsed parsed = text::parse_toml(document, limits);
    problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
    std::vector<Source> sources;
    const auto* all = parsed.root.find("source");
    const auto* table = all ? all->node.as<text::Table>() : nullptr;
    for (const auto& entry : table ? table->entries : std::vector<text::Entry>{}) {
        Source source;
        source.key = entry.key;
        const auto* fields = entry.node.as<text::Table>();
        const auto text_of = [&](std::string_view key) {
            const auto* field = fields ? fields->find(key) : nullptr;
            const auto* value = field ? field->node.as<std::string>() : nullptr;
            return value ? *value : std::string{};
        };
        source.title = text_of("title");
        source.publisher = text_of("publisher");
        source.kind = text_of("kind");
        if (const auto note = text_of("notes"); !note.empty()) source.notes.push_back(note);
        if (source.title.empty() || source.kind.empty())
            problems.push_back({"sources", fmt::format("source {} needs title and kind", entry.key), {{entry.node.span, ""}}, ""});
        sources.push_back(std::move(source));
    }
    return sources;
}

}  // namespace benchfeed::tables
