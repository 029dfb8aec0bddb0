#pragma once
// The report of `check` as text: the answer first, then the amps of every set, then findings worst first.
#include <functional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// How much is printed.
struct CheckTextOptions {
    bool quiet = false;  ///< the first line and nothing else
    /// Remedies of a finding, tried on the whole plan; empty: those of the rule as they are.
    std::function<std::vector<rules::Remedy>(const rules::Outcome&)> remedies = {};
};

[[nodiscard]] BENCHFEED_API std::string check_text(const text::Document& document,
                                                   const rules::Situation& situation,
                                                   const rules::Judgement& judgement, const Style& style,
                                                   const CheckTextOptions& options = {});

}  // namespace benchfeed::report
