// A sheet as one HTML file for a browser and its printer. Black on white; nothing from elsewhere.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/markup.hpp"
#include "report/sheet.hpp"

namespace benchfeed::report {

namespace {

constexpr std::array papers{Paper{"A5", 148, 210, 7}, Paper{"A4", 210, 297, 12},
                            Paper{"letter", 215.9, 279.4, 12}, Paper{"half-letter", 139.7, 215.9, 7}};
constexpr double mm_of_point = 25.4 / 72;

std::string cell(std::string_view tag, const std::string& words) {
    return fmt::format("<{0}>{1}</{0}>", tag, words.empty() ? "&#160;" : markup(words));
}

std::string table_html(const SheetTable& table) {
    if (table.rows.empty()) return "";
    std::string out = "<table><thead><tr>";
    for (const std::string& head : table.head) out += cell("th", head);
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (const std::string& words : row) out += cell("td", words);
        out += "</tr>\n";
    }
    return out + "</tbody></table>\n";
}

std::string section_html(const SheetSection& section) {
    std::string classes = section.strong ? "strong" : "";
    if (section.wide) classes += classes.empty() ? "wide" : " wide";
    std::string out = fmt::format("<section class=\"{}\">\n", classes);
    if (!section.heading.empty()) out += "<h2>" + markup(section.heading) + "</h2>\n";
    if (!section.lines.empty()) {
        out += "<ul>\n";
        for (const std::string& line : section.lines) out += "<li>" + markup(line) + "</li>\n";
        out += "</ul>\n";
    }
    return out + table_html(section.table) + "</section>\n";
}

// ---- how large the type may be ------------------------------------------------------------------------
// Widths of a proportional type differ; what follows errs on the wide side. `make check` prints and counts.
constexpr double character = 0.50, leading = 1.22;

double lines_of(std::size_t characters, double width, double size) {
    const double room = std::max(1.0, std::floor(width / (size * character)));
    return std::max(1.0, std::ceil(static_cast<double>(characters) / room));
}

double section_height(const SheetSection& section, double width, double size) {
    const double line = size * leading;
    double height = size * 2.0;  // heading with its space
    const double type = section.strong ? size * 1.25 : size;
    for (const std::string& words : section.lines)
        height += lines_of(columns(words) + 2, width, type) * type * leading + 0.2;
    if (section.table.rows.empty()) return height;
    const std::size_t count = section.table.head.size();
    std::vector<double> need(count, 4);
    const auto look = [&](const std::vector<std::string>& row) {
        for (std::size_t c = 0; c < count; ++c)
            need[c] = std::max(need[c], static_cast<double>(columns(row[c])));
    };
    look(section.table.head);
    for (const auto& row : section.table.rows) look(row);
    // A browser shares the width by what each column holds, long ones by far less than their length.
    double sum = 0;
    for (double& n : need) sum += (n = std::sqrt(n) * 3);
    const auto row_height = [&](const std::vector<std::string>& row) {
        double most = 1;
        for (std::size_t c = 0; c < count; ++c)
            most = std::max(most, lines_of(columns(row[c]), width * need[c] / sum - 1.2, size));
        return most * line + 0.7;
    };
    height += row_height(section.table.head);
    for (const auto& row : section.table.rows) height += row_height(row);
    return height;
}

double sheet_height(const Sheet& sheet, const Paper& paper, double size, double drawing) {
    const double width = paper.width - 2 * paper.margin, half = (width - 4) / 2;
    double height =
        size * 1.9 + size * leading * static_cast<double>(sheet.about.size()) + size * 3.6 + drawing;
    double narrow = 0;
    const auto add = [&](const std::vector<SheetSection>& sections) {
        for (const SheetSection& section : sections) {
            if (section.wide)
                height += section_height(section, width, size);
            else
                narrow += section_height(section, half, size);
        }
    };
    add(sheet.before);
    add(sheet.after);
    return height + narrow / 2 + size * 3 + lines_of(columns(sheet.foot), width, size) * size * leading;
}

/// The largest type with which the sheet fits one page; what does not fit at the least of them takes more
/// pages at a size that reads well.
double type_size(const Sheet& sheet, const Paper& paper, double drawing) {
    const double room = paper.height - 2 * paper.margin;
    for (double points = 9.5; points >= 4.95; points -= 0.25)
        if (sheet_height(sheet, paper, points * mm_of_point, drawing) <= room) return points;
    return 6.5;
}

std::string style_of(const Paper& paper, double points) {
    const std::string size = paper.name == "half-letter" ? "139.7mm 215.9mm" : std::string(paper.name);
    return fmt::format(
        "@page {{ size: {0}; margin: {1}mm }}\n"
        "* {{ box-sizing: border-box }}\n"
        "body {{ margin: 0 auto; max-width: {2}mm; color: #000; background: #fff; font: {3}pt/1.18 "
        "\"Liberation "
        "Sans\", Arial, Helvetica, sans-serif; overflow-wrap: anywhere }}\n"
        "h1 {{ font-size: 1.5em; margin: 0 }}\n"
        "h2 {{ font-size: 1.05em; margin: .45em 0 .1em; border-bottom: .25mm solid #000 }}\n"
        ".about {{ margin: 0 }}\n"
        ".status {{ font-size: 1.25em; font-weight: bold; text-align: center; border: .6mm solid #000; "
        "margin: .3em 0; "
        "padding: .25em 1em }}\n"
        ".failed {{ border-width: 1.2mm; background: repeating-linear-gradient(45deg, #fff 0 2mm, #bbb 2mm "
        "3mm); "
        "-webkit-print-color-adjust: exact; print-color-adjust: exact }}\n"
        ".failed span {{ background: #fff; padding: 0 .5em }}\n"
        ".pair {{ columns: 2; column-gap: 4mm }}\n"
        "section {{ break-inside: avoid }}\n"
        ".wide {{ break-inside: auto }}\n"
        "ul {{ margin: 0; padding-left: 1.1em }}\n"
        ".strong ul {{ font-size: 1.2em; font-weight: bold }}\n"
        "table {{ border-collapse: collapse; width: 100% }}\n"
        "thead {{ display: table-header-group }}\n"
        "tr {{ break-inside: avoid }}\n"
        "th, td {{ border: .15mm solid #000; padding: .05em .35em; text-align: left; vertical-align: top }}\n"
        ".drawing svg {{ display: block; max-width: 100%; height: auto; break-inside: avoid }}\n"
        ".foot {{ margin: .5em 0 0; border-top: .25mm solid #000 }}\n"
        "@media screen {{ body {{ padding: 5mm; font-size: 11pt; max-width: 60em }} }}\n"
        "@media screen and (max-width: 45em) {{ .pair {{ columns: 1 }} table {{ font-size: .8em }} }}\n",
        size, coordinate(paper.margin), coordinate(paper.width - 2 * paper.margin), coordinate(points));
}

}  // namespace

const Paper* paper_of(std::string_view word) {
    const auto found =
        std::find_if(papers.begin(), papers.end(), [&](const Paper& p) { return p.name == word; });
    return found == papers.end() ? nullptr : &*found;
}

std::vector<std::string> paper_words() {
    std::vector<std::string> words;
    for (const Paper& paper : papers) words.emplace_back(paper.name);
    return words;
}

std::string sheet_html(const Sheet& sheet, const Paper& paper) {
    const double width = paper.width - 2 * paper.margin;
    const PlacedDiagram placed = place(sheet.diagram, width - 1);
    // Strips of some rows each, so that a page ends between two of them.
    const double one_page = paper.height - 2 * paper.margin;
    const bool fits = placed.height < 0.7 * one_page;
    const double points = type_size(sheet, paper, placed.height + 2);
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, "
        "initial-scale=1\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
        markup(sheet.title), style_of(paper, points));
    out += "<h1>" + markup(sheet.title) + "</h1>\n";
    for (const std::string& line : sheet.about) out += "<p class=\"about\">" + markup(line) + "</p>\n";
    out += fmt::format("<p class=\"status{}\"><span>{}</span></p>\n",
                       sheet.strip == Strip::failed ? " failed" : "", markup(sheet.status));
    const auto add = [&](const std::vector<SheetSection>& sections) {
        bool pair = false;
        for (const SheetSection& section : sections) {
            if (section.wide == pair) out += pair ? "</div>\n" : "<div class=\"pair\">\n";
            pair = !section.wide;
            out += section_html(section);
        }
        if (pair) out += "</div>\n";
    };
    add(sheet.before);
    if (!sheet.diagram.nodes.empty()) {
        out +=
            "<section class=\"drawing wide\">\n<h2>From the panel to the tools, amps of the worst set; the "
            "weakest "
            "is framed twice</h2>\n";
        for (const std::string& strip : diagram_strips(sheet.diagram, placed, fits ? 1e9 : 30)) out += strip;
        out += "</section>\n";
    }
    add(sheet.after);
    return out + "<p class=\"foot\">" + markup(sheet.foot) + "</p>\n</body>\n</html>\n";
}

}  // namespace benchfeed::report
