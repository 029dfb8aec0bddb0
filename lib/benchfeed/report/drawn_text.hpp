#pragma once
// Words in a drawing: nobody breaks them later, so they are broken here. For the drawings of this folder.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::report {

/// The type of every drawing; one character is at most drawn_wide of its height.
inline constexpr std::string_view drawn_type = "DejaVu Sans Mono, Liberation Mono, monospace";
inline constexpr double drawn_wide = 0.62;

/// Broken at spaces into lines of that width in type of that height, both in mm; words that are longer are
/// cut. At most so many lines, the last one with dots where something is missing.
[[nodiscard]] std::vector<std::string> broken(const std::string& text, double width, double height,
                                              std::size_t most);

/// Where a drawn line of text is held.
enum class Anchor : std::uint8_t { start, middle, end };
/// One line of text as an SVG element; x, y of its base line and its height in mm.
[[nodiscard]] std::string text_at(double x, double y, double size, const std::string& words,
                                  bool strong = false, Anchor anchor = Anchor::start);

}  // namespace benchfeed::report
