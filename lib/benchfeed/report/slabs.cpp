// Headings, lists, panels and strips of a sheet as slabs; tables, tests and the diagram have files of their
// own.
#include <benchfeed/report/slabs.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include <benchfeed/report/set_type.hpp>

namespace benchfeed::report {

namespace {

constexpr double heavy = 0.9, fine = 0.25;

/// Slabs on one another as one.
Slab stacked(const std::vector<Slab>& slabs) {
    Slab out;
    for (const Slab& slab : slabs) {
        const auto things = moved(slab.things, 0, out.height);
        out.things.insert(out.things.end(), things.begin(), things.end());
        out.height += slab.height;
    }
    return out;
}
Slab beside(Slab left, const Slab& right) {
    left.things.insert(left.things.end(), right.things.begin(), right.things.end());
    left.height = std::max(left.height, right.height);
    return left;
}

/// Where a run of sections is divided into a left and a right column of nearly one height.
std::size_t divided(const std::vector<double>& heights) {
    const double all = std::accumulate(heights.begin(), heights.end(), 0.0);
    std::size_t best = heights.size();
    double left = 0, least = all;
    for (std::size_t i = 0; i < heights.size(); ++i) {
        left += heights[i];
        if (std::max(left, all - left) < least) {
            least = std::max(left, all - left);
            best = i + 1;
        }
    }
    return best;
}

}  // namespace

Setter::Setter(double width, double points)
    : width_(width),
      body_(points * mm_of_point),
      strong_(std::max(14.0, points * 14 / 9) * mm_of_point),
      heading_(body_ * 1.2),
      foot_(7 * mm_of_point) {}

double Setter::size_of(Type type) const {
    return type == Type::strong ? strong_ : type == Type::foot ? foot_ : body_;
}

Slab Setter::paragraph(const std::string& words, double x, double width, double size, bool strong,
                       bool marked) const {
    const double indent = marked ? 0.9 * size : 0;
    Slab slab;
    if (marked)
        slab.things.emplace_back(
            DrawnBox{x + 0.15 * size, 0.55 * size, 0.32 * size, 0.32 * size, Fill::black, {}, 0});
    for (const std::string& line : set_lines(kept_together(harmless(words)), width - indent, size, strong)) {
        slab.things.emplace_back(
            DrawnWords{x + indent, slab.height + base_line * size, size, width - indent, line, strong});
        slab.height += line_height * size;
    }
    slab.height += 0.12 * size;
    return slab;
}

Slab Setter::heading(const std::string& words, double x, double width) const {
    Slab slab;
    slab.height = 0.55 * body_;
    for (const std::string& line : set_lines(kept_together(harmless(words)), width, heading_, true)) {
        DrawnWords text{x, slab.height + base_line * heading_, heading_, width, line, true};
        text.role = Role::heading;
        slab.things.emplace_back(text);
        slab.height += 1.15 * heading_;
    }
    slab.height += 0.1 * heading_;
    slab.things.emplace_back(DrawnLine{{{x, slab.height}, {x + width, slab.height}}, 0.4});
    slab.height += 0.5;
    slab.keeps = true;
    return slab;
}

std::vector<Slab> Setter::section(const SheetSection& section, double x, double width) const {
    Slabs slabs;
    if (!section.heading.empty()) slabs.push_back(heading(section.heading, x, width));
    const bool strong = section.type == Type::strong;
    for (const std::string& line : section.lines)
        slabs.push_back(paragraph(line, x, width, size_of(section.type), strong, section.lines.size() > 1));
    const auto add = [&](Slabs more) { std::move(more.begin(), more.end(), std::back_inserter(slabs)); };
    // A line that says what the table or the tests are stays with them.
    if (!section.lines.empty() && (!section.table.rows.empty() || !section.tests.empty()))
        slabs.back().keeps = true;
    add(table(section.table, x, width));
    add(tests(section.tests, x, width));
    for (const ControlCircuit& circuit : section.circuits) {
        Slab name = paragraph(circuit.name, x, width, body_, true, false);
        name.keeps = true;
        slabs.push_back(std::move(name));
        DrawnCircuit drawn = draw(circuit, width, body_);
        slabs.push_back({moved(std::move(drawn.things), x, 0), drawn.height});
    }
    if (!slabs.empty()) slabs.front().turns = section.turns;
    return slabs;
}

Slab Setter::panels(const SheetSection& left, const SheetSection& right) const {
    constexpr double edge = 1.6;
    const double half = (width_ - column_gap) / 2, inside = half - 2 * edge;
    const auto one = [&](const SheetSection& what, double x) {
        Slabs slabs;
        DrawnWords head{x + edge, 0.6 + base_line * strong_, strong_, inside, what.heading, true};
        head.role = Role::heading;
        slabs.push_back({{head}, 1.4 * strong_ + 0.6});
        for (const std::string& line : what.lines)
            slabs.push_back(paragraph(line, x + edge, inside, size_of(what.type), what.type == Type::strong,
                                      what.lines.size() > 1));
        return stacked(slabs);
    };
    Slab slab = beside(one(left, 0), one(right, half + column_gap));
    slab.height += edge;
    slab.things.emplace_back(DrawnBox{heavy / 2, 0, half - heavy, slab.height, Fill::none, {}, heavy});
    slab.things.emplace_back(DrawnBox{half + column_gap, 0, half, slab.height, Fill::none, {}, fine});
    slab = stacked({{{}, 1.5}, slab, {{}, 1.0}});
    return slab;
}

void Setter::add_sections(Slabs& slabs, const std::vector<SheetSection>& sections) const {
    const auto add = [&](Slabs more) { std::move(more.begin(), more.end(), std::back_inserter(slabs)); };
    const double half = (width_ - column_gap) / 2;
    for (std::size_t i = 0; i < sections.size();) {
        if (sections[i].panel && i + 1 < sections.size() && sections[i + 1].panel) {
            Slab both = panels(sections[i], sections[i + 1]);
            constexpr double highest_panel = 95;
            if (both.height <= highest_panel) {
                slabs.push_back(std::move(both));
                i += 2;
                continue;
            }
        }
        std::size_t to = i;
        while (to < sections.size() && sections[to].in_columns()) ++to;
        if (width_ < two_columns || to - i < 2) {
            add(section(sections[i], 0, width_));
            ++i;
            continue;
        }
        std::vector<double> heights;
        for (std::size_t k = i; k < to; ++k) heights.push_back(stacked(section(sections[k], 0, half)).height);
        const std::size_t left = i + divided(heights);
        Slabs columns[2];
        for (std::size_t k = i; k < to; ++k) {
            const bool second = k >= left;
            auto more = section(sections[k], second ? half + column_gap : 0, half);
            std::move(more.begin(), more.end(), std::back_inserter(columns[second ? 1 : 0]));
        }
        Slab both = beside(stacked(columns[0]), stacked(columns[1]));
        constexpr double highest_columns = 120;  // they stand whole on a page
        if (both.height <= highest_columns)
            slabs.push_back(std::move(both));
        else
            for (std::size_t k = i; k < to; ++k) add(section(sections[k], 0, width_));
        i = to;
    }
}

Slab Setter::bar(const std::string& words) const {
    const double size = strong_ * 16 / 14;
    Slab slab;
    slab.height = 1;
    const auto lines = set_lines(kept_together(harmless(words)), width_ - 6, size, true);
    const double height = static_cast<double>(lines.size()) * 1.2 * size + 0.5 * size;
    slab.things.emplace_back(DrawnBox{0, 1, width_, height, Fill::black, {}, 0});
    double y = 1 + 0.25 * size;
    for (const std::string& line : lines) {
        slab.things.emplace_back(
            DrawnWords{width_ / 2, y + 0.95 * size, size, width_ - 6, line, true, true, Anchor::middle});
        y += 1.2 * size;
    }
    slab.height = height + 2;
    slab.keeps = true;
    return slab;
}

Slab Setter::status(const Sheet& sheet) const {
    const bool failed = sheet.strip == Strip::failed;
    const double size = failed ? strong_ : heading_, edge = failed ? 2.5 : 1;
    const auto lines = set_lines(kept_together(harmless(sheet.status)), width_ - 4 * edge, size, true);
    const double inner = static_cast<double>(lines.size()) * 1.2 * size + 0.5 * size;
    Slab slab;
    slab.things.emplace_back(
        DrawnBox{0.3, 1, width_ - 0.6, inner + 2 * edge, failed ? Fill::hatch : Fill::none, {}, 0.6});
    if (failed)
        slab.things.emplace_back(DrawnBox{edge, 1 + edge, width_ - 2 * edge, inner, Fill::white, {}, 0});
    double y = 1 + edge + 0.25 * size;
    for (const std::string& line : lines) {
        slab.things.emplace_back(DrawnWords{width_ / 2, y + 0.95 * size, size, width_ - 4 * edge, line, true,
                                            false, Anchor::middle});
        y += 1.2 * size;
    }
    slab.height = inner + 2 * edge + 2;
    return slab;
}

double Setter::page_head_height() const {
    return line_height * body_ + 1.2;
}

std::vector<Drawn> Setter::page_head(const Sheet& sheet, std::size_t page, std::size_t of) const {
    const std::string number = fmt::format("{} of {}", page, of);
    const double right = text_width(number, body_, true) + 3, y = base_line * body_,
                 revision = text_width(sheet.revision, body_);
    std::vector<Drawn> out;
    DrawnWords count{width_, y, body_, right, number, true, false, Anchor::end, Role::ornament};
    out.emplace_back(count);
    // The bench's whole name stands on the first page; here it gives way to its revision.
    const double room = width_ - right - revision - 4;
    const auto name = set_lines(kept_together(harmless(sheet.title)), room, body_, true);
    const std::string words = name.front() + (name.size() > 1 ? " ..." : "");
    out.emplace_back(DrawnWords{0, y, body_, room, words, true, false, Anchor::start, Role::ornament});
    out.emplace_back(DrawnWords{width_ - right, y, body_, revision, sheet.revision, false, false, Anchor::end,
                                Role::ornament});
    out.emplace_back(DrawnLine{{{0, line_height * body_}, {width_, line_height * body_}}, 0.25});
    return out;
}

std::vector<Slab> Setter::set(const Sheet& sheet) const {
    Slabs slabs;
    const double title = strong_ * 18 / 14;
    Slab head;
    for (const std::string& line : set_lines(kept_together(harmless(sheet.title)), width_, title, true)) {
        DrawnWords text{0, head.height + base_line * title, title, width_, line, true};
        text.role = Role::title;
        head.things.emplace_back(text);
        head.height += 1.15 * title;
    }
    if (!sheet.place.empty()) head = stacked({head, paragraph(sheet.place, 0, width_, body_, false, false)});
    head.keeps = true;
    slabs.push_back(std::move(head));
    if (!sheet.first.empty()) slabs.push_back(bar(sheet.first));
    slabs.push_back(status(sheet));
    add_sections(slabs, sheet.before);
    if (!sheet.diagram.nodes.empty()) {
        auto rows = diagram(sheet.diagram, std::string(diagram_heading));
        std::move(rows.begin(), rows.end(), std::back_inserter(slabs));
    }
    add_sections(slabs, sheet.after);
    for (const std::string* words : {&sheet.about, &sheet.foot})
        if (!words->empty()) slabs.push_back(paragraph(*words, 0, width_, foot_, false, false));
    return slabs;
}

}  // namespace benchfeed::report
