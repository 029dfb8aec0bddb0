#pragma once
// The answer to "what may run together" for a terminal and for the front of a panel, and as JSON.
#include <string>
#include <vector>

#include <benchfeed/advice/headroom.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

[[nodiscard]] BENCHFEED_API std::string together_text(const rules::Situation& situation,
                                                      const rules::Judgement& judgement,
                                                      const advice::TogetherAnswer& answer,
                                                      const std::vector<advice::Headroom>& headroom,
                                                      const Style& style);
/// One object, keys always there, numbers rounded to six digits.
[[nodiscard]] BENCHFEED_API std::string together_json(const rules::Situation& situation,
                                                      const rules::Judgement& judgement,
                                                      const advice::TogetherAnswer& answer,
                                                      const std::vector<advice::Headroom>& headroom,
                                                      std::string_view version);

}  // namespace benchfeed::report
