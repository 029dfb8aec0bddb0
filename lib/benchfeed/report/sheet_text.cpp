// A sheet for a terminal or a plain printer.
#include <algorithm>
#include <numeric>

#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

namespace {

constexpr std::size_t between = 2;  ///< columns between two cells
constexpr std::string_view blank = "______";

std::string shown(const std::string& cell) {
    return cell.empty() ? std::string(blank) : harmless(cell);
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

}  // namespace

std::string sheet_section_text(const SheetSection& section, const Style& style) {
    std::string out;
    if (!section.heading.empty()) {
        out += "\n";
        const std::string heading = wrapped(harmless(section.heading), "", "", style);
        out += inked(std::string_view(heading).substr(0, heading.size() - 1), Ink::strong, style) + "\n";
    }
    for (const std::string& line : section.lines) out += wrapped(harmless(line), "- ", "  ", style);
    return out + table_text(section.table, style);
}

std::string sheet_text(const Sheet& sheet, const Style& style) {
    // The strip is hatched where the bench must not be used.
    const char mark = sheet.strip == Strip::failed ? '/' : '=';
    const std::string bar(style.width, mark);
    std::string out = wrapped(harmless(sheet.title), "", "", style);
    for (const std::string& line : sheet.about) out += wrapped(harmless(line), "", "", style);
    out += bar + "\n" + wrapped(harmless(sheet.status), "", "", style) + bar + "\n";
    for (const SheetSection& section : sheet.before) out += sheet_section_text(section, style);
    if (!sheet.diagram.nodes.empty())
        out += sheet_section_text(
                   {"From the supply to the tools, amps of the worst set", {}, {}, false, true}, style) +
               diagram_text(sheet.diagram, style.width);
    for (const SheetSection& section : sheet.after) out += sheet_section_text(section, style);
    return out + "\n" + wrapped(harmless(sheet.foot), "", "", style);
}

}  // namespace benchfeed::report
