#pragma once
// The whole story of one finding: places, what happens, worked steps, sources, questions, every cure.
#include <string>

#include <benchfeed/report/rows.hpp>

namespace benchfeed::report {

/// The story of a finding as `check --full` and `check --about` print it.
[[nodiscard]] std::string finding_text(const text::Document& document, const rules::Situation& situation,
                                       const rules::Judgement& judgement, const rules::Finding& finding,
                                       const Style& style, const Remedies& remedies);

}  // namespace benchfeed::report
