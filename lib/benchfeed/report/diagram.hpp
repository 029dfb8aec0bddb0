#pragma once
// The one-line diagram: who feeds whom, drawn as a tree of plain boxes that folds onto a page.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::report {

using plan::Index;

/// The plain sign in a box, in the manner of IEC 60617.
enum class Sign : std::uint8_t {
    source,
    breaker,
    fuse,
    residual,
    outlet,
    box,
    opener,
    motor,
    lamp,
    heater,
    other
};

/// One box: what it is, how it is fed, what flows there.
struct DiagramNode {
    Index element = plan::nowhere;
    Sign sign = Sign::other;
    std::string name;                ///< words for people
    std::string feed;                ///< "5 m H07RN-F 3 x 1.5 mm2"; "" where it is mounted at the same place
    std::vector<std::string> loads;  ///< what is plugged in and feeds nothing itself: "saw 7 A"
    std::string figure;    ///< "12.3 of 16 A", of its weakest part in the worst set; "" where nothing flows
    double share = 0;      ///< of that part
    bool weakest = false;  ///< the weakest of the whole plan: framed twice
    std::vector<std::size_t> children;
};

/// The tree of boxes.
struct Diagram {
    std::vector<DiagramNode> nodes;  ///< parents before children
    std::vector<std::size_t> roots;  ///< supplies
};

/// From the connection schedule: its runs are the lines of the diagram; what stands already (from the panel
/// to the wall outlet) is added in front, and what is plugged in behind.
[[nodiscard]] Diagram diagram_of(const rules::Situation& situation, const rules::Judgement& judgement,
                                 const advice::Schedule& schedule);

/// A box as it is placed, in millimetres from the top left corner.
struct PlacedNode {
    std::size_t node = 0;
    double x = 0, y = 0, width = 0, height = 0;
    std::vector<std::string> lines;  ///< its name, wrapped
    std::vector<std::string> feed;   ///< how it is fed, wrapped
    std::vector<std::string> loads;  ///< what is plugged in, wrapped
    std::vector<std::string> figure;
    bool small_figure = false;  ///< the figure is too long to stand as large as the name
};
/// A line from left to right, or downwards.
struct PlacedLine {
    double x1 = 0, y1 = 0, x2 = 0, y2 = 0;
};
/// Every box and line at its place.
struct PlacedDiagram {
    double width = 0, height = 0;
    std::vector<PlacedNode> nodes;
    std::vector<PlacedLine> lines;
    std::vector<double> cuts;  ///< heights at which a page may end: no box is cut there
};

/// Places every box: a chain runs from left to right and folds at the edge; what branches off hangs below,
/// one row for each branch, so that no line crosses another and no box lies on one.
[[nodiscard]] PlacedDiagram place(const Diagram& diagram, double width_mm);

/// How a drawing is put on a page: scaled, its size in a CSS unit ("" inside another drawing).
struct Printed {
    double scale = 1;
    std::string_view unit = "mm";
};
/// The drawing between two heights as one SVG element; black on white, no text outside its box.
[[nodiscard]] std::string diagram_svg(const Diagram& diagram, const PlacedDiagram& placed, double from,
                                      double to, const Printed& printed = {});
/// The drawing in strips of whole rows, each at most so high.
[[nodiscard]] std::vector<std::string> diagram_strips(const Diagram& diagram, const PlacedDiagram& placed,
                                                      double most_height, const Printed& printed = {});
/// The same tree in words, for a terminal: children indented under what feeds them.
[[nodiscard]] std::string diagram_text(const Diagram& diagram, std::size_t width);

}  // namespace benchfeed::report
