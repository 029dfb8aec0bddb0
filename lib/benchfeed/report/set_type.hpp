#pragma once
// Type as it is set on paper: widths of letters, lines that break, columns of tables.
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::report {

inline constexpr double mm_of_point = 25.4 / 72;
/// The type of every sheet; all of these have the same widths.
inline constexpr std::string_view sheet_type = "Liberation Sans, Arial, Helvetica, sans-serif";

/// Width in mm of a text in a sans-serif type of the metrics of Helvetica, at a size in mm.
[[nodiscard]] double text_width(std::string_view text, double size, bool bold = false);

/// Lines into which a text breaks at its spaces, each at most so wide; a word that is wider is divided.
/// Nothing is left out. Pre: the text has no control characters.
[[nodiscard]] std::vector<std::string> set_lines(std::string_view text, double room, double size,
                                                 bool bold = false);

/// The text with figures kept to their units: "12.3 of 16 A" has no space at which the A could stand alone.
[[nodiscard]] std::string kept_together(std::string_view text);
/// The same text with plain spaces, for a terminal.
[[nodiscard]] std::string plain_spaces(std::string_view text);

/// What is set in one column: its widest cell and its widest word, in mm.
struct ColumnNeed {
    double whole = 0, least = 0;
};
/// Widths in mm that add up to the room: each as wide as its widest cell, the widest giving way first, none
/// below its least as long as that fits.
[[nodiscard]] std::vector<double> column_widths(const std::vector<ColumnNeed>& needs, double room);
/// The widest word of a text.
[[nodiscard]] double widest_word(std::string_view text, double size, bool bold = false);

}  // namespace benchfeed::report
