#include <benchfeed/advice/sizes.hpp>

#include <algorithm>
#include <map>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using plan::Plan;
using plan::Stock;
using rules::Situation;

namespace {

/// Standard sizes in the units of a section, rising.
std::vector<Section> standard_sizes(const Section& like) {
    std::vector<Section> sizes;
    if (like.gauge) {
        for (auto size = next_awg_size(awg_area(thinnest_awg)); size;
             size = next_awg_size(awg_area(*size) * (1 + 1e-6)))
            sizes.push_back(section_of(*size));
    } else {
        for (auto size = next_metric_size(0.1 * unit::mm2); size; size = next_metric_size(*size * (1 + 1e-6)))
            sizes.push_back(section_of(*size));
    }
    return sizes;
}

/// The stock whose written section this one has.
Index root_of(const Plan& plan, Index stock) {
    const Stock& s = plan.stocks[stock];
    return s.section.origin == plan::Origin::like && s.like_index != plan::nowhere ? s.like_index : stock;
}

std::string why_kept(const Situation& s, const StockGroup& group) {
    for (const Index stock : group.stocks) {
        const Stock& what = s.plan.stocks[stock];
        if (what.existing.is(true)) return "it is there already";
        if (!what.section.known() || !what.type.known()) return "its type or section is not known";
    }
    for (const Index cable : group.cables) {
        if (s.network.house[cable]) return "house cable is as found";
        if (s.plan[cable].existing.is(true)) return "some of it is there already";
        if (rules::as_sold(s, cable)) return "the cord of a tool is as sold";
    }
    if (group.cables.empty()) return "nothing uses it";
    return "";
}

/// The largest section that a plug of this pattern takes, where a table says so: the last cord of BS 1363-1.
std::optional<tables::Figure<Section>> largest_for_plug(const Situation& s, const std::string& pattern) {
    const tables::Table* cords = s.tables.table("bs-1363-cord");
    if (pattern != "BS 1363" || !cords) return std::nullopt;
    std::optional<tables::Figure<Section>> largest;
    for (std::size_t row = 0; row < cords->rows.size(); ++row) {
        const auto section = cords->section(row, cords->column_name(0));
        if (section && (!largest || section->value.area > largest->value.area)) largest = section;
    }
    return largest;
}

void bound_by_plugs(const Situation& s, StockGroup& group) {
    for (const Index cable : group.cables) {
        const auto& plug = s.plan[cable].plug;
        if (!plug.known()) continue;
        const auto largest = largest_for_plug(s, *plug);
        if (!largest) {
            group.notes.push_back("no table here says which section " +
                                  rules::words(s, rules::at_element(cable), rules::Part::plug) +
                                  " takes: look at the plug");
            continue;
        }
        std::erase_if(group.choices, [&](const Section& section) {
            return section.area > largest->value.area * (1 + 1e-9);
        });
        group.notes.push_back("at most " + section_text(largest->value) + " in " +
                              rules::words(s, rules::at_element(cable), rules::Part::plug) + " (" +
                              network::cited(largest->source) + ")");
    }
}

/// Sizes for which every cable of the group has its own row in the tables.
void find_choices(const Situation& s, StockGroup& group) {
    Plan trial = s.plan;
    const Section now = *s.plan.stocks[group.stocks.front()].section;
    std::string why;
    for (const Section& section : standard_sizes(now)) {
        set_section(trial, s.plan, s.tables, group, section);
        const bool rated = std::all_of(group.cables.begin(), group.cables.end(), [&](Index cable) {
            const auto found = network::ampacity(trial, s.tables, s.network, cable);
            if (!found.value && why.empty()) why = found.why;
            const auto data = network::conductor_data(s.tables, s.practice().family,
                                                      trial.stocks[trial[cable].cable->stock_index]);
            return found.value && !found.substituted && data && !data->substituted;
        });
        if (rated) group.choices.push_back(section);
    }
    if (group.choices.empty()) group.kept = "no table rates it: " + why;
}

void keep_priced(const Situation& s, StockGroup& group, const PriceList& prices) {
    std::erase_if(group.choices, [&](const Section& section) {
        return std::any_of(group.stocks.begin(), group.stocks.end(),
                           [&](Index stock) { return !prices.of(*s.plan.stocks[stock].type, section); });
    });
    if (group.choices.empty() && group.kept.empty())
        group.kept = "the price list has no " + *s.plan.stocks[group.stocks.front()].type;
}

/// The protective core beside a section.
Section protective_for(const tables::Catalogue& tables, const Stock& stock, const Section& section) {
    const auto& own = stock.protective_section;
    if (own.written() && own.known() && stock.section.known() && !(own.value == stock.section.value)) {
        const Area wanted = section.area * (own->area / stock.section->area);
        if (section.gauge) {
            const auto next = next_awg_size(wanted);
            return next ? section_of(*next) : section;
        }
        const auto next = next_metric_size(wanted);
        return next ? section_of(*next) : section;
    }
    const tables::Table* constructions = tables.table("cable-constructions");
    const auto row = constructions && stock.type.known() ? constructions->row_of("construction", *stock.type)
                                                         : std::nullopt;
    const tables::Table* flat = tables.table("uk-flat-protective");
    if (row && flat && constructions->flag(*row, "flat_pvc").value_or(false))
        for (std::size_t r = 0; r < flat->rows.size(); ++r) {
            const auto live = flat->section(r, "section"), protective = flat->section(r, "protective");
            if (live && protective && live->value == section) return protective->value;
        }
    return section;
}

}  // namespace

std::optional<double> PriceList::of(const std::string& type, const Section& section) const {
    for (const Price& price : prices)
        if (price.type == type && price.section == section) return price.per_metre;
    return std::nullopt;
}

std::vector<StockGroup> groups_of(const Situation& s, const PriceList* prices) {
    std::map<Index, StockGroup> by_root;
    for (Index stock = 0; stock < s.plan.stocks.size(); ++stock) {
        StockGroup& group = by_root[root_of(s.plan, stock)];
        if (root_of(s.plan, stock) == stock)
            group.stocks.insert(group.stocks.begin(), stock);
        else
            group.stocks.push_back(stock);
    }
    std::vector<StockGroup> groups;
    for (auto& [root, group] : by_root) {
        for (const Index i : s.network.order)
            if (s.plan[i].cable && std::find(group.stocks.begin(), group.stocks.end(),
                                             s.plan[i].cable->stock_index) != group.stocks.end())
                group.cables.push_back(i);
        group.kept = why_kept(s, group);
        if (group.kept.empty()) find_choices(s, group);
        if (!group.choices.empty()) bound_by_plugs(s, group);
        if (!group.choices.empty() && prices) keep_priced(s, group, *prices);
        groups.push_back(std::move(group));
    }
    return groups;
}

void set_section(Plan& plan, const Plan& original, const tables::Catalogue& tables, const StockGroup& group,
                 const Section& section) {
    for (const Index index : group.stocks) {
        Stock& stock = plan.stocks[index];
        if (stock.protective_section.known())
            stock.protective_section.value = protective_for(tables, original.stocks[index], section);
        stock.section.value = section;
    }
}

Area copper_section(const tables::Catalogue& tables, const Stock& stock, const Section& section) {
    const int cores = stock.cores.value_or(0);
    if (!stock.protective.is(true) || !stock.protective_section.known()) return section.area * double(cores);
    return section.area * double(std::max(cores - 1, 0)) + protective_for(tables, stock, section).area;
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
