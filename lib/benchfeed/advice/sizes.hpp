#pragma once
// Which sizes a stock may take. Not for use outside this folder.
#include <benchfeed/advice/size.hpp>

namespace benchfeed::advice {

/// Stocks of one section each, with the sizes that the lines may take; the plan's own is always among them.
/// `steps`: a size beyond the plan's own where no table says what is made.
[[nodiscard]] std::vector<StockGroup> groups_of(const rules::Situation& situation, const PriceList* prices,
                                                bool steps = true);

/// Standard sizes in the units of a section, rising.
[[nodiscard]] std::vector<Section> standard_sizes(const Section& like);

// ---- protective cores, size_cores.cpp ----
/// The plan has the protective core of a stock as a size of its own: not that of its lines, nor the one that
/// its construction has beside them.
[[nodiscard]] bool has_own_core(const tables::Catalogue& tables, const plan::Stock& stock);
/// Groups of protective cores behind those of lines that may change.
void add_cores(const rules::Situation& situation, std::vector<StockGroup>& groups);
/// A cable is made with this protective core: flat cable by table uk-flat-protective, others no thicker than
/// their lines. And by NEC 250.122(B) it keeps its share of the lines: nobody knows whether those of the plan
/// were enlarged before, so what was sized is bound as it was when it is sized again.
[[nodiscard]] bool is_made(const rules::Situation& situation, const StockGroup& core, const Section& lines,
                           const Section& protective);
/// The protective core that goes with the lines of a stock that has none of its own.
[[nodiscard]] Section core_beside(const tables::Catalogue& tables, const plan::Stock& stock,
                                  const Section& lines);

/// The lines of a group at one of its sizes; as in the plan where it has none to choose.
[[nodiscard]] Section lines_section(const rules::Situation& situation, const StockGroup& group,
                                    std::size_t size);
/// Write sections into the stocks of all groups, one for each group; the plan's own leave a stock as it is.
void set_sections(plan::Plan& plan, const plan::Plan& original, const tables::Catalogue& tables,
                  const std::vector<StockGroup>& groups, const std::vector<Section>& sections);

/// Sum of the cores of a stock that a group decides, if its section were this.
[[nodiscard]] Area copper_section(const tables::Catalogue& tables, const plan::Stock& stock,
                                  const StockGroup& group, const Section& section);

}  // namespace benchfeed::advice
