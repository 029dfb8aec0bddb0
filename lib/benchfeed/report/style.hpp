#pragma once
// Text for a terminal: width, colour, wrapping, carets. Nothing here knows of rules.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// How wide and in which colours.
struct Style {
    std::size_t width = 80;
    bool colour = false;  ///< never the only sign
};

enum class Ink : std::uint8_t { plain, strong, bad, doubtful, good, faint, place };
[[nodiscard]] BENCHFEED_API std::string inked(std::string_view text, Ink ink, const Style& style);

/// Columns that a text takes: code points, those of inked() not counted.
[[nodiscard]] BENCHFEED_API std::size_t columns(std::string_view text);

/// Text broken at spaces to the width, a word that is longer than a line where the line ends. The first line
/// begins with `first`, the others with `rest`.
[[nodiscard]] BENCHFEED_API std::string wrapped(std::string_view text, std::string_view first,
                                                std::string_view rest, const Style& style);

/// Words on lines of their own, strong.
[[nodiscard]] std::string heading(std::string_view words, const Style& style);

/// Bytes of the UTF-8 character at the start; 0 where they are none. Pre: not empty.
[[nodiscard]] std::size_t character_length(std::string_view text);
/// Control characters and bytes that are no UTF-8 made visible, so that a name cannot write to the terminal
/// and everything printed is UTF-8.
[[nodiscard]] BENCHFEED_API std::string harmless(std::string_view text);
/// The lines of a text, without their ends. The text must live as long as they do.
[[nodiscard]] std::vector<std::string_view> lines_of(std::string_view text);
std::vector<std::string_view> lines_of(std::string&& text) = delete;

/// The line with carets under the span:
///     heron-lane.toml:62:11
///        62 | latched = true
///           |           ^^^^ its switch stays on
[[nodiscard]] std::string place_text(const text::Document& document, const Label& label,
                                     std::string_view indent, const Style& style);

/// Every fault of an input, as a person reads them.
[[nodiscard]] BENCHFEED_API std::string diagnostics_text(const text::Document& document,
                                                         const Diagnostics& diagnostics, const Style& style);

}  // namespace benchfeed::report
