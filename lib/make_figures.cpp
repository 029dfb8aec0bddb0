// The header of one table.
#include "make_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>

#include "make_names.hpp"

namespace benchfeed {

using tables::Draft;
using tables::DraftColumn;
using tables::DraftFact;

namespace {

std::string type_in_row(const Shown& shown) {
    const auto& column = *shown.column;
    if (column.closed)
        return shown.whole ? type_of(column.name) : fmt::format("std::optional<{}>", type_of(column.name));
    if (shown.is_text()) return "std::string_view";
    const std::string plain = shown.flag ? "bool"
                              : shown.quantity().empty()
                                  ? "double"
                                  : fmt::format("tables::Figure<{}>", shown.quantity());
    return shown.whole ? plain : fmt::format("std::optional<{}>", plain);
}

std::string body_in_row(const Shown& shown) {
    const std::string column = "Column::" + shown.name;
    if (shown.column->closed) {
        const std::string word =
            fmt::format("word<{}>({}, {}_words)", type_of(shown.column->name), column, shown.name);
        return shown.whole ? word : fmt::format("has({}) ? std::optional({}) : std::nullopt", column, word);
    }
    if (shown.is_text()) return fmt::format("text({})", column);
    const std::string_view printed = shown.whole ? "" : "printed_";
    if (shown.flag) return fmt::format("{}flag({})", printed, column);
    if (shown.quantity().empty()) return fmt::format("{}number({})", printed, column);
    return fmt::format("{}<{}>({})", shown.whole ? "figure" : "printed", shown.quantity(), column);
}

/// "A" of a quantity, "yes or no", words.
std::string told(const Shown& shown) {
    const std::string unit = shown.column->unit;
    std::string words = unit.empty() ? shown.flag ? "yes or no" : "words" : "[" + unit + "]";
    if (!shown.whole)
        words += shown.is_text() && !shown.column->closed ? "; \"\" where the table has none"
                                                          : "; nothing where the table has none";
    return words;
}

std::string enumerations(const std::vector<Shown>& columns) {
    std::string out;
    for (const Shown& shown : columns) {
        if (!shown.column->closed) continue;
        std::string names, words;
        for (const std::string& word : shown.words) {
            names += (names.empty() ? "" : ", ") + name_of(word);
            words += (words.empty() ? "" : ", ") + literal(word);
        }
        const std::string type = type_of(shown.column->name);
        out += fmt::format(
            "    /// Every word of column {}.\n    enum class {} : std::uint8_t {{ {} }};\n"
            "    static constexpr std::string_view {}_words[] = {{{}}};  ///< as they are written\n",
            shown.column->name, type, names, shown.name, words);
    }
    return out;
}

std::string fact_reference(const Draft& draft, const Shown& shown, const Drafts& drafts) {
    const auto table = table_column(draft, *shown.column);
    if (!table) return "";
    std::string_view quantity;
    for (std::size_t row = 0; row < draft.rows.size(); ++row)
        if (const DraftFact* fact = fact_named(draft, row, *table, shown.at, drafts))
            quantity = quantity_of(fact->unit);
    const std::string get =
        fmt::format("tables::fact_of<{}>(tables::sure(tables, text(Column::{})), text(Column::{}))", quantity,
                    name_of(draft.columns[*table].name), shown.name);
    const std::string type = fmt::format("tables::Figure<{}>", quantity);
    return fmt::format(
        "        /// The fact that column {} names{}.\n        [[nodiscard]] {} {}(const "
        "tables::Catalogue& tables) const {{\n            return {};\n        }}\n",
        shown.column->name, shown.whole ? "" : "; nothing where it names none",
        shown.whole ? type : "std::optional<" + type + ">", shown.name,
        shown.whole ? get
                    : fmt::format("has(Column::{}) ? std::optional({}) : std::nullopt", shown.name, get));
}

std::string row_class(const Draft& draft, const std::vector<Shown>& columns, const Drafts& drafts) {
    std::string out = "    /// Its columns.\n    enum class Column : std::uint8_t { ";
    for (const Shown& shown : columns) out += (shown.at == 0 ? "" : ", ") + shown.name;
    out +=
        " };\n    /// One of its rows.\n    class Row : public tables::RowOf<Column> {\n    public:\n"
        "        using RowOf::RowOf;\n";
    for (const Shown& shown : columns)
        out += fmt::format("        [[nodiscard]] {} {}() const {{ return {}; }}  ///< {}\n",
                           type_in_row(shown), shown.name, body_in_row(shown), told(shown));
    for (const Shown& shown : columns) out += fact_reference(draft, shown, drafts);
    return out +
           "    };\n    /// Every row.\n    [[nodiscard]] static tables::Rows<Row> rows(const "
           "tables::Catalogue& tables) {\n        return tables::Rows<Row>(tables::searched(tables, "
           "id.key));\n    }\n";
}

/// How a key is asked for.
std::string asked_type(const Shown& shown) {
    return shown.is_text() ? "std::string_view" : std::string(shown.quantity());
}
std::string is_asked(const Shown& shown) {
    if (shown.is_text()) return fmt::format("tables::same(row.written(Column::{0}), {0})", shown.name);
    const std::string cell =
        fmt::format("tables::same(row.plain<{0}>(Column::{1}), {1})", shown.quantity(), shown.name);
    return shown.whole ? cell : fmt::format("row.has(Column::{}) && {}", shown.name, cell);
}

/// Quantities that can be said in words, and so be looked for.
bool is_told(std::string_view quantity) {
    constexpr std::array<std::string_view, 11> all{
        "Ratio",  "Current",     "Voltage",  "Power",  "Impedance", "ImpedancePerLength",
        "Length", "Temperature", "Duration", "Volume", "Frequency"};
    return std::find(all.begin(), all.end(), quantity) != all.end();
}

/// The row of a key as the plan writes it.
std::string look_up(const Draft& draft, const std::vector<Shown>& columns) {
    std::string parameters, test, asked;
    for (const std::size_t key : draft.key_columns) {
        const Shown& shown = columns[key];
        if (!shown.is_text() && shown.quantity() != "Section" && !is_told(shown.quantity())) return "";
        parameters += fmt::format(", {} {}", asked_type(shown), shown.name);
        test += (test.empty() ? "" : " && ") + is_asked(shown);
        asked += ", " + shown.name;
    }
    return fmt::format(
        "    /// The row of this key.\n    [[nodiscard]] static tables::Found<Row> at(const "
        "tables::Catalogue& tables{}) {{\n"
        "        return rows(tables).first([&](const Row& row) {{ return {}; }}{});\n    }}\n",
        parameters, test, asked);
}

/// Rows rise in a column: each has a number, none less than the one before.
bool rises(const Draft& draft, std::size_t column) {
    double before = -std::numeric_limits<double>::infinity();
    for (const auto& row : draft.rows) {
        const auto* number = std::get_if<double>(&row.cells[column]);
        if (!number || *number < before) return false;
        before = *number;
    }
    return true;
}

/// Rows by a number, of columns in which they rise.
std::string by_size(const Draft& draft, const std::vector<Shown>& columns) {
    std::string out;
    for (const Shown& shown : columns) {
        if (!is_told(shown.quantity()) || !rises(draft, shown.at)) continue;
        const std::string cell = fmt::format("row.plain<{}>(Column::{})", shown.quantity(), shown.name);
        out += fmt::format(
            "    /// @{{ First row at or above, last row at or below, by column {0}.\n"
            "    [[nodiscard]] static tables::Found<Row> {0}_at_or_above(const tables::Catalogue& tables, "
            "{1} {0}) {{\n"
            "        return rows(tables).first([&](const Row& row) {{ return tables::at_least({2}, {0}); }}, "
            "{0});\n    }}\n"
            "    [[nodiscard]] static tables::Found<Row> {0}_at_or_below(const tables::Catalogue& tables, "
            "{1} {0}) {{\n"
            "        return rows(tables).last([&](const Row& row) {{ return tables::at_least({0}, {2}); }}, "
            "{0});\n    }}\n    /// @}}\n",
            shown.name, shown.quantity(), cell);
    }
    return out;
}

std::string bound_of(const Shown& shown, std::string_view comparison) {
    const std::string cell =
        fmt::format("wanted {} row.plain<{}>(Column::{})", comparison, shown.quantity(), shown.name);
    return shown.whole ? cell : fmt::format("(!row.has(Column::{}) || {})", shown.name, cell);
}

/// Rows with a range: columns FROM and TO, whose names end so.
std::string by_range(const std::vector<Shown>& columns) {
    for (const Shown& low : columns)
        for (const Shown& high : columns) {
            const std::string_view from = low.name, to = high.name;
            const auto stem = from == "from" ? from.substr(0, 0)
                              : from.ends_with("_from") || from.ends_with("_over")
                                  ? from.substr(0, from.size() - 4)
                                  : "?";
            if (to != std::string(stem) + "to" || low.quantity() != high.quantity() || low.quantity().empty())
                continue;
            if (low.quantity() == "Section") {
                return fmt::format(
                    "    /// First row whose range holds the area; a bound that is not printed is open.\n"
                    "    [[nodiscard]] static tables::Found<Row> in_range(const tables::Catalogue& tables, "
                    "const Section& wanted) {{\n"
                    "        return rows(tables).first([&](const Row& row) {{ return {} && {}; }}, "
                    "wanted);\n    }}\n",
                    low.whole ? fmt::format("wanted.area >= row.plain<Section>(Column::{}).area", low.name)
                              : fmt::format("(!row.has(Column::{0}) || wanted.area >= "
                                            "row.plain<Section>(Column::{0}).area)",
                                            low.name),
                    high.whole ? fmt::format("wanted.area <= row.plain<Section>(Column::{}).area", high.name)
                               : fmt::format("(!row.has(Column::{0}) || wanted.area <= "
                                             "row.plain<Section>(Column::{0}).area)",
                                             high.name));
            }
            return fmt::format(
                "    /// First row whose range holds it, both ends included; a bound that is not printed is "
                "open.\n"
                "    [[nodiscard]] static tables::Found<Row> in_range(const tables::Catalogue& tables, {} "
                "wanted) {{\n"
                "        return rows(tables).first([&](const Row& row) {{ return {} && {}; }}, wanted);\n    "
                "}}\n",
                low.quantity(), bound_of(low, ">="), bound_of(high, "<="));
        }
    return "";
}

/// Where one closed column is the key, each of its words has a row: nothing can be missing.
std::string named_rows(const Draft& draft, const std::vector<Shown>& columns) {
    if (draft.key_columns.size() != 1) return "";
    const Shown& key = columns[draft.key_columns.front()];
    if (!key.column->closed || !key.whole) return "";
    return fmt::format(
        "    /// The row of a word: each has one.\n    [[nodiscard]] static Row at(const tables::Catalogue& "
        "tables, {} {}) {{\n"
        "        return {{tables::sure(tables, id.key), static_cast<std::size_t>({})}};\n    }}\n",
        type_of(key.column->name), key.name, key.name);
}

/// Columns by the size of the section in the first: the largest that is printed and not above.
std::string by_section(const std::vector<Shown>& columns) {
    if (columns.empty() || columns.front().quantity() != "Section" || !columns.front().whole) return "";
    return fmt::format(
        "    /// The largest printed section that is not above, whatever the units: never one converted.\n"
        "    [[nodiscard]] static tables::Found<Row> below(const tables::Catalogue& tables, const Section& "
        "wanted) {{\n"
        "        std::optional<Row> best;\n        for (const Row row : rows(tables)) {{\n"
        "            const Area here = row.plain<Section>(Column::{0}).area;\n"
        "            if (here <= wanted.area && (!best || here >= best->plain<Section>(Column::{0}).area)) "
        "best = row;\n"
        "        }}\n        return best ? tables::Found<Row>(*best) : tables::Missing{{id.key.text, "
        "tables::wanted(wanted)}};\n    }}\n",
        columns.front().name);
}

std::string facts_of(const Draft& draft) {
    std::string out;
    for (const DraftFact& fact : draft.facts) {
        const std::string_view quantity = quantity_of(fact.unit);
        const bool number = std::holds_alternative<double>(fact.value);
        const bool measured = !quantity.empty() && !is_nothing(fact.value);
        std::string type = "tables::Figure<std::string_view>", get = "tables::text_of";
        if (measured) {
            type = fmt::format("tables::Figure<{}>", quantity);
            get = fmt::format("tables::fact_of<{}>", quantity);
        } else if (number) {
            type = "double";
            get = "tables::number_of";
        } else if (std::holds_alternative<bool>(fact.value)) {
            type = "bool";
            get = "tables::flag_of";
        }
        out += fmt::format(
            "    /// Fact {}{}.\n    [[nodiscard]] static {} {}(const tables::Catalogue& tables) {{\n"
            "        return {}(tables::sure(tables, id.key), {});\n    }}\n",
            fact.name, fact.unit.empty() ? "" : " [" + fact.unit + "]", type, name_of(fact.name), get,
            literal(fact.name));
    }
    return out;
}

}  // namespace

std::string figures_name(std::string_view id) {
    return name_of(id);
}

std::string figures_of(const Draft& draft, const Drafts& drafts) {
    const std::vector<Shown> columns = columns_of(draft);
    std::string out = fmt::format(
        "#pragma once\n// Made by benchfeed_make_tables out of data/tables: {}.toml.\n#include "
        "<benchfeed/tables/typed.hpp>\n\n"
        "namespace benchfeed::figures {{\n\n/// {}: {}.\nstruct {} {{\n    static constexpr tables::Id "
        "id{{{}}};  ///< as data/tables has it\n",
        draft.id, draft.title, draft.place, name_of(draft.id), literal(draft.id));
    out += facts_of(draft);
    if (!draft.rows.empty())
        out += enumerations(columns) + row_class(draft, columns, drafts) + look_up(draft, columns) +
               named_rows(draft, columns) + by_size(draft, columns) + by_range(columns) + by_section(columns);
    return out + "};\n\n}  // namespace benchfeed::figures\n";
}

}  // namespace benchfeed
