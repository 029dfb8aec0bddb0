// Protective cores: with their lines where a cable has them so, a choice of their own where the plan has.
#include <algorithm>
#include <map>

#include <benchfeed/advice/sizes.hpp>

namespace benchfeed::advice {

using plan::Plan;
using plan::Stock;
using rules::Situation;

namespace {

/// The table of flat cable, for a type that is made so.
const tables::Table* flat_cable(const tables::Catalogue& tables, const Stock& stock) {
    const tables::Table* constructions = tables.table("cable-constructions");
    if (!constructions || !stock.type.known()) return nullptr;
    const auto row = constructions->row_of("construction", *stock.type);
    return row && constructions->flag(*row, "flat_pvc").value_or(false) ? tables.table("uk-flat-protective")
                                                                        : nullptr;
}

std::optional<Section> beside_in(const tables::Table& flat, const Section& lines) {
    const auto row = flat.row_of(lines);
    const auto figure = row ? flat.section(*row, "protective") : std::nullopt;
    return figure ? std::optional(figure->value) : std::nullopt;
}

/// The stock whose written protective section this one has.
Index core_root(const Plan& plan, Index stock) {
    const Stock& s = plan.stocks[stock];
    return s.protective_section.origin == plan::Origin::like && s.like_index != plan::nowhere ? s.like_index
                                                                                              : stock;
}

void find_core_choices(const Situation& s, const StockGroup& lines, StockGroup& core) {
    const Stock& stock = s.plan.stocks[core.stocks.front()];
    const Section own = *stock.protective_section;
    if (const tables::Table* flat = flat_cable(s.tables, stock)) {
        for (const Section& section : lines.choices)
            if (const auto beside = beside_in(*flat, section)) core.choices.push_back(*beside);
    } else {
        for (const Section& size : standard_sizes(own))
            if (size.area <= lines.choices.back().area) core.choices.push_back(size);
    }
    core.choices.push_back(own);
    std::sort(core.choices.begin(), core.choices.end(),
              [](const Section& a, const Section& b) { return a.area < b.area; });
    core.choices.erase(std::unique(core.choices.begin(), core.choices.end()), core.choices.end());
    core.own = static_cast<std::size_t>(std::find(core.choices.begin(), core.choices.end(), own) -
                                        core.choices.begin());
}

}  // namespace

Section core_beside(const tables::Catalogue& tables, const Stock& stock, const Section& lines) {
    const tables::Table* flat = flat_cable(tables, stock);
    return (flat ? beside_in(*flat, lines) : std::nullopt).value_or(lines);
}

bool has_own_core(const tables::Catalogue& tables, const Stock& stock) {
    const auto& own = stock.protective_section;
    if (!stock.protective.is(true) || !own.written() || !own.known() || !stock.section.known()) return false;
    return !(own.value == core_beside(tables, stock, *stock.section));
}

void add_cores(const Situation& s, std::vector<StockGroup>& groups) {
    const std::size_t count = groups.size();
    for (std::size_t g = 0; g < count; ++g) {
        if (groups[g].choices.empty()) continue;
        std::map<Index, StockGroup> by_root;
        for (const Index stock : groups[g].stocks)
            if (has_own_core(s.tables, s.plan.stocks[stock]))
                by_root[core_root(s.plan, stock)].stocks.push_back(stock);
        for (auto& [root, core] : by_root) {
            core.protective = true;
            core.lines = g;
            if (const auto at = std::find(core.stocks.begin(), core.stocks.end(), root);
                at != core.stocks.end())
                std::iter_swap(core.stocks.begin(), at);
            for (const Index cable : groups[g].cables)
                if (std::find(core.stocks.begin(), core.stocks.end(), s.plan[cable].cable->stock_index) !=
                    core.stocks.end())
                    core.cables.push_back(cable);
            find_core_choices(s, groups[g], core);
            groups.push_back(std::move(core));
        }
    }
}

bool is_made(const Situation& s, const StockGroup& core, const Section& lines, const Section& protective) {
    const Stock& stock = s.plan.stocks[core.stocks.front()];
    if (const tables::Table* flat = flat_cable(s.tables, stock)) return beside_in(*flat, lines) == protective;
    const Area own_lines = stock.section->area, own_core = stock.protective_section->area;
    const auto at_least = [](Area a, Area b) { return a >= b * (1 - 1e-9); };
    if (!at_least(lines.area, protective.area)) return false;
    return !s.nec() || at_least(protective.area, own_core * (lines.area / own_lines)) || protective == lines;
}

Section lines_section(const Situation& s, const StockGroup& group, std::size_t size) {
    return group.choices.empty() ? *s.plan.stocks[group.stocks.front()].section : group.choices[size];
}

void set_sections(Plan& plan, const Plan& original, const tables::Catalogue& tables,
                  const std::vector<StockGroup>& groups, const std::vector<Section>& sections) {
    for (std::size_t g = 0; g < groups.size(); ++g) {
        if (groups[g].choices.empty()) continue;
        for (const Index index : groups[g].stocks) {
            Stock& stock = plan.stocks[index];
            const Stock& own = original.stocks[index];
            if (groups[g].protective) {
                stock.protective_section.value = sections[g];
                continue;
            }
            stock.section.value = sections[g];
            if (!stock.protective_section.known() || has_own_core(tables, own)) continue;
            stock.protective_section.value = sections[g] == own.section.value
                                                 ? own.protective_section.value
                                                 : core_beside(tables, own, sections[g]);
        }
    }
}

Area copper_section(const tables::Catalogue& tables, const Stock& stock, const StockGroup& group,
                    const Section& section) {
    if (group.protective) return section.area;
    const int cores = stock.cores.value_or(0);
    if (!stock.protective.is(true) || !stock.protective_section.known()) return section.area * double(cores);
    const Area lines = section.area * double(std::max(cores - 1, 0));
    if (has_own_core(tables, stock)) return lines;
    return lines +
           (section == stock.section.value ? *stock.protective_section : core_beside(tables, stock, section))
               .area;
}

Volume copper_of(const Plan& plan, const network::Network& network, Index element) {
    const Stock& stock = plan.stocks[plan[element].cable->stock_index];
    const int cores = stock.cores.value_or(0);
    Area area = stock.section->area * double(cores);
    if (stock.protective.is(true) && stock.protective_section.known())
        area = stock.section->area * double(std::max(cores - 1, 0)) + stock.protective_section->area;
    return area * network.branches[element].length;
}

}  // namespace benchfeed::advice
