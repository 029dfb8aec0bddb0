#pragma once
// [local]: whose limit it is that an outcome was held to.
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// The place of the limit of [local] by which an outcome was judged, with who says so; nowhere: no such limit
/// decided.
[[nodiscard]] Label local_limit(const Situation& situation, const Outcome& outcome);

}  // namespace benchfeed::rules
