#pragma once
// Which sizes a stock may take. Not for use outside this folder.
#include <benchfeed/advice/size.hpp>

namespace benchfeed::advice {

[[nodiscard]] std::vector<StockGroup> groups_of(const rules::Situation& situation, const PriceList* prices);

/// Write a section into all stocks of a group, the protective core with it: equal where it was assumed to be,
/// by table for flat cable, and where the original plan gives another one, at least in proportion.
void set_section(plan::Plan& plan, const plan::Plan& original, const tables::Catalogue& tables,
                 const StockGroup& group, const Section& section);

/// Sum of all cores of a stock if its section were this.
[[nodiscard]] Area copper_section(const tables::Catalogue& tables, const plan::Stock& stock,
                                  const Section& section);

}  // namespace benchfeed::advice
