#pragma once
// A plan and what it takes from common files as one text.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::advice {

/// One self-contained text that reads as the same plan. The plan's own text stays as it is, remarks included,
/// but for `common` and for each `like` that names a pattern of a common file: its fields stand there
/// instead. What hangs in common files is added at the end, with the remarks beside and above it; of [local]
/// the tighter limits.
///
/// Pre  the plan is the one that was read from the document, without overrides.
[[nodiscard]] BENCHFEED_API std::string flattened(const text::Document& document, const plan::Plan& plan);

/// Two judged plans of which every rule says the same at every place, whatever the order of their tables.
[[nodiscard]] BENCHFEED_API bool judged_alike(const plan::Plan& one, const rules::Judgement& of_one,
                                              const plan::Plan& other, const rules::Judgement& of_other);

}  // namespace benchfeed::advice
