#pragma once
// A sheet cut into slabs: each stands whole on a page, one below another. Not for use outside this folder.
#include <string>
#include <vector>

#include <benchfeed/report/sheet.hpp>
#include <benchfeed/report/sheet_style.hpp>

namespace benchfeed::report {

/// What is never divided: a row of a table, an entry of a list, a heading.
struct Slab {
    std::vector<Drawn> things;  ///< y counts from its top
    double height = 0;
    bool keeps = false;  ///< on one page with the slab after it
    bool turns = false;  ///< begins a new page
    int table = 0;       ///< rows of one table have one number; 0: none
    bool head = false;   ///< of its table: repeated where the table goes on
};

/// Of the size of type: from line to line, and from the top of a line to where its letters stand.
inline constexpr double line_height = 1.25, base_line = 0.95;
/// Blanks of tests, mm: what a hand with a pen needs.
inline constexpr double blank_width = 15, blank_height = 8;
/// On paper of this width and more what is short stands in two columns.
inline constexpr double two_columns = 150, column_gap = 5;

/// No word of a table has to be divided on paper of a width in mm, in type of a size in mm.
[[nodiscard]] bool words_fit(const SheetTable& table, double size, double width);

/// Sizes of type in mm, and how a sheet becomes slabs of a width.
class Setter {
public:
    /// For slabs of a width in mm, body type of so many points.
    Setter(double width, double points);
    /// The whole sheet, from its title to its foot.
    [[nodiscard]] std::vector<Slab> set(const Sheet& sheet) const;
    /// What stands at the top of every page.
    [[nodiscard]] std::vector<Drawn> page_head(const Sheet& sheet, std::size_t page, std::size_t of) const;
    /// Height in mm that it takes there.
    [[nodiscard]] double page_head_height() const;
    /// Of every slab, in mm.
    [[nodiscard]] double width() const { return width_; }

private:
    using Slabs = std::vector<Slab>;
    [[nodiscard]] Slabs section(const SheetSection& section, double x, double width) const;
    void add_sections(Slabs& slabs, const std::vector<SheetSection>& sections) const;
    [[nodiscard]] Slab panels(const SheetSection& left, const SheetSection& right) const;
    [[nodiscard]] Slab heading(const std::string& words, double x, double width) const;
    [[nodiscard]] Slab paragraph(const std::string& words, double x, double width, double size, bool strong,
                                 bool marked) const;
    [[nodiscard]] Slabs table(const SheetTable& table, double x, double width) const;
    [[nodiscard]] Slabs row_by_row(const SheetTable& table, double x, double width) const;
    [[nodiscard]] Slab table_row(const SheetTable& table, const std::vector<std::string>& row,
                                 const std::vector<double>& widths, double x, bool head) const;
    [[nodiscard]] Slab test(const SheetTest& test, double x, double width) const;
    /// Short ones beside each other, where the paper is wide.
    [[nodiscard]] Slabs tests(const std::vector<SheetTest>& tests, double x, double width) const;
    [[nodiscard]] Slab bar(const std::string& words) const;
    [[nodiscard]] Slab status(const Sheet& sheet) const;
    [[nodiscard]] Slabs diagram(const Diagram& diagram, const std::string& words) const;
    [[nodiscard]] Slabs legend_slabs(const Diagram& diagram) const;
    [[nodiscard]] double size_of(Type type) const;

    double width_, body_, strong_, heading_, foot_;
};

}  // namespace benchfeed::report
