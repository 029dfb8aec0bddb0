#pragma once
// The cores of one cable as a ladder: one level line for each, in its order and colour, its ends in words.
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::report {

/// One core between two terminals.
struct Rung {
    std::string left, right;  ///< the terminals
    std::string core;         ///< "1 brown": always in words, whatever the printer does with colours
    std::string colour;       ///< "brown", "green-yellow"; "" of a link
    bool spare = false;       ///< ends nowhere
};
/// All cores between two places.
struct Ladder {
    std::string left, right;  ///< the places
    std::vector<Rung> rungs;  ///< none: nothing is drawn
};

/// Height in mm of the drawing at a width in mm.
[[nodiscard]] double ladder_height(const Ladder& ladder, double width);
/// The drawing as one SVG element; `unit` of its size, "" inside another drawing.
[[nodiscard]] std::string ladder_svg(const Ladder& ladder, double width, std::string_view unit = "mm");

}  // namespace benchfeed::report
