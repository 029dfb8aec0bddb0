#pragma once
// The questions of a plan on a sheet with blanks, and as data.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/card.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// To take to the shop: in walking order (panel, wall outlet, cords, boxes, switches, tools), each with its
/// rank, where to look, what it decides and a blank.
[[nodiscard]] BENCHFEED_API Sheet questions_sheet(const text::Document& document,
                                                  const rules::Situation& situation,
                                                  const rules::Judgement& judgement, const Tool& tool,
                                                  const CardOptions& options = {});
/// In the order of what they decide.
[[nodiscard]] BENCHFEED_API std::string questions_json(const text::Document& document,
                                                       const rules::Situation& situation,
                                                       const rules::Judgement& judgement, const Tool& tool);

}  // namespace benchfeed::report
