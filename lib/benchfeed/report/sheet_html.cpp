// A sheet as one HTML file for a browser and its printer. Black on white; nothing from elsewhere.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/page_fit.hpp>
#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

namespace {

constexpr std::array papers{Paper{"A5", 148, 210, 6}, Paper{"A4", 210, 297, 12},
                            Paper{"letter", 215.9, 279.4, 12}, Paper{"half-letter", 139.7, 215.9, 6}};
constexpr double mm_of_point = 25.4 / 72;

std::string cell(std::string_view tag, const std::string& words) {
    return fmt::format("<{0}>{1}</{0}>", tag, words.empty() ? "&#160;" : markup(words));
}

std::string table_html(const SheetTable& table, double width, double size) {
    if (table.rows.empty()) return "";
    std::string out = "<table><colgroup>";
    for (const double column : column_widths(table, width, size))
        out += fmt::format("<col style=\"width: {}%\">", coordinate(100 * column / width));
    out += "</colgroup><thead><tr>";
    for (const std::string& head : table.head) out += cell("th", head);
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (const std::string& words : row) out += cell("td", words);
        out += "</tr>\n";
    }
    return out + "</tbody></table>\n";
}

std::string section_html(const SheetSection& section, double width, double size) {
    std::string classes = section.strong ? "strong" : "";
    if (section.wide) classes += classes.empty() ? "wide" : " wide";
    std::string out = fmt::format("<section class=\"{}\">\n", classes);
    if (!section.heading.empty()) out += "<h2>" + markup(section.heading) + "</h2>\n";
    if (!section.lines.empty()) {
        out += "<ul>\n";
        for (const std::string& line : section.lines) out += "<li>" + markup(line) + "</li>\n";
        out += "</ul>\n";
    }
    out += table_html(section.table, width, size);
    if (!section.ladder.rungs.empty()) out += ladder_svg(section.ladder, width);
    return out + "</section>\n";
}

/// Sections of half the width that follow each other, and how far the left column of them goes.
struct Stretch {
    std::size_t from = 0, to = 0, right = 0;  ///< one wide section, or narrow ones from..right..to
    bool wide = false;
    double height = 0;
};
std::vector<Stretch> stretches_of(const std::vector<SheetSection>& sections, double width, double size) {
    std::vector<Stretch> out;
    const double half = (width - type_rules.column_gap) / 2;
    for (std::size_t i = 0; i < sections.size();) {
        if (sections[i].wide) {
            out.push_back({i, i + 1, i + 1, true, section_height(sections[i], width, size)});
            ++i;
            continue;
        }
        std::size_t to = i;
        std::vector<double> heights;
        for (; to < sections.size() && !sections[to].wide; ++to)
            heights.push_back(section_height(sections[to], half, size));
        const std::size_t left = divided(heights);
        double sides[2] = {0, 0};
        for (std::size_t k = 0; k < heights.size(); ++k) sides[k < left ? 0 : 1] += heights[k];
        out.push_back({i, to, i + left, false, std::max(sides[0], sides[1])});
        i = to;
    }
    return out;
}

double sheet_height(const Sheet& sheet, double width, double size, double drawing) {
    const TypeRules& r = type_rules;
    double height = line_count(sheet.title, width, size * r.title, true) * size * r.title * r.leading;
    for (const std::string& line : sheet.about)
        height += line_count(line, width, size, false) * size * r.leading;
    const double status = size * r.status;
    height +=
        line_count(sheet.status, width - 4 * status, status, true) * status * r.leading + 1.1 * status + 2.4;
    for (const auto* part : {&sheet.before, &sheet.after})
        for (const Stretch& stretch : stretches_of(*part, width, size)) height += stretch.height;
    if (drawing > 0) height += drawing + size * (r.section_space + r.heading * (r.leading + 0.1)) + r.line;
    return height + 0.5 * size + r.line + line_count(sheet.foot, width, size, false) * size * r.leading;
}

/// How a sheet is set on a paper.
struct Setting {
    double points = 7;   ///< size of the type
    double drawing = 1;  ///< scale of the drawing
    bool one_page = false;
    PlacedDiagram placed;
};
constexpr std::array drawing_scales{2.4, 2.2, 2.0, 1.8, 1.7, 1.6, 1.5, 1.4,
                                    1.3, 1.2, 1.1, 1.0, 0.9, 0.8, 0.7};
constexpr double least_points = 4.75, most_points = 9.5, points_of_more_pages = 7;
/// A sheet that is a drawing: its few words are read from a distance as well.
constexpr double points_of_drawing = 8;

/// The largest drawing, then the largest type, with which the sheet fits one page; what does not fit at all
/// takes more pages at a size that reads well. A browser rounds lines up: a part of the page stays free for
/// that.
Setting setting_of(const Sheet& sheet, const Paper& paper) {
    const double room = 0.985 * (paper.height - 2 * paper.margin), width = paper.width - 2 * paper.margin;
    const bool drawing_alone = sheet.after.empty();
    for (const double scale : drawing_scales) {
        if (scale > 1 && !drawing_alone) continue;  // the words need the page
        PlacedDiagram placed = place(sheet.diagram, width / scale - 1);
        if (scale > 1 && (placed.width + 1) * scale > width + 0.01) continue;
        const double drawing = sheet.diagram.nodes.empty() ? 0 : (placed.height + 1) * scale;
        for (double points = most_points; points >= (drawing_alone ? points_of_drawing : least_points);
             points -= 0.125)
            if (sheet_height(sheet, width, points * mm_of_point, drawing) <= room)
                return {points, scale, true, std::move(placed)};
    }
    return {points_of_more_pages, 1, false, place(sheet.diagram, width - 1)};
}

std::string style_of(const Paper& paper, double points) {
    const std::string size = paper.name == "half-letter" ? "139.7mm 215.9mm" : std::string(paper.name);
    return fmt::format(
        "@page {{ size: {0}; margin: {1}mm }}\n"
        "* {{ box-sizing: border-box }}\n"
        "body {{ margin: 0 auto; max-width: {2}mm; color: #000; background: #fff; font: {3}pt/1.12 "
        "\"Liberation "
        "Sans\", Arial, Helvetica, sans-serif; overflow-wrap: anywhere }}\n"
        "h1 {{ font-size: 1.5em; margin: 0 }}\n"
        "h2 {{ font-size: 1.05em; margin: 0 0 .1em; border-bottom: .25mm solid #000; break-after: avoid }}\n"
        ".about {{ margin: 0 }}\n"
        ".status {{ font-size: 1.25em; font-weight: bold; text-align: center; border: .6mm solid #000; "
        "margin: .3em 0; "
        "padding: .25em 1em }}\n"
        ".failed {{ border-width: 1.2mm; background: repeating-linear-gradient(45deg, #fff 0 2mm, #bbb 2mm "
        "3mm); "
        "-webkit-print-color-adjust: exact; print-color-adjust: exact }}\n"
        ".failed span {{ background: #fff; padding: 0 .5em }}\n"
        ".pair {{ display: flex; gap: 4mm }}\n"
        ".pair > div {{ flex: 1 1 0; min-width: 0 }}\n"
        "section {{ break-inside: avoid; padding-top: .4em }}\n"
        ".wide {{ break-inside: auto }}\n"
        "ul {{ margin: 0; padding-left: 1em; list-style: \"- \" }}\n"
        ".strong ul {{ font-size: 1.2em; font-weight: bold }}\n"
        "table {{ border-collapse: collapse; width: 100%; table-layout: fixed }}\n"
        "thead {{ display: table-header-group }}\n"
        "tr {{ break-inside: avoid }}\n"
        "th, td {{ border: .15mm solid #000; padding: 0 .3em; text-align: left; vertical-align: top }}\n"
        ".drawing svg {{ display: block; max-width: 100%; height: auto; break-inside: avoid }}\n"
        ".ladder {{ display: block; max-width: 100%; height: auto; margin-top: .6mm; "
        "-webkit-print-color-adjust: "
        "exact; print-color-adjust: exact }}\n"
        ".foot {{ margin: .5em 0 0; border-top: .25mm solid #000 }}\n"
        "@media screen {{ body {{ padding: 5mm; font-size: 11pt; max-width: 60em }} }}\n"
        "@media screen and (max-width: 45em) {{ .pair {{ display: block }} table {{ font-size: .85em; "
        "table-layout: auto }} col {{ width: auto !important }}\n"
        ".drawing {{ overflow-x: auto }} .drawing svg {{ max-width: none }} }}\n",
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
    const Setting setting = setting_of(sheet, paper);
    const double points = setting.points;
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, "
        "initial-scale=1\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
        markup(sheet.title), style_of(paper, points));
    out += "<h1>" + markup(sheet.title) + "</h1>\n";
    for (const std::string& line : sheet.about) out += "<p class=\"about\">" + markup(line) + "</p>\n";
    out += fmt::format("<p class=\"status{}\"><span>{}</span></p>\n",
                       sheet.strip == Strip::failed ? " failed" : "", markup(sheet.status));
    const double size = points * mm_of_point, half = (width - type_rules.column_gap) / 2;
    const auto add = [&](const std::vector<SheetSection>& sections) {
        for (const Stretch& stretch : stretches_of(sections, width, size)) {
            if (stretch.wide) {
                out += section_html(sections[stretch.from], width, size);
                continue;
            }
            out += "<div class=\"pair\"><div>\n";
            for (std::size_t i = stretch.from; i < stretch.to; ++i) {
                if (i == stretch.right) out += "</div><div>\n";
                out += section_html(sections[i], half, size);
            }
            out += "</div></div>\n";
        }
    };
    add(sheet.before);
    if (!sheet.diagram.nodes.empty()) {
        out +=
            "<section class=\"drawing wide\">\n<h2>From the supply to the tools, amps of the worst set; the "
            "weakest "
            "is framed twice</h2>\n";
        // Strips of some rows each, so that a page ends between two of them.
        const double strip_height = setting.one_page ? 1e9 : 30;
        for (const std::string& strip :
             diagram_strips(sheet.diagram, setting.placed, strip_height, {.scale = setting.drawing}))
            out += strip;
        out += "</section>\n";
    }
    add(sheet.after);
    return out + "<p class=\"foot\">" + markup(sheet.foot) + "</p>\n</body>\n</html>\n";
}

}  // namespace benchfeed::report
