#pragma once
// What the word for a core's colour looks like on paper.
#include <string_view>
#include <vector>

namespace benchfeed::report {

/// The shades of "1 brown", "GNYE green-yellow": the colour is the last word or two. Two where it has two;
/// none of a core that is known by a number.
[[nodiscard]] std::vector<std::string_view> core_shades(std::string_view core);

}  // namespace benchfeed::report
