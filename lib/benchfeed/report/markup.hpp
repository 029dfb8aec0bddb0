#pragma once
// Words of others inside HTML and SVG. Whoever writes markup passes every text that is not its own through
// here.
#include <cstddef>
#include <string>
#include <string_view>

namespace benchfeed::report {

/// Text as HTML and XML take it, between tags and inside attributes in either kind of quotes: & < > " ' are
/// references. What `harmless` makes visible (control characters, characters that turn the writing direction,
/// bytes that are no UTF-8) is "?" here too, and so are the characters that no XML document may hold (U+FFFE,
/// U+FFFF).
[[nodiscard]] std::string markup(std::string_view text);

/// At most `most` characters: a longer text is cut and ends in "...". For drawings, which cannot wrap. The
/// result still has to pass through `markup`. Pre: most >= 4.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

/// A number for an attribute: at most two digits behind the point, none where they are zero, never an
/// exponent. Pre: finite.
[[nodiscard]] std::string coordinate(double value);

}  // namespace benchfeed::report
