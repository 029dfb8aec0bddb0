// Tables and tests of a sheet as slabs.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>

#include <benchfeed/report/core_colours.hpp>
#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/slabs.hpp>

namespace benchfeed::report {

namespace {

constexpr double side = 1.0, rule_width = 0.2;
constexpr double tick_size = 5, swatch_width = 7, swatch_height = 3.4;

/// A swatch of a core's colour: halves where it has two.
std::vector<Drawn> swatch(const std::string& core, double x, double y) {
    std::vector<Drawn> out;
    const auto shades = core_shades(core);
    if (shades.empty()) return out;
    const double part = swatch_width / static_cast<double>(shades.size());
    for (std::size_t i = 0; i < shades.size(); ++i)
        out.emplace_back(
            DrawnBox{x + static_cast<double>(i) * part, y, part, swatch_height, Fill::colour, shades[i], 0});
    out.emplace_back(DrawnBox{x, y, swatch_width, swatch_height, Fill::none, {}, 0.3});
    return out;
}

/// The room that a cell of a table takes at least, and where nothing has to break but, at will, its head.
ColumnNeed need_of(const SheetTable& table, std::size_t c, double size, bool whole_head) {
    ColumnNeed need;
    const auto look = [&](const std::string& cell, bool strong, bool whole) {
        const std::string words = kept_together(harmless(cell));
        need.least = std::max(need.least, widest_word(words, size, strong));
        need.whole = std::max(need.whole, whole ? text_width(words, size, strong) : need.least);
    };
    look(table.head[c], true, whole_head);
    for (const auto& row : table.rows) look(row[c], false, true);
    double more = 2 * side + 0.3;
    if (table.column(c) == Column::core) more += swatch_width + 1;
    const double room =
        table.column(c) == Column::tick ? std::max(table.room(c), tick_size + 2) : table.room(c);
    need.whole = std::max(need.whole + more, room);
    need.least = std::max(need.least + more, room);
    return need;
}

/// Of all columns. Where not everything fits heads break first, those that take least to stay whole last: a
/// head is one row, and its cells are many.
std::vector<ColumnNeed> needs_of(const SheetTable& table, double size, double width) {
    std::vector<ColumnNeed> needs, whole_heads;
    std::vector<std::size_t> columns(table.head.size());
    std::iota(columns.begin(), columns.end(), std::size_t{0});
    double sum = 0;
    for (const std::size_t c : columns) {
        needs.push_back(need_of(table, c, size, false));
        whole_heads.push_back(need_of(table, c, size, true));
        sum += needs[c].whole;
    }
    const auto more = [&](std::size_t c) { return whole_heads[c].whole - needs[c].whole; };
    std::stable_sort(columns.begin(), columns.end(),
                     [&](std::size_t one, std::size_t other) { return more(one) < more(other); });
    for (const std::size_t c : columns) {
        if (sum + more(c) > width) break;
        sum += more(c);
        needs[c] = whole_heads[c];
    }
    return needs;
}

}  // namespace

bool words_fit(const SheetTable& table, double size, double width) {
    double least = 0;
    for (const ColumnNeed& need : needs_of(table, size, width)) least += need.least;
    return least <= width;
}

std::vector<Slab> Setter::row_by_row(const SheetTable& table, double x, double width) const {
    Slabs slabs;
    for (const auto& row : table.rows) {
        std::string words;
        for (std::size_t c = 0; c < row.size(); ++c)
            words += (words.empty() ? "" : "; ") + (c == 0 ? "" : table.head[c] + " ") + row[c];
        slabs.push_back(paragraph(words, x, width, body_, false, true));
    }
    return slabs;
}

Slab Setter::table_row(const SheetTable& table, const std::vector<std::string>& row,
                       const std::vector<double>& widths, double x, bool head) const {
    std::vector<std::vector<std::string>> cells;
    std::size_t lines = 1;
    for (std::size_t c = 0; c < row.size(); ++c) {
        const double more = !head && table.column(c) == Column::core ? swatch_width + 1 : 0;
        cells.push_back(
            set_lines(kept_together(harmless(row[c])), widths[c] - 2 * side - more + 0.01, body_, head));
        lines = std::max(lines, cells.back().size());
    }
    Slab slab;
    slab.height = std::max(static_cast<double>(lines) * line_height * body_ + 0.25 * body_,
                           head ? 0 : table.least_height);
    for (std::size_t c = 0; c < row.size(); ++c) {
        const bool blank = !head && table.column(c) == Column::blank && row[c].empty();
        const double swatch_room = !head && table.column(c) == Column::core ? swatch_width + 1 : 0;
        slab.things.emplace_back(DrawnBox{x, 0, widths[c], slab.height, Fill::none, {}, rule_width, blank});
        double y = 0.12 * body_;
        for (const std::string& line : cells[c]) {
            slab.things.emplace_back(DrawnWords{x + side + swatch_room, y + base_line * body_, body_,
                                                widths[c] - 2 * side - swatch_room + 0.3, line, head});
            y += line_height * body_;
        }
        if (!head && table.column(c) == Column::tick)
            slab.things.emplace_back(DrawnBox{x + (widths[c] - tick_size) / 2,
                                              (slab.height - tick_size) / 2,
                                              tick_size,
                                              tick_size,
                                              Fill::none,
                                              {},
                                              0.35});
        if (swatch_room > 0) {
            const auto colours = swatch(row[c], x + side, 0.12 * body_ + 0.2);
            slab.things.insert(slab.things.end(), colours.begin(), colours.end());
        }
        x += widths[c];
    }
    return slab;
}

std::vector<Slab> Setter::table(const SheetTable& table, double x, double width) const {
    if (table.rows.empty()) return {};
    if (!words_fit(table, body_, width)) return row_by_row(table, x, width);
    const auto widths = column_widths(needs_of(table, body_, width), width);
    constexpr double highest_row = 60;
    Slabs slabs{table_row(table, table.head, widths, x, true)};
    slabs.front().head = slabs.front().keeps = true;
    for (const auto& row : table.rows) {
        slabs.push_back(table_row(table, row, widths, x, false));
        if (slabs.back().height > highest_row) return row_by_row(table, x, width);
    }
    slabs.push_back({{}, 0.3 * body_});
    for (Slab& slab : slabs) slab.table = 1;
    return slabs;
}

namespace {

/// Blanks of a test beside its words: so many in a row, the key of each before it or above it.
struct Grid {
    std::size_t in_row = 1, rows = 1;
    double label = 0;  ///< width before each blank
    double above = 0;  ///< height above each blank
    [[nodiscard]] double cell_width() const { return blank_width + label + 1; }
    [[nodiscard]] double cell_height() const { return blank_height + above + 1; }
    [[nodiscard]] double width() const { return static_cast<double>(in_row) * cell_width(); }
    [[nodiscard]] double height() const { return static_cast<double>(rows) * cell_height(); }
};
Grid grid_of(const SheetTest& test, std::size_t in_row, bool above, double body) {
    Grid grid;
    if (above)
        grid.above = 1.1 * body;
    else
        for (const std::string& place : test.places)
            grid.label = std::max(grid.label, text_width(place, body, true) + 0.8);
    const std::size_t count = std::max<std::size_t>(1, test.places.size());
    grid.in_row = std::min(in_row, count);
    grid.rows = (count + grid.in_row - 1) / grid.in_row;
    return grid;
}

std::vector<std::string> words_of(const SheetTest& test) {
    std::vector<std::string> words{test.test};
    words.push_back("Expected: " + test.expected + ". Stop if: " + test.stop + ".");
    for (const std::string& found : test.found) words.push_back("Read before: " + found + ".");
    return words;
}

}  // namespace

Slab Setter::test(const SheetTest& test, double x, double width) const {
    const double number = text_width("00", body_, true) + 1.5;
    struct Choice {
        Grid grid;
        bool below = false;  ///< the blanks stand under the words, not beside them
        std::vector<std::string> lines;
        double height = 1e9;
    } best;
    const std::size_t count = std::max<std::size_t>(1, test.places.size());
    const auto consider = [&](const Grid& grid, bool below) {
        const double room = width - number - (below ? 0 : grid.width() + 2);
        if (below ? grid.width() > width : room < 0.26 * width && grid.in_row > 1) return;
        Choice choice{grid, below, {}, 0};
        for (const std::string& words : words_of(test)) {
            const auto lines = set_lines(kept_together(harmless(words)), room, body_);
            choice.lines.insert(choice.lines.end(), lines.begin(), lines.end());
        }
        const double words = static_cast<double>(choice.lines.size()) * 1.2 * body_;
        choice.height = below ? words + grid.height() : std::max(words, grid.height());
        if (choice.height < best.height - 0.1) best = std::move(choice);
    };
    for (std::size_t i = 0; i < 2 * count; ++i) consider(grid_of(test, i / 2 + 1, i % 2 == 1, body_), false);
    if (count > 1)
        for (std::size_t in_row = 2; in_row <= count; ++in_row)
            consider(grid_of(test, in_row, true, body_), true);
    const Grid& grid = best.grid;
    Slab slab;
    slab.things.emplace_back(
        DrawnWords{x, 0.6 + base_line * body_, body_, number, std::to_string(test.number), true});
    const double room = width - number - (best.below ? 0 : grid.width() + 1.5);
    double y = 0.6;
    for (const std::string& line : best.lines) {
        slab.things.emplace_back(DrawnWords{x + number, y + base_line * body_, body_, room, line});
        y += 1.2 * body_;
    }
    const double left = x + width - grid.width() + 0.5, top = best.below ? y : 0.6;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t row = i / grid.in_row, column = i % grid.in_row;
        const double cell_x = left + static_cast<double>(column) * grid.cell_width(),
                     cell_y = top + static_cast<double>(row) * grid.cell_height(),
                     middle = cell_y + blank_height / 2 + 0.35 * body_;
        if (!test.places.empty())
            slab.things.emplace_back(DrawnWords{cell_x, grid.above > 0 ? cell_y + 0.95 * body_ : middle,
                                                body_, grid.above > 0 ? blank_width : grid.label,
                                                test.places[i], true});
        slab.things.emplace_back(DrawnBox{
            cell_x + grid.label, cell_y + grid.above, blank_width, blank_height, Fill::none, {}, 0.25, true});
    }
    slab.height = best.height + 1.1;
    slab.things.emplace_back(DrawnLine{{{x, slab.height - 0.2}, {x + width, slab.height - 0.2}}, 0.1});
    return slab;
}

std::vector<Slab> Setter::tests(const std::vector<SheetTest>& tests, double x, double width) const {
    Slabs slabs;
    const double half = (width - column_gap) / 2;
    const auto narrow = [](const SheetTest& test) { return test.places.size() <= 1; };
    for (std::size_t i = 0; i < tests.size(); ++i) {
        if (width < two_columns || i + 1 == tests.size() || !narrow(tests[i]) || !narrow(tests[i + 1])) {
            slabs.push_back(test(tests[i], x, width));
            continue;
        }
        Slab both = test(tests[i], x, half);
        const Slab right = test(tests[i + 1], x + half + column_gap, half);
        both.things.insert(both.things.end(), right.things.begin(), right.things.end());
        both.height = std::max(both.height, right.height);
        slabs.push_back(std::move(both));
        ++i;
    }
    return slabs;
}

}  // namespace benchfeed::report
