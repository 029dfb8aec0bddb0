#pragma once
// What got worse as SARIF results, each at the value that changed.
#include <string>
#include <vector>

#include <benchfeed/check.hpp>
#include <benchfeed/rules/compare.hpp>

namespace benchfeed::cli {

/// A plan as it is now, with what its cures are tried on.
struct PlanNow {
    const text::Document& document;
    const tables::Catalogue& catalogue;
    const plan::Words& words;
    const std::vector<plan::Override>& overrides;
    const Judged& judged;
};

/// One result for each cause of what got worse.
[[nodiscard]] std::string changed_sarif(const PlanNow& now, const rules::Comparison& comparison);
/// Every finding of a plan that is new.
[[nodiscard]] std::string new_sarif(const PlanNow& now);

}  // namespace benchfeed::cli
