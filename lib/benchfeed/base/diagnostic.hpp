#pragma once
// What is wrong with a text, where, and what to write instead. Values only: writers live in report.
#include <cstdint>
#include <string>
#include <vector>

namespace benchfeed {

/// Half-open region of a text: 1-based lines and columns, columns in Unicode code points.
/// Line 0 means "no place": a value that stands in no file.
struct Span {
    std::uint32_t line = 0, column = 0, end_line = 0, end_column = 0;
    friend bool operator==(const Span&, const Span&) = default;
    /// True for what stands in no text.
    [[nodiscard]] bool nowhere() const { return line == 0; }
};

/// Lines of texts that are read together with a document are counted from here on: more than any text of 64
/// MiB has (text/document.hpp).
inline constexpr std::uint32_t first_line_beside = std::uint32_t{1} << 26;
/// True for what stands in a text beside the document.
[[nodiscard]] constexpr bool stands_beside(const Span& span) {
    return span.line >= first_line_beside;
}

/// One place and what to say beside its carets.
struct Label {
    Span span;
    std::string text;
    std::string file = {};  ///< where the place stands in another file than the one that is told about
};

/// A fault of the input. The message stands alone and names the figures; the first label is the
/// primary place, further ones belong to the same fault (both places of a contradiction).
struct Diagnostic {
    std::string path;     ///< of the plan: "box.junction.cable.length"; empty when none applies
    std::string message;  ///< what is wrong
    std::vector<Label> labels;
    std::string help;  ///< what to write instead; empty when we do not know
};

using Diagnostics = std::vector<Diagnostic>;

}  // namespace benchfeed
