#pragma once
// Plans to begin with, one for each region: what has to be found out stands there as "unknown", with where to
// look.
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>

namespace benchfeed::report {

/// Empty for a region without one.
[[nodiscard]] BENCHFEED_API std::string_view starter(std::string_view region);
/// Regions that have one, sorted.
[[nodiscard]] BENCHFEED_API std::vector<std::string_view> starter_regions();

}  // namespace benchfeed::report
