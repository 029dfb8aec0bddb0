#pragma once
// Where a finding stands, in words: file, line, table, field, value.
#include <string>
#include <string_view>

#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// The table of the plan in which a line stands, as it is written: "[switch.saw]"; "" above the first.
[[nodiscard]] std::string_view table_above(const text::Document& document, std::uint32_t line);

/// A place of a finding, with its remark. Mistakes of the text keep the line and carets of place_text().
///     heron-lane.toml:94:16, [switch.saw] poles = 1: opens one conductor, which may be the neutral
[[nodiscard]] std::string place_words(const text::Document& document, const Label& label,
                                      std::string_view indent, const Style& style);

}  // namespace benchfeed::report
