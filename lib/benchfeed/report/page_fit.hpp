#pragma once
// How high a sheet will print: widths of letters, lines that break, rows of tables. For sheet_html.cpp alone.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

/// Width of a text in mm, in a sans-serif type of the metrics of Helvetica, at a size in mm.
[[nodiscard]] double text_width(std::string_view text, double size, bool bold);
/// Lines that a text takes when it breaks at spaces, and inside words that are wider than the room.
[[nodiscard]] double line_count(std::string_view text, double room, double size, bool bold);

/// Widths of a table's columns in mm that add up to the room: each as wide as its longest cell, the widest
/// giving way first, none below its longest word as long as that fits.
[[nodiscard]] std::vector<double> column_widths(const SheetTable& table, double room, double size);

/// Heights in mm of what the style of sheet_html() makes of it, with type of that size.
[[nodiscard]] double section_height(const SheetSection& section, double width, double size);
/// Where a run of narrow sections is divided into a left and a right column of nearly one height.
[[nodiscard]] std::size_t divided(const std::vector<double>& heights);

/// Proportions that the style and the heights share, in em or mm.
struct TypeRules {
    double leading = 1.12, heading = 1.05, strong = 1.2, title = 1.5, status = 1.25;
    double section_space = 0.4, cell_side = 0.3, cell_space = 0, list_indent = 1.0, column_gap = 4;
    double thin = 0.15, line = 0.25, ladder_space = 0.6;  // mm
};
inline constexpr TypeRules type_rules;

}  // namespace benchfeed::report
