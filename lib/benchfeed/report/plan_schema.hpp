#pragma once
// The plan format as a JSON Schema (draft 2020-12), for editors: from the field list and the tables that the
// reader uses.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/read_plan.hpp>

namespace benchfeed::report {

/// Says what a schema can: fields, types, units, words, names, what is required. References, circles and
/// fields that contradict each other are left to the reader: every plan that the reader takes is valid, not
/// the other way round.
[[nodiscard]] BENCHFEED_API std::string plan_schema(const plan::Words& words);
/// The same of common files.
[[nodiscard]] BENCHFEED_API std::string common_schema(const plan::Words& words);

}  // namespace benchfeed::report
