#include <benchfeed/report/ladder.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <benchfeed/report/drawn_text.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

namespace {

// Millimetres; the words at both sides take a third of the width each.
constexpr double type = 2.2, line_height = 2.6, rung_height = 3.6, level = 2.7, side_share = 0.32, dot = 0.55,
                 space = 1;
constexpr std::size_t most_lines = 3;

/// What a colour's word looks like on a screen. Any other word is drawn black.
std::string_view shade(std::string_view colour) {
    struct Shade {
        std::string_view word, css;
    };
    constexpr std::array shades{
        Shade{"brown", "#7a4419"},  Shade{"blue", "#1f5fbf"},   Shade{"light blue", "#59a5e0"},
        Shade{"grey", "#8a8a8a"},   Shade{"red", "#c4261d"},    Shade{"white", "#fff"},
        Shade{"orange", "#e07b16"}, Shade{"yellow", "#e8cf1b"}, Shade{"green", "#2f8a3b"}};
    const auto found =
        std::find_if(shades.begin(), shades.end(), [&](const Shade& s) { return s.word == colour; });
    return found == shades.end() ? "#000" : found->css;
}

std::string stroke(double x1, double x2, double y, std::string_view colour, double width,
                   std::string_view dashes = "") {
    return fmt::format("<path d=\"M{} {}H{}\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", coordinate(x1),
                       coordinate(y), coordinate(x2), colour, coordinate(width),
                       dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes));
}

/// A black edge keeps light colours visible on white paper.
std::string core_line(const Rung& rung, double x1, double x2, double y) {
    if (rung.spare) return stroke(x1, x2, y, "#000", 0.3, "1 1");
    std::string out = stroke(x1, x2, y, "#000", 1.0);
    if (rung.colour == "green-yellow")
        return out + stroke(x1, x2, y, shade("green"), 0.7) + stroke(x1, x2, y, shade("yellow"), 0.7, "2 2");
    return out + stroke(x1, x2, y, shade(rung.colour), 0.7);
}

struct PlacedRung {
    std::vector<std::string> left, right, core;
    double height = 0;
};
PlacedRung placed(const Rung& rung, double side, double middle) {
    PlacedRung p{broken(harmless(rung.left), side, type, most_lines),
                 broken(harmless(rung.right), side, type, most_lines),
                 broken(harmless(rung.core), middle, type, 1), 0};
    p.height = rung_height + static_cast<double>(std::max(p.left.size(), p.right.size()) - 1) * line_height;
    return p;
}

struct Widths {
    double side, middle;
};
Widths widths_of(double width) {
    return {width * side_share - space, width * (1 - 2 * side_share) - 2 * space};
}

}  // namespace

double ladder_height(const Ladder& ladder, double width) {
    if (ladder.rungs.empty()) return 0;
    const auto [side, middle] = widths_of(width);
    const std::size_t lines = std::max(broken(harmless(ladder.left), side, type, most_lines).size(),
                                       broken(harmless(ladder.right), side, type, most_lines).size());
    double height = static_cast<double>(lines) * line_height + space;
    for (const Rung& rung : ladder.rungs) height += placed(rung, side, middle).height;
    return height;
}

std::string ladder_svg(const Ladder& ladder, double width, std::string_view unit) {
    const auto [side, middle] = widths_of(width);
    const double left = side + space, right = width - side - space, height = ladder_height(ladder, width);
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"ladder\" role=\"img\" aria-label=\"Cores between "
        "two "
        "places\" width=\"{0}{2}\" height=\"{1}{2}\" viewBox=\"0 0 {0} {1}\" fill=\"none\" "
        "font-family=\"{3}\">\n",
        coordinate(width), coordinate(height), unit, drawn_type);
    const auto column = [&](const std::vector<std::string>& lines, double x, double y, bool strong,
                            Anchor anchor) {
        for (const std::string& line : lines) {
            out += text_at(x, y, type, line, strong, anchor);
            y += line_height;
        }
    };
    const auto left_place = broken(harmless(ladder.left), side, type, most_lines),
               right_place = broken(harmless(ladder.right), side, type, most_lines);
    column(left_place, side, line_height - 0.6, true, Anchor::end);
    column(right_place, width - side, line_height - 0.6, true, Anchor::start);
    double y = static_cast<double>(std::max(left_place.size(), right_place.size())) * line_height;
    for (const Rung& rung : ladder.rungs) {
        const PlacedRung p = placed(rung, side, middle);
        out += core_line(rung, left, right, y + level);
        if (!rung.spare)
            for (const double x : {left, right})
                out += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"#000\"/>\n", coordinate(x),
                                   coordinate(y + level), coordinate(dot));
        column(p.left, side, y + level + 0.6, false, Anchor::end);
        column(p.right, width - side, y + level + 0.6, false, Anchor::start);
        column(p.core, width / 2, y + level - 0.85, true, Anchor::middle);
        y += p.height;
    }
    return out + "</svg>\n";
}

}  // namespace benchfeed::report
