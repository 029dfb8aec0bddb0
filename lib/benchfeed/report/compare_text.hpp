#pragma once
// Two revisions of a plan, for people and for programs.
#include <string>
#include <string_view>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/compare.hpp>

namespace benchfeed::report {

/// "worse", "better", or "elsewhere" for what another of its places tells now.
[[nodiscard]] std::string_view direction_words(const rules::Moved& moved);
[[nodiscard]] BENCHFEED_API std::string compare_text(const rules::Comparison& comparison, const Style& style);

/// "the bench cord [box.junction.cable]: length 5 m -> 30 m, 1.5 mm2 unchanged".
[[nodiscard]] std::string difference_words(const rules::Difference& difference);
/// "volts.running-drop at load.saw: ok (2 % of 5 %) -> fail (7 % of 5 %)".
[[nodiscard]] std::string moved_words(const rules::Moved& moved);

/// Paths of the files, as given.
struct ComparedPaths {
    std::string before, after;
};
[[nodiscard]] BENCHFEED_API std::string compare_json(const Tool& tool, const ComparedPaths& paths,
                                                     const rules::Comparison& comparison);

}  // namespace benchfeed::report
