// A sheet as one HTML file for a browser and its printer. Black on white; nothing from elsewhere.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/core_colours.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/sheet.hpp>
#include <benchfeed/report/sheet_style.hpp>
#include <benchfeed/report/slabs.hpp>

namespace benchfeed::report {

namespace {

/// Words of others, their figures kept to their units.
std::string words_html(const std::string& words) {
    return markup(kept_together(words));
}

/// A drawing of so many mm; it says nothing that does not stand beside it in words.
std::string ornament(const std::vector<Drawn>& things, double width, double height, std::string_view name) {
    return fmt::format(
        "<svg class=\"{}\" aria-hidden=\"true\" width=\"{}mm\" height=\"{}mm\" viewBox=\"-0.5 -0.5 {} {}\" "
        "fill=\"none\" stroke=\"#000\">{}</svg>",
        name, coordinate(width + 1), coordinate(height + 1), coordinate(width + 1), coordinate(height + 1),
        drawn_svg(things));
}

std::string swatch(const std::string& core) {
    const auto shades = core_shades(core);
    if (shades.empty()) return "";
    std::vector<Drawn> things;
    const double part = 7.0 / static_cast<double>(shades.size());
    for (std::size_t i = 0; i < shades.size(); ++i)
        things.emplace_back(
            DrawnBox{static_cast<double>(i) * part, 0, part, 3.4, Fill::colour, shades[i], 0});
    things.emplace_back(DrawnBox{0, 0, 7, 3.4, Fill::none, {}, 0.3});
    return ornament(things, 7, 3.4, "swatch") + " ";
}

std::string cell(const SheetTable& table, const std::vector<std::string>& row, std::size_t c) {
    const std::string head = markup(table.head[c]);
    switch (table.column(c)) {
        case Column::tick:
            return fmt::format("<td data-head=\"{}\"><span class=\"tick\"></span></td>", head);
        case Column::core:
            return fmt::format("<td data-head=\"{}\">{}{}</td>", head, swatch(row[c]), words_html(row[c]));
        case Column::blank:
            if (row[c].empty())
                return fmt::format("<td class=\"blank w{}\" data-head=\"{}\">&#160;</td>", table.room(c),
                                   head);
            break;
        case Column::words:
            break;
    }
    return fmt::format("<td data-head=\"{}\">{}</td>", head, row[c].empty() ? "&#160;" : words_html(row[c]));
}

std::string table_html(const SheetTable& table, const std::string& caption, double width) {
    if (table.rows.empty()) return "";
    constexpr std::size_t few = 12;  // rows that stand on one page: a browser leaves a head alone at its foot
    std::vector<std::string> classes;
    if (!words_fit(table, 9 * mm_of_point, width)) classes.emplace_back("tight");
    if (table.rows.size() <= few) classes.emplace_back("whole");
    if (table.least_height > 0) classes.push_back(fmt::format("h{}", table.least_height));
    std::string out =
        fmt::format("<table{}><caption>{}</caption><thead><tr>",
                    classes.empty() ? "" : fmt::format(" class=\"{}\"", fmt::join(classes, " ")),
                    markup(caption.empty() ? "what follows" : caption));
    // Heads of words alone break on small paper before their cells do.
    const std::string_view open = table.columns.empty() ? "<span>" : "",
                           close = table.columns.empty() ? "</span>" : "";
    for (const std::string& head : table.head)
        out += fmt::format("<th scope=\"col\">{}{}{}</th>", open, words_html(head), close);
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (std::size_t c = 0; c < row.size(); ++c) out += cell(table, row, c);
        out += "</tr>\n";
    }
    return out + "</tbody></table>\n";
}

std::string test_html(const SheetTest& test) {
    constexpr std::size_t crowd = 5;  // so many keys stand above their blanks, but
    constexpr std::size_t eight = 8;  // up to so many before them on small paper: two rows of four are lower
    std::string out = fmt::format("<div class=\"test{}\"><p><b>{}</b> {}<br>Expected: {}. Stop if: {}.",
                                  test.places.size() > 1 ? " many" : "", test.number, words_html(test.test),
                                  words_html(test.expected), words_html(test.stop));
    for (const std::string& found : test.found) out += "<br>Read before: " + words_html(found) + ".";
    const bool two_rows = test.places.size() <= eight;
    out += fmt::format("</p><div class=\"places{}\">",
                       test.places.size() < crowd ? "" : (two_rows ? " crowd eight" : " crowd"));
    std::vector<std::string> places = test.places;
    if (places.empty()) places.emplace_back();
    for (const std::string& place : places)
        out +=
            fmt::format("<span class=\"place\"><b>{}</b><span class=\"box\"></span></span>", markup(place));
    return out + "</div></div>\n";
}

std::string circuit_html(const ControlCircuit& circuit, double width) {
    const DrawnCircuit drawn = draw(circuit, width, 9 * mm_of_point);
    std::string told;
    for (const ControlStep& step : circuit.steps)
        told += (told.empty() ? "" : ", ") + step.words + (step.beside.empty() ? "" : " or " + step.beside);
    return fmt::format(
        "<svg class=\"circuit\" role=\"img\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "fill=\"none\" stroke=\"#000\"><title>{2}</title><desc>{3}</desc>\n{4}</svg>\n",
        coordinate(width), coordinate(drawn.height), markup(circuit.name), markup(told),
        drawn_svg(drawn.things));
}

std::string section_html(const SheetSection& section, double width) {
    static constexpr std::string_view types[] = {"", "strong", "foot"};
    std::string classes(types[static_cast<std::size_t>(section.type)]);
    if (section.turns) classes += " turns";
    if (section.panel) classes += " panel";
    std::string out = fmt::format("<section class=\"{}\">\n", classes);
    if (!section.heading.empty()) out += "<h2>" + words_html(section.heading) + "</h2>\n";
    if (section.lines.size() == 1) out += "<p>" + words_html(section.lines.front()) + "</p>\n";
    if (section.lines.size() > 1) {
        out += "<ul class=\"list\">\n";
        for (const std::string& line : section.lines) out += "<li>" + words_html(line) + "</li>\n";
        out += "</ul>\n";
    }
    out += table_html(section.table, section.heading, width);
    if (!section.tests.empty()) {
        out += "<div class=\"tests\">\n";
        for (const SheetTest& test : section.tests) out += test_html(test);
        out += "</div>\n";
    }
    for (const ControlCircuit& circuit : section.circuits) {
        out += "<h3>" + words_html(circuit.name) + "</h3>\n";
        out += circuit_html(circuit, width);
    }
    return out + "</section>\n";
}

/// Beside each other panels are half as wide: on small paper many lines are lower one below another.
bool beside_another(const SheetSection& panel, double width) {
    constexpr std::size_t few_lines = 5;
    return width >= two_columns || panel.lines.size() <= few_lines;
}

std::string sections_html(const std::vector<SheetSection>& sections, double width) {
    std::string out;
    for (std::size_t i = 0; i < sections.size();) {
        std::size_t to = i;
        const auto run = [&](auto is_one) {
            to = i;
            while (to < sections.size() && is_one(sections[to])) ++to;
            return to - i > 1;
        };
        std::string_view name;
        if (run([&](const SheetSection& s) { return s.panel && beside_another(s, width); }))
            name = "pair";
        else if (run([](const SheetSection& s) { return s.in_columns(); }))
            name = "columns";
        else
            to = i + 1;
        if (!name.empty()) out += fmt::format("<div class=\"{}\">\n", name);
        const bool halved = name == "columns" && width >= two_columns;
        for (; i < to; ++i) out += section_html(sections[i], halved ? (width - column_gap) / 2 : width);
        if (!name.empty()) out += "</div>\n";
    }
    return out;
}

std::string row_html(const Diagram& diagram, const DiagramRow& row) {
    const RowSigns signs = row_signs(diagram, row);
    std::string out = "<div class=\"row\">" + ornament(signs.strokes, signs.width, sign_field, "signs") +
                      "<span class=\"words\"><b>" + words_html(row_words(diagram, row)) + "</b>";
    if (const std::string feeds = row_feeds(diagram, row); !feeds.empty())
        out += " &#160;" + words_html(feeds);
    out += "</span>";
    if (row.figures.empty()) return out + "</div>\n";
    out += "<span class=\"figures\">";
    for (const DiagramFigure& figure : row.figures) {
        const std::string words = words_html(figure.words);
        out += "<span class=\"figure\"><span>" +
               (figure.over || figure.weakest ? "<b>" + words + "</b>" : words);
        if (figure.over) out += "<br><b>" + words_html(over_words(figure.share)) + "</b>";
        if (figure.weakest) out += "<br><b>the weakest</b>";
        out += "</span>";
        if (figure.share > 0)
            out += ornament(moved(share_bar(figure.share, 22, 1.9), 0, 0.9), 22, 3.2, "bar");
        out += "</span>";
    }
    return out + "</span></div>\n";
}

/// Rows of one line after each other; what branches off is a list inside the last of them.
std::string tree_html(const Diagram& diagram) {
    std::string out = "<ul class=\"tree\">\n";
    std::size_t level = 0;
    bool open = false;  // a row whose list item is not closed yet
    for (const DiagramRow& row : diagram_rows(diagram)) {
        for (; level < row.level; ++level) {
            out += "<ul>\n";
            open = false;
        }
        if (open) out += "</li>\n";
        for (; level > row.level; --level) out += "</ul></li>\n";
        out += row.in_line || row.first ? "<li class=\"on\">" : "<li>";
        out += row_html(diagram, row);
        open = true;
    }
    out += open ? "</li>\n" : "";
    for (; level > 0; --level) out += "</ul></li>\n";
    return out + "</ul>\n";
}

std::string legend_html(const Diagram& diagram) {
    std::string out = "<p class=\"legend\">";
    for (const SignName& sign : legend(diagram)) {
        const double width = sign.name.find("rating") != std::string::npos ? 8.5 : sign_field;
        out += "<span>" + ornament(sign.strokes, width, sign_field, "signs") + " " + markup(sign.name) +
               "</span>\n";
    }
    return out + "</p>\n";
}

}  // namespace

std::string sheet_html(const Sheet& sheet, const Paper& paper) {
    const double width = paper.width - 2 * paper.margin;
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n"
        "<body>\n<svg class=\"patterns\" aria-hidden=\"true\" width=\"0\" height=\"0\">{}</svg>\n<header>\n",
        markup(sheet.title), sheet_style(sheet, paper, 9), drawn_patterns());
    out += "<h1>" + words_html(sheet.title) + "</h1>\n";
    if (!sheet.place.empty()) out += "<p>" + words_html(sheet.place) + "</p>\n";
    out += "<p>" + words_html(sheet.revision) + "</p>\n</header>\n<main>\n";
    if (!sheet.first.empty()) out += "<p class=\"first\">" + words_html(sheet.first) + "</p>\n";
    out += fmt::format("<p class=\"status{}\"><span>{}</span></p>\n",
                       sheet.strip == Strip::failed ? " failed" : "", words_html(sheet.status));
    out += sections_html(sheet.before, width);
    if (!sheet.diagram.nodes.empty())
        out += fmt::format("<section class=\"drawing\">\n<h2>{}</h2>\n{}{}</section>\n", diagram_heading,
                           tree_html(sheet.diagram), legend_html(sheet.diagram));
    out += sections_html(sheet.after, width);
    out += "</main>\n<footer class=\"foot\">\n";
    for (const std::string* words : {&sheet.about, &sheet.foot})
        if (!words->empty()) out += "<p>" + words_html(*words) + "</p>\n";
    return out + "</footer>\n</body>\n</html>\n";
}

}  // namespace benchfeed::report
