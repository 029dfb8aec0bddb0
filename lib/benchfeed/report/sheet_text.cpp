// A sheet for a terminal or a plain printer.
#include <algorithm>
#include <numeric>

#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/sheet.hpp>
#include <benchfeed/report/sheet_style.hpp>

namespace benchfeed::report {

namespace {

constexpr std::size_t between = 2;  ///< columns between two cells
constexpr std::string_view blank = "______";

/// Words with their figures and units kept on one line.
std::string kept(const std::string& words) {
    return kept_together(harmless(words));
}
std::string shown(const std::string& cell) {
    return cell.empty() ? std::string(blank) : kept(cell);
}

std::size_t longest_word(const std::string& text) {
    std::size_t longest = 0, start = 0;
    for (std::size_t at = 0; at <= text.size(); ++at)
        if (at == text.size() || text[at] == ' ') {
            longest = std::max(longest, columns(text.substr(start, at - start)));
            start = at + 1;
        }
    return longest;
}

/// Widths with which the table fits: the widest column gives way first, never below its longest word. Empty:
/// it does not fit.
std::vector<std::size_t> widths_of(const SheetTable& table, std::size_t room) {
    const std::size_t count = table.head.size();
    std::vector<std::size_t> width(count, 0), least(count, 0);
    const auto look = [&](const std::vector<std::string>& row) {
        for (std::size_t c = 0; c < count; ++c) {
            width[c] = std::max(width[c], columns(shown(row[c])));
            least[c] = std::max(least[c], longest_word(shown(row[c])));
        }
    };
    look(table.head);
    for (const auto& row : table.rows) look(row);
    const std::size_t gaps = between * (count - 1);
    while (std::accumulate(width.begin(), width.end(), gaps) > room) {
        std::size_t widest = count;
        for (std::size_t c = 0; c < count; ++c)
            if (width[c] > least[c] && (widest == count || width[c] > width[widest])) widest = c;
        if (widest == count) return {};
        --width[widest];
    }
    return width;
}

std::vector<std::string> cell_lines(const std::string& cell, std::size_t width) {
    std::vector<std::string> lines;
    const std::string text = wrapped(shown(cell), "", "", {.width = std::max<std::size_t>(1, width)});
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

std::string row_text(const std::vector<std::string>& row, const std::vector<std::size_t>& width) {
    std::vector<std::vector<std::string>> cells;
    std::size_t height = 1;
    for (std::size_t c = 0; c < row.size(); ++c) {
        cells.push_back(cell_lines(row[c], width[c]));
        height = std::max(height, cells.back().size());
    }
    std::string out;
    for (std::size_t line = 0; line < height; ++line) {
        std::string text;
        for (std::size_t c = 0; c < row.size(); ++c) {
            const std::string part = line < cells[c].size() ? cells[c][line] : "";
            text += part;
            if (c + 1 < row.size())
                text += std::string(width[c] + between - std::min(width[c] + between, columns(part)), ' ');
        }
        text.erase(text.find_last_not_of(' ') + 1);
        out += text + "\n";
    }
    return out;
}

std::string table_text(const SheetTable& table, const Style& style) {
    if (table.rows.empty()) return "";
    const auto width = widths_of(table, style.width);
    std::string out;
    if (!width.empty()) {
        out = row_text(table.head, width);
        std::string rule;
        for (std::size_t c = 0; c < width.size(); ++c)
            rule += std::string(width[c], '-') + (c + 1 < width.size() ? std::string(between, ' ') : "");
        out += rule + "\n";
        for (const auto& row : table.rows) out += row_text(row, width);
        return out;
    }
    // Too narrow for columns: one paragraph for each row.
    for (const auto& row : table.rows) {
        std::string words = shown(row.front());
        for (std::size_t c = 1; c < row.size(); ++c) words += "; " + table.head[c] + " " + shown(row[c]);
        out += wrapped(words, "- ", "  ", style);
    }
    return out;
}

/// Columns of ticks say "[_]" where there is a box on paper.
SheetTable with_ticks(SheetTable table) {
    for (auto& row : table.rows)
        for (std::size_t c = 0; c < row.size(); ++c)
            if (table.column(c) == Column::tick) row[c] = "[_]";
    return table;
}

/// What is done; what to expect; a blank for each place.
std::string test_text(const SheetTest& test, const Style& style) {
    const std::string number = std::to_string(test.number) + " ", margin(number.size(), ' ');
    std::string out = wrapped(kept(test.test), number, margin, style);
    out += wrapped(kept("expected " + test.expected + "; stop if " + test.stop), margin, margin, style);
    for (const std::string& found : test.found)
        out += wrapped(kept("read before: " + found), margin, margin, style);
    std::string read;
    for (const std::string& place : test.places) read += (read.empty() ? "" : "  ") + place + " ______";
    return out + wrapped(read.empty() ? std::string(blank) : kept(read), margin, margin, style);
}

std::string section_text(const SheetSection& section, const Style& style) {
    std::string out;
    if (!section.heading.empty()) out += "\n" + heading(kept(section.heading), style);
    for (const std::string& line : section.lines) out += wrapped(kept(line), "- ", "  ", style);
    out += table_text(with_ticks(section.table), style);
    for (const SheetTest& test : section.tests) out += test_text(test, style);
    for (const ControlCircuit& circuit : section.circuits) {
        std::string way;
        for (const ControlStep& step : circuit.steps)
            way += (way.empty() ? "" : " - ") + step.words +
                   (step.beside.empty() ? "" : " (beside it " + step.beside + ")");
        out += wrapped(kept(circuit.name + ": " + way), "- ", "  ", style);
    }
    return out;
}

}  // namespace

std::string sheet_text(const Sheet& sheet, const Style& style) {
    // The strip is hatched where the bench must not be used.
    const char mark = sheet.strip == Strip::failed ? '/' : '=';
    const std::string bar(style.width, mark);
    std::string out = wrapped(kept(sheet.title), "", "", style);
    for (const std::string* line : {&sheet.place, &sheet.revision, &sheet.about})
        if (!line->empty()) out += wrapped(kept(*line), "", "", style);
    out += bar + "\n";
    if (!sheet.first.empty()) out += wrapped(kept(sheet.first), "", "", style);
    out += wrapped(kept(sheet.status), "", "", style) + bar + "\n";
    for (const SheetSection& section : sheet.before) out += section_text(section, style);
    if (!sheet.diagram.nodes.empty()) {
        SheetSection drawing;
        drawing.heading = diagram_heading;
        out += section_text(drawing, style) + diagram_text(sheet.diagram, style.width);
    }
    for (const SheetSection& section : sheet.after) out += section_text(section, style);
    return plain_spaces(out + "\n" + wrapped(kept(sheet.foot), "", "", style));
}

}  // namespace benchfeed::report
