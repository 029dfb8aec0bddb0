#pragma once
// A sheet as blocks of words, before it becomes text, HTML or SVG. Writers lay out; they compute nothing.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/diagram.hpp>
#include <benchfeed/report/ladder.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// Cells of words.
struct SheetTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;  ///< each as long as the head; "" is a blank to fill in
};

/// A heading with a list, a table, or both.
struct SheetSection {
    std::string heading;
    std::vector<std::string> lines;
    SheetTable table;     ///< after the lines; may be empty
    bool strong = false;  ///< its lines are read from a distance
    bool wide = false;    ///< takes the whole width of the paper
    Ladder ladder = {};   ///< drawn after the table, and says what the table says
};

enum class Strip : std::uint8_t { checked, open, failed };

/// Everything on one sheet, in the order in which it is read.
struct Sheet {
    std::string title;
    std::vector<std::string> about;  ///< place, revision, file: one line each
    Strip strip = Strip::checked;
    std::string status;                ///< the words of the status strip
    std::vector<SheetSection> before;  ///< in front of the drawing
    Diagram diagram;                   ///< no nodes: no drawing
    std::vector<SheetSection> after;   ///< none: the drawing takes what is left of the page
    std::string foot;
};

/// A size of paper and its print margin.
struct Paper {
    std::string_view name;                     ///< as CSS knows it, or "width height"
    double width = 0, height = 0, margin = 0;  ///< mm
};
/// "A5", "A4", "letter", "half-letter"; nullptr for another word.
[[nodiscard]] BENCHFEED_API const Paper* paper_of(std::string_view word);
[[nodiscard]] BENCHFEED_API std::vector<std::string> paper_words();

/// A section as lines of text: heading, list, table with its columns or, where they do not fit, row by row.
[[nodiscard]] std::string sheet_section_text(const SheetSection& section, const Style& style);
[[nodiscard]] BENCHFEED_API std::string sheet_text(const Sheet& sheet, const Style& style);
/// One file with everything in it, for a browser and its printer.
[[nodiscard]] BENCHFEED_API std::string sheet_html(const Sheet& sheet, const Paper& paper);
/// One drawing as wide as the paper's print area.
[[nodiscard]] BENCHFEED_API std::string sheet_svg(const Sheet& sheet, const Paper& paper);

}  // namespace benchfeed::report
