#pragma once
// What healthy tools leak to the protective conductor.
#include <optional>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What a load may leak: the limit of its kind, from table leakage-of-loads.
[[nodiscard]] tables::Found<tables::Figure<Current>> leaks(const Situation& s, Index load);

}  // namespace benchfeed::rules
