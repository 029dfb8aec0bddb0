#pragma once
// A text that is read together with others: parsed once, its lines numbered so that they stand behind theirs.
#include <cstdint>
#include <string>
#include <unordered_map>

#include <benchfeed/text/document.hpp>
#include <benchfeed/text/node.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::text {

/// Parsed once, for every document beside which it stands. Not to be moved: `named` points into it.
struct BENCHFEED_API Beside {
    /// Parses the text. Its line n is line `before` + n of every document beside which it stands.
    Beside(Document text, std::uint32_t before, const Limits& limits = {});
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;

    Document document;         ///< lines counted from 1
    std::uint32_t before = 0;  ///< lines numbered before its first
    Parsed parsed;             ///< places as numbered in the documents beside which it stands
    /// Tables of the second level by "kind.NAME".
    std::unordered_map<std::string, const Entry*> named;
};

/// The text of a document and of all that stands beside it, one after the other.
[[nodiscard]] BENCHFEED_API std::string whole_text(const Document& document);

/// The next number that is free behind a text.
[[nodiscard]] BENCHFEED_API std::uint32_t lines_through(const Beside& text);

}  // namespace benchfeed::text
