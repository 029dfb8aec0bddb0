#pragma once
// Two revisions of a plan, for people and for programs.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/compare.hpp>

namespace benchfeed::report {

[[nodiscard]] BENCHFEED_API std::string compare_text(const rules::Comparison& comparison, const Style& style);

/// Paths of the files, as given.
struct ComparedPaths {
    std::string before, after;
};
[[nodiscard]] BENCHFEED_API std::string compare_json(const Tool& tool, const ComparedPaths& paths,
                                                     const rules::Comparison& comparison);

}  // namespace benchfeed::report
