#pragma once
// The table of a value tried over a range.
#include <string>

#include <benchfeed/advice/sweep.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// `situation` is that of the plan as it stands: names of elements are taken from it.
[[nodiscard]] BENCHFEED_API std::string sweep_text(const rules::Situation& situation, const advice::Try& what,
                                                   const advice::Sweep& sweep, const Style& style);

}  // namespace benchfeed::report
