#pragma once
// The shopping list for people, for spreadsheets and for programs.
#include <string>
#include <vector>

#include <benchfeed/advice/parts.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/json.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// Changes of a what-if, as --set has them: every format says that the list is not that of the plan as it
/// stands.
using WhatIf = std::vector<std::string>;

[[nodiscard]] BENCHFEED_API std::string parts_text(const rules::Situation& s,
                                                   const advice::ShoppingList& list, const WhatIf& what_if,
                                                   const Style& style);
/// RFC 4180: lines end in CR LF, every cell that is text stands in quotes. A cell that a spreadsheet would
/// take for a formula begins with an apostrophe.
[[nodiscard]] BENCHFEED_API std::string parts_csv(const rules::Situation& s, const advice::ShoppingList& list,
                                                  const WhatIf& what_if);
/// One object, keys always there, numbers rounded to six digits.
[[nodiscard]] BENCHFEED_API std::string parts_json(const rules::Situation& s,
                                                   const advice::ShoppingList& list, const WhatIf& what_if,
                                                   const Tool& tool);

/// What every list says at its end.
[[nodiscard]] std::string_view parts_caution();
/// "H07RN-F 3 x 1.5 mm2", and of single cores the conductor.
[[nodiscard]] std::string cable_title(const rules::Situation& s, const advice::CableLine& line);
/// Where the packs of a cable stand: "10 m: 6.27 m, 3.5 m; 0.23 m left", one for each.
[[nodiscard]] std::vector<std::string> pack_lines(const rules::Situation& s, const advice::CableLine& line);
/// Why there are no packs, or what is not in them; "" where all is in packs or nothing was asked.
[[nodiscard]] std::string packs_remark(const rules::Situation& s, const advice::CableLine& line);
/// "free-end" with its figure and where it stands, one for each allowance.
struct AllowanceLine {
    std::string name, value;
    const std::optional<tables::Citation>* source = nullptr;
};
[[nodiscard]] std::vector<AllowanceLine> allowance_lines(const advice::Allowances& allowances);

}  // namespace benchfeed::report
