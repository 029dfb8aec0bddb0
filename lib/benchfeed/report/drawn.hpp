#pragma once
// What stands on a page, each thing at its place: the one model from which drawings and PDF are written.
// Millimetres from the top left corner; y of words is their base line.
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/base/api.hpp>

namespace benchfeed::report {

/// Where a line of words is held.
enum class Anchor : std::uint8_t { start, middle, end };
/// What words are to somebody who hears the page.
enum class Role : std::uint8_t { plain, title, heading, ornament };
/// What an area is filled with. Hatching is wide for what is carried, black for what is too much.
enum class Fill : std::uint8_t { none, black, white, hatch, colour };

/// One line of words.
struct DrawnWords {
    double x = 0, y = 0, size = 0;  ///< size: height of the type
    double width = 0;               ///< room that it was given; a writer with a wider type squeezes it
    std::string words;
    bool strong = false, white = false;
    Anchor anchor = Anchor::start;
    Role role = Role::plain;
};
/// A rectangle.
struct DrawnBox {
    double x = 0, y = 0, width = 0, height = 0;
    Fill fill = Fill::none;
    std::string_view colour;  ///< "#7a4419" where it is filled with a colour
    double line = 0.25;       ///< of its edge; 0: none
    bool blank = false;       ///< somebody writes into it
};
/// A place on a page.
struct Place {
    double x = 0, y = 0;
};
/// A line through places.
struct DrawnLine {
    std::vector<Place> through;
    double line = 0.3;
};
/// A circle.
struct DrawnRing {
    double x = 0, y = 0, radius = 0;
    bool filled = false;
    double line = 0.3;
};
using Drawn = std::variant<DrawnWords, DrawnBox, DrawnLine, DrawnRing>;

/// Things moved to the right and down.
[[nodiscard]] std::vector<Drawn> moved(std::vector<Drawn> things, double right, double down);
/// Things as SVG elements, units of the page.
[[nodiscard]] std::string drawn_svg(const std::vector<Drawn>& things);
/// Patterns that these elements fill with; `id` stands before their names.
[[nodiscard]] std::string drawn_patterns();

}  // namespace benchfeed::report
