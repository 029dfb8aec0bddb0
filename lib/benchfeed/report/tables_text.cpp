#include <benchfeed/report/tables_text.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace benchfeed::report {

namespace {

using tables::Cell;
using tables::Grade;
using tables::Table;

std::string cell_text(const Cell& cell, std::string_view written) {
    if (const auto* number = std::get_if<double>(&cell)) {
        char buffer[32];
        return {buffer, std::to_chars(buffer, buffer + sizeof buffer, *number).ptr};
    }
    if (std::holds_alternative<tables::InWords>(cell)) return std::string(written);
    if (const auto* gauge = std::get_if<Awg>(&cell)) return awg_text(*gauge);
    if (const auto* flag = std::get_if<bool>(&cell)) return *flag ? "yes" : "no";
    return "-";
}

/// A mark behind a figure that says how well it is verified: none for two sources.
std::string_view mark(Grade grade) {
    switch (grade) {
        case Grade::two_sources:
            return "";
        case Grade::one_source:
            return "'";
        case Grade::practice:
            return "~";
        case Grade::memory:
            return "?";
    }
    return "";
}

std::string marked(const Table& table, std::size_t row, std::size_t column) {
    const Cell& cell = table.cell(row, column);
    const bool figure = std::holds_alternative<double>(cell) && column > 0;
    return cell_text(cell, table.written(row, column)) +
           (figure ? std::string(mark(table.grade_of(row, column))) : "");
}

std::string_view unit_of(const Table& table, std::size_t column) {
    return table.text_of(table.columns[column].unit);
}

std::string rows_text(const Table& table, const Style& style) {
    std::vector<std::size_t> widths;
    std::size_t total = 2;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        std::size_t width = std::max(columns(table.column_name(c)), columns(unit_of(table, c)));
        for (std::size_t r = 0; r < table.rows.size(); ++r)
            width = std::max(width, columns(marked(table, r, c)));
        widths.push_back(width);
        total += width + 2;
    }
    std::string out;
    if (total > style.width) {  // long texts: one row as a list
        for (std::size_t r = 0; r < table.rows.size(); ++r) {
            std::string line;
            for (std::size_t c = 0; c < table.columns.size(); ++c) {
                const std::string value = marked(table, r, c);
                if (value == "-" || value == "none") continue;
                line += fmt::format("{}{} {}", line.empty() ? "" : "; ", table.column_name(c), value);
                if (!unit_of(table, c).empty() && unit_of(table, c) != "1" && unit_of(table, c) != "AWG")
                    line += fmt::format(" {}", unit_of(table, c));
            }
            out += wrapped(line, "  ", "    ", style);
        }
        return out;
    }
    const auto padded = [](std::string_view text, std::size_t width) {
        return std::string(text) + std::string(width - std::min(width, columns(text)), ' ') + "  ";
    };
    std::string names = "  ", units = "  ";
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        names += padded(table.column_name(c), widths[c]);
        units += padded(unit_of(table, c), widths[c]);
    }
    const auto without_end = [](std::string line) {
        line.erase(line.find_last_not_of(' ') + 1);
        return line + "\n";
    };
    out += inked(without_end(names), Ink::strong, style) + without_end(units);
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        std::string line = "  ";
        for (std::size_t c = 0; c < table.columns.size(); ++c) line += padded(marked(table, r, c), widths[c]);
        out += without_end(line);
    }
    return out;
}

}  // namespace

Grade lowest_grade(const Table& table) {
    Grade lowest = table.rows.empty() && table.facts.empty() ? table.grade : Grade::two_sources;
    for (const auto& fact : table.facts) lowest = std::min(lowest, fact.grade.value_or(table.grade));
    const auto is_key = [&](std::size_t column) {
        return std::find(table.key_columns.begin(), table.key_columns.end(), column) !=
               table.key_columns.end();
    };
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        for (std::size_t column = 0; column < table.columns.size(); ++column)
            if (!is_key(column) && !std::holds_alternative<std::monostate>(table.cell(row, column)))
                lowest = std::min(lowest, table.grade_of(row, column));
    return lowest;
}

std::string tables_text(const tables::Catalogue& catalogue, const Style& style) {
    std::string out;
    for (const auto id : catalogue.ids()) {
        const Table* table = catalogue.table(id);
        if (!table) {
            out += fmt::format("{}  cannot be read\n", id);
            continue;
        }
        const std::string source =
            fmt::format("{}{}{} {}", table->source_title, table->edition.empty() ? "" : " ", table->edition,
                        table->place);
        out += inked(table->id, Ink::strong, style) +
               fmt::format(" ({}, {})\n", table->family, tables::words(lowest_grade(*table)));
        out += wrapped(fmt::format("{}. {}", table->title, source), "    ", "    ", style);
    }
    out += wrapped(
        fmt::format(
            "{} tables. In brackets the lowest grade of a cell: two sources, one source, common practice, "
            "memory. Every figure was taken from a secondary print: no standard was read in the original. "
            "A figure from memory can warn or fail a plan, but never be the only ground for ok. "
            "`benchfeed tables ID` prints one.",
            catalogue.ids().size()),
        "", "", style);
    return out;
}

std::string table_text(const Table& table, const Style& style) {
    std::string out = heading(table.id, style);
    out += wrapped(table.title, "", "", style);
    out += wrapped(fmt::format("Source: {}, {}{} ({})", table.source_title,
                               table.edition.empty() ? "" : fmt::format("edition {}, ", table.edition),
                               table.place, tables::words(table.status)),
                   "", "  ", style);
    if (table.edition.empty() && !table.seen_in.empty() && table.status != tables::Status::practice)
        out += "Edition: not seen; as printed in what is listed below\n";
    out +=
        wrapped(fmt::format("Grade: {}, the lowest; ' one source, ~ common practice, ? memory, no mark two "
                            "sources",
                            tables::words(lowest_grade(table))),
                "", "  ", style);
    if (!table.kept_for.empty())
        out += wrapped(fmt::format("No rule reads it. Kept for: {}", table.kept_for), "", "  ", style);
    if (!table.rows.empty()) out += "\n" + rows_text(table, style);
    if (!table.facts.empty()) out += "\n";
    for (const auto& fact : table.facts) {
        const bool figure = std::holds_alternative<double>(fact.value);
        const std::string_view unit = table.text_of(fact.unit);
        out += wrapped(fmt::format("{} = {}{}{}", table.text_of(fact.name),
                                   cell_text(fact.value, table.text_of(fact.written)),
                                   figure ? mark(fact.grade.value_or(table.grade)) : "",
                                   unit.empty() || unit == "1" ? "" : fmt::format(" {}", unit)),
                       "  ", "    ", style);
    }
    if (!table.notes.empty()) out += "\nNotes\n";
    for (const auto note : table.notes) out += wrapped(table.text_of(note), "  - ", "    ", style);
    if (!table.seen_in.empty()) out += "Seen in\n";
    for (const auto seen : table.seen_in) out += wrapped(table.text_of(seen), "  - ", "    ", style);
    return out;
}

std::string rules_text(const Style& style) {
    std::string out;
    for (const auto& rule : rules::registry()) {
        out += inked(rule.id, Ink::strong, style) +
               fmt::format(" ({}{})\n", rule.essential ? "essential, " : "", rule.families);
        out += wrapped(rule.title, "    ", "    ", style);
    }
    out += wrapped(
        "An essential rule that cannot be judged keeps a plan from exit code 0. `benchfeed explain RULE` "
        "prints its page.",
        "", "", style);
    return out;
}

std::string page_text(std::string_view rule_id, const Style& style) {
    const std::string_view page = rules::page(rule_id);
    std::string out, paragraph;
    bool code = false;
    const auto flush = [&] {
        if (!paragraph.empty()) out += wrapped(paragraph, "", paragraph.starts_with("- ") ? "  " : "", style);
        paragraph.clear();
    };
    for (std::size_t at = 0; at < page.size();) {
        const std::size_t end = std::min(page.find('\n', at), page.size());
        const std::string line(page.substr(at, end - at));
        at = end + 1;
        if (line.starts_with("```")) {
            flush();
            code = !code;
        } else if (code) {
            out += "    " + line + "\n";
        } else if (line.empty()) {
            flush();
            out += "\n";
        } else if (line.starts_with("#")) {
            flush();
            const std::string title = line.substr(line.find_first_not_of("# "));
            out += heading(title, style);
        } else {
            if (line.starts_with("- ")) flush();
            paragraph += (paragraph.empty() ? "" : " ") + line;
        }
    }
    flush();
    return out;
}

}  // namespace benchfeed::report
