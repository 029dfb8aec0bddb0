// Tables of published figures as JSON.
#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/report/tables_text.hpp>

namespace benchfeed::report {

using tables::Table;

namespace {

Json cell_json(const tables::Cell& cell, std::string_view written) {
    if (const auto* figure = std::get_if<double>(&cell)) return rounded(*figure);
    if (std::holds_alternative<tables::InWords>(cell)) return written;
    if (const auto* gauge = std::get_if<Awg>(&cell)) return awg_text(*gauge);
    if (const auto* flag = std::get_if<bool>(&cell)) return *flag;
    return nullptr;
}

Json unit_json(std::string_view unit) {
    return unit.empty() ? Json(nullptr) : Json(unit);
}

Json texts_json(const Table& table, std::span<const tables::Words> texts) {
    Json list = Json::array();
    for (const tables::Words text : texts) list.push_back(table.text_of(text));
    return list;
}

Json head_json(const Table& table) {
    return {{"table", table.id},
            {"title", table.title},
            {"family", table.family},
            {"topic", table.topic},
            {"source", table.source_title},
            {"edition", table.edition},
            {"place", table.place},
            {"status", tables::words(table.status)},
            {"verified", tables::words(lowest_grade(table))}};
}

Json rows_json(const Table& table) {
    Json rows = Json::array();
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        Json row = Json::array();
        for (std::size_t c = 0; c < table.columns.size(); ++c)
            row.push_back({{"value", cell_json(table.cell(r, c), table.written(r, c))},
                           {"verified", tables::words(table.grade_of(r, c))}});
        rows.push_back(std::move(row));
    }
    return rows;
}

}  // namespace

std::string tables_json(const Tool& tool, const tables::Catalogue& catalogue) {
    Json json{{"format", 1}, {"tool", tool_json(tool)}, {"tables", Json::array()}};
    for (const auto id : catalogue.ids())
        if (const Table* table = catalogue.table(id)) json["tables"].push_back(head_json(*table));
    return dumped(json) + "\n";
}

std::string table_json(const Tool& tool, const Table& table) {
    Json whole = head_json(table);
    whole["columns"] = Json::array();
    for (const auto& column : table.columns)
        whole["columns"].push_back(
            {{"name", table.text_of(column.name)}, {"unit", unit_json(table.text_of(column.unit))}});
    whole["rows"] = rows_json(table);
    whole["facts"] = Json::array();
    for (const auto& fact : table.facts)
        whole["facts"].push_back({{"name", table.text_of(fact.name)},
                                  {"value", cell_json(fact.value, table.text_of(fact.written))},
                                  {"unit", unit_json(table.text_of(fact.unit))},
                                  {"verified", tables::words(fact.grade.value_or(table.grade))}});
    whole["notes"] = texts_json(table, table.notes);
    whole["seen_in"] = texts_json(table, table.seen_in);
    if (!table.kept_for.empty()) whole["kept_for"] = table.kept_for;
    return dumped({{"format", 1}, {"tool", tool_json(tool)}, {"tables", Json::array({std::move(whole)})}}) +
           "\n";
}

}  // namespace benchfeed::report
