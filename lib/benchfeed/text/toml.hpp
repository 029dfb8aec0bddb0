#pragma once
// TOML text -> Node tree, with every mistake of the text in one run and the limits of the plan format.
#include <cstdint>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/text/document.hpp>
#include <benchfeed/text/node.hpp>

namespace benchfeed::text {

/// Limits enforced before or while parsing; plan-format limits by default.
struct Limits {
    std::size_t file_bytes = std::size_t{64} << 20;
    std::size_t line_bytes = 4096;
    std::size_t text_characters = 500;
    bool multi_line_strings = false;
    std::size_t problems = 10'000;
};

/// What the parser made of a text.
struct Parsed {
    Table root;
    Diagnostics
        problems;  ///< not empty: the text is not valid TOML or breaks a limit; root holds what could be read
};

/// Parse a whole text.
///
/// Never throws and never gives up at the first mistake: when the text as a whole does not parse, each
/// `[table]` block is parsed alone and its places are shifted, so that the problems of every block are
/// told in one run. A key or table written twice is told with both places.
/// Omits: dates stay as written.
[[nodiscard]] BENCHFEED_API Parsed parse_toml(const Document& document, const Limits& limits = {});

}  // namespace benchfeed::text
