#pragma once
// What to buy instead, for a terminal and as JSON.
#include <string>
#include <vector>

#include <benchfeed/advice/size_else.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// The longest cord of each section for one run.
struct LongestOf {
    plan::Index element = plan::nowhere;
    std::vector<advice::LongestCord> cords;
};

/// What other changes would do: for what no size cures, and instead of the copper that was added.
struct Otherwise {
    advice::OtherCures uncured, instead;
};

[[nodiscard]] BENCHFEED_API std::string size_text(const rules::Situation& after, const advice::Sized& sized,
                                                  const std::vector<LongestOf>& longest,
                                                  const Otherwise& otherwise, const advice::PriceList* prices,
                                                  const Style& style);
/// One object, keys always there, numbers rounded to six digits.
[[nodiscard]] BENCHFEED_API std::string size_json(const rules::Situation& after, const advice::Sized& sized,
                                                  const std::vector<LongestOf>& longest,
                                                  const Otherwise& otherwise, const advice::PriceList* prices,
                                                  std::string_view version);

}  // namespace benchfeed::report
