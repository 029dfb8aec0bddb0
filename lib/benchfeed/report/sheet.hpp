#pragma once
// A sheet as blocks of words, before it becomes text, HTML, a drawing or a PDF. Writers lay out; they compute
// nothing.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/diagram.hpp>
#include <benchfeed/report/drawn.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// What stands in the cells of a column.
enum class Column : std::uint8_t {
    words,
    blank,  ///< somebody writes into it
    tick,   ///< a box to tick
    core    ///< the colour of a core: words, with a swatch before them
};

/// Cells of words.
struct SheetTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;  ///< each as long as the head; "" is a blank to fill in
    std::vector<Column> columns = {};            ///< none: words in all
    std::vector<double> rooms = {};              ///< mm that a column has at least; none: as its words need
    double least_height = 0;                     ///< mm, of a row that is written into
    /// What a column holds.
    [[nodiscard]] Column column(std::size_t c) const { return columns.empty() ? Column::words : columns[c]; }
    /// Width in mm that it has at least.
    [[nodiscard]] double room(std::size_t c) const { return rooms.empty() ? 0 : rooms[c]; }
};

/// Something that is measured or tried, with a blank for each place at which that is done.
struct SheetTest {
    int number = 0;  ///< on this sheet
    std::string test, expected, stop;
    std::vector<std::string> places;      ///< "O1", "O2": a blank for each; none: one blank
    std::vector<std::string> found = {};  ///< what the plan says was read: "O1 0.9 ohm on 2026-05-02"
};

/// How large the words of a section are.
enum class Type : std::uint8_t {
    body,
    strong,  ///< read from a distance
    foot     ///< where the figures come from
};

/// A heading with a list, a table, tests.
struct SheetSection {
    std::string heading;
    std::vector<std::string> lines;
    SheetTable table = {};  ///< after the lines; may be empty
    Type type = Type::body;
    bool wide = false;                  ///< takes the whole width of the paper
    bool panel = false;                 ///< one of two equal ones that stand beside each other
    bool turns = false;                 ///< begins the other side of the paper
    std::vector<SheetTest> tests = {};  ///< after the table
    std::vector<ControlCircuit> circuits = {};
    /// Beside others in columns, where the paper is wide enough.
    [[nodiscard]] bool in_columns() const {
        return !wide && !panel && !turns && tests.empty() && type == Type::body;
    }
};

enum class Strip : std::uint8_t { checked, open, failed };

/// Everything on one sheet, in the order in which it is read.
struct Sheet {
    std::string title, place;  ///< of the bench
    std::string revision;      ///< "Revision 3 of 2026-10-04"
    std::string date;          ///< of the plan, YYYY-MM-DD, or nothing
    std::string first;         ///< what is done before anything else: "PULL P1 FIRST"
    Strip strip = Strip::checked;
    std::string status;                ///< the words of the status strip
    std::vector<SheetSection> before;  ///< in front of the drawing
    Diagram diagram;                   ///< no nodes: no drawing
    std::vector<SheetSection> after;   ///< none: the drawing takes what is left of the page
    std::string about;                 ///< file, digest, program
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

/// A sheet set on pages of a paper.
struct Pages {
    Paper paper;
    std::string title;  ///< words for whoever lists files
    std::string date;   ///< as Sheet::date
    double points = 0;  ///< size of the body's type
    std::vector<std::vector<Drawn>> pages;
};
/// The sheet on as few pages as type of 9 pt allows, then in the largest type that takes no more of them.
///
/// Holds   body at least 9 pt, what is read from a distance at least 14 pt, foot 7 pt; blanks of tests at
///         least 15 mm by 8 mm; no row is divided; no words are left out; each page says which one it is.
[[nodiscard]] BENCHFEED_API Pages pages_of(const Sheet& sheet, const Paper& paper);

/// The words of a sheet as text: table with its columns or, where they do not fit, row by row.
[[nodiscard]] BENCHFEED_API std::string sheet_text(const Sheet& sheet, const Style& style);
/// One file with everything in it, for a browser and its printer.
[[nodiscard]] BENCHFEED_API std::string sheet_html(const Sheet& sheet, const Paper& paper);
/// Pages one below another, each of the size of its paper; or one of them, counted from 1.
[[nodiscard]] BENCHFEED_API std::string sheet_svg(const Pages& pages, std::size_t only = 0);

}  // namespace benchfeed::report
