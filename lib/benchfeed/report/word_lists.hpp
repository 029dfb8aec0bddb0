#pragma once
// Words that a plan may write, as lists for people: cables, patterns of plugs and outlets, devices.
#include <span>
#include <string>
#include <string_view>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::report {

/// "cables", "patterns", "devices".
[[nodiscard]] BENCHFEED_API std::span<const std::string_view> word_lists();

/// One line for each word: what it is, and what shops call it. Of one region, or of all where it is "". Pre:
/// `list` is one of word_lists(). A region that no table knows gives "".
[[nodiscard]] BENCHFEED_API std::string word_list_text(std::string_view list, const std::string& region,
                                                       const tables::Catalogue& tables, const Style& style);

}  // namespace benchfeed::report
