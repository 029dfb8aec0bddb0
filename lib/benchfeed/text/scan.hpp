#pragma once
// What can be said of a text before it is parsed: limits, encoding, blocks.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/text/document.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::text {

/// Limits broken, bytes that are no UTF-8, control characters, multi-line strings: all that the parser shall
/// not see.
[[nodiscard]] Diagnostics scan(const Document& document, const Limits& limits);

/// A stretch of lines from one table header to before the next.
struct Block {
    std::uint32_t first_line = 1;
    std::string_view text;
};
[[nodiscard]] std::vector<Block> blocks_of(const Document& document);

[[nodiscard]] Span whole_line(const Document& document, std::uint32_t line);
/// The first word in single quotes of a message.
[[nodiscard]] std::optional<std::string> quoted_word(std::string_view message);
/// Where a key or table of this name is first written above `second`.
[[nodiscard]] std::optional<Span> first_place_of(const Document& document, std::string_view key,
                                                 const Span& second);

}  // namespace benchfeed::text
