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

bool is_own(const Situation& s, const StockGroup& group, const Section& section) {
    return section == *s.plan.stocks[group.stocks.front()].section;
}

/// Smallest and largest section of a thing, where a table has them.
struct Range {
    std::optional<tables::Figure<Section>> least, most;
    [[nodiscard]] bool holds(const Section& section) const {
        return !(least && section.area < least->value.area * (1 - 1e-9)) &&
               !(most && section.area > most->value.area * (1 + 1e-9));
    }
    /// "from 0.75 to 4 mm2".
    [[nodiscard]] std::string words() const {
        if (!least) return "up to " + section_text(most->value);
        if (!most) return "from " + section_text(least->value);
        return "from " + section_text(least->value) + " to " + section_text(most->value);
    }
    [[nodiscard]] std::string source() const {
        const auto& source = most ? most->source : least->source;
        return network::cited(source);
    }
};
std::optional<Range> range_in(const tables::Table& table, std::size_t row, const char* least,
                              const char* most) {
    Range range{table.section(row, std::string_view(least)), table.section(row, std::string_view(most))};
    return range.least || range.most ? std::optional(range) : std::nullopt;
}

/// "SE" of "SE, SEO, SEOO (W: SEW, SEOW, SEOOW)".
bool lists(std::string_view list, std::string_view type) {
    constexpr std::string_view between = " ,():";
    for (std::size_t at = 0; at < list.size();) {
        const std::size_t end = std::min(list.find_first_of(between, at), list.size());
        if (list.substr(at, end - at) == type) return true;
        at = end + 1;
    }
    return false;
}

/// In which sections a type is made: cords by EN 50525 and NEC Table 400.4, flat cable by its own table.
std::optional<Range> made_in(const Situation& s, const Stock& stock) {
    const tables::Table* types = s.tables.table("cable-constructions");
    const auto type = types ? types->row_of("construction", *stock.type) : std::nullopt;
    const tables::Table* flat = s.tables.table("uk-flat-protective");
    if (type && flat && types->flag(*type, "flat_pvc").value_or(false))
        return Range{flat->section(0, "section"), flat->section(flat->rows.size() - 1, "section")};
    if (const tables::Table* cords = s.tables.table("en-50525-types"))
        if (const auto row = cords->row_of("type", *stock.type))
            return range_in(*cords, *row, "min_section", "max_section");
    if (const tables::Table* cords = s.tables.table("nec-400-4"))
        for (std::size_t row = 0; row < cords->rows.size(); ++row)
            if (lists(cords->text(row, "types"), *stock.type))
                return range_in(*cords, row, "smallest", "largest");
    return std::nullopt;
}

/// Installation cable comes in every size that its ampacity table rates; single cores do.
bool made_in_all(const Situation& s, const Stock& stock) {
    const tables::Table* types = s.tables.table("cable-constructions");
    const auto row = types ? types->row_of("construction", *stock.type) : std::nullopt;
    return row &&
           (types->text(*row, "use") == "fixed" || types->flag(*row, "single_cores").value_or(false)) &&
           !s.nec();
}

/// What ends of a cable go into, as table terminal-ranges names it, and in words.
struct Contact {
    std::string part, words;
};
std::vector<Contact> contacts_of(const Situation& s, Index cable) {
    std::vector<Contact> ends;
    const plan::Element& e = s.plan[cable];
    if (e.plug.known())
        ends.push_back({*e.plug, rules::words(s, rules::at_element(cable), rules::Part::plug)});
    if (e.inlet.known())
        ends.push_back({*e.inlet, rules::words(s, rules::at_element(cable), rules::Part::inlet)});
    const auto add_box = [&](Index at) {
        const auto* box = at == plan::nowhere ? nullptr : s.plan[at].as<plan::Box>();
        if (box && box->terminals.known())
            ends.push_back({std::string(box->terminals.word()), "the terminals of " + s.plan[at].words()});
    };
    add_box(cable);
    if (!e.plug.known() && !e.inlet.known()) add_box(e.parent);
    return ends;
}

/// What a part takes: by its row of table terminal-ranges, the one by which `check` judges; terminals with
/// screws are made for every size of IEC 60998-1, and their mark decides.
std::optional<Range> taken_by(const Situation& s, const std::string& part) {
    const tables::Table* ranges = s.tables.table("terminal-ranges");
    if (const auto row = ranges ? ranges->row_of("part", part) : std::nullopt)
        return range_in(*ranges, *row, "least", "most");
    const tables::Table* made = s.tables.table("iec-60998-2");
    if (!made || s.nec() || (part != "screw" && part != "cage")) return std::nullopt;
    return Range{made->section(0, "section"), made->section(made->rows.size() - 1, "section")};
}

/// Keeps the sizes of a range, and the plan's own.
void keep_in(const Situation& s, StockGroup& group, const Range& range) {
    std::erase_if(group.choices, [&](const Section& section) {
        return !range.holds(section) && !is_own(s, group, section);
    });
}
void note(StockGroup& group, std::string text) {
    if (std::find(group.notes.begin(), group.notes.end(), text) == group.notes.end())
        group.notes.push_back(std::move(text));
}

/// Only sizes that the type is made in, and that what its ends go into takes. Where no table says, one size
/// beyond the plan's own at most.
void bound(const Situation& s, StockGroup& group, bool steps) {
    std::vector<std::string> silent;
    for (const Index index : group.stocks) {
        const Stock& stock = s.plan.stocks[index];
        if (const auto range = made_in(s, stock)) {
            keep_in(s, group, *range);
            note(group, *stock.type + " is made " + range->words() + " (" + range->source() + ")");
        } else if (!made_in_all(s, stock)) {
            silent.push_back("in which sizes " + *stock.type + " is made");
        }
    }
    for (const Index cable : group.cables)
        for (const Contact& end : contacts_of(s, cable)) {
            if (const auto range = taken_by(s, end.part)) {
                keep_in(s, group, *range);
                note(group, range->words() + " in " + end.words + " (" + range->source() + ")");
            } else {
                silent.push_back("which sizes go into " + end.words);
            }
        }
    if (silent.empty()) return;
    const auto own = std::find_if(group.choices.begin(), group.choices.end(),
                                  [&](const Section& section) { return is_own(s, group, section); });
    const std::ptrdiff_t beyond = steps ? 1 : 0;
    if (own != group.choices.end() && group.choices.end() - own > 1 + beyond)
        group.choices.erase(own + 1 + beyond, group.choices.end());
    group.silent = true;
    for (const std::string& what : silent)
        note(group, "no table here says " + what + ": one size beyond the plan's own at most");
}

/// Sizes for which every cable of the group has its own row in the tables.
void find_choices(const Situation& s, StockGroup& group) {
    Plan trial = s.plan;
    const Section now = *s.plan.stocks[group.stocks.front()].section;
    std::string why;
    for (const Section& section : standard_sizes(now)) {
        for (const Index stock : group.stocks) trial.stocks[stock].section.value = section;
        const bool rated = std::all_of(group.cables.begin(), group.cables.end(), [&](Index cable) {
            const auto found = network::ampacity(trial, s.tables, s.network, cable);
            if (!found.value && why.empty()) why = found.why;
            const auto data = network::conductor_data(s.tables, s.practice().family,
                                                      trial.stocks[trial[cable].cable->stock_index]);
            return found.value && !found.substituted && data && !data->substituted;
        });
        if (rated || section == now) group.choices.push_back(section);
    }
    if (group.choices.empty() ||
        (group.choices.size() == 1 && group.choices.front() == now && !why.empty())) {
        group.kept = "no table rates it: " + why;
        group.choices.clear();
        return;
    }
    if (std::find(group.choices.begin(), group.choices.end(), now) != group.choices.end()) return;
    group.choices.push_back(now);
    std::sort(group.choices.begin(), group.choices.end(),
              [](const Section& a, const Section& b) { return a.area < b.area; });
}

void keep_priced(const Situation& s, StockGroup& group, const PriceList& prices) {
    std::erase_if(group.choices, [&](const Section& section) {
        return !is_own(s, group, section) &&
               std::any_of(group.stocks.begin(), group.stocks.end(),
                           [&](Index stock) { return !prices.of(*s.plan.stocks[stock].type, section); });
    });
    const Section own = *s.plan.stocks[group.stocks.front()].section;
    const bool priced = std::all_of(group.stocks.begin(), group.stocks.end(), [&](Index stock) {
        return prices.of(*s.plan.stocks[stock].type, own).has_value();
    });
    if (group.choices.size() == 1 && !priced) group.choices.clear();
    if (group.choices.empty() && group.kept.empty())
        group.kept = "the price list has no " + *s.plan.stocks[group.stocks.front()].type;
}

}  // namespace

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

std::optional<double> PriceList::of(const std::string& type, const Section& section) const {
    for (const Price& price : prices)
        if (price.type == type && price.section == section) return price.per_metre;
    return std::nullopt;
}

std::vector<StockGroup> groups_of(const Situation& s, const PriceList* prices, bool steps) {
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
        if (!group.choices.empty()) bound(s, group, steps);
        if (!group.choices.empty() && prices) keep_priced(s, group, *prices);
        for (std::size_t k = 0; k < group.choices.size(); ++k)
            if (is_own(s, group, group.choices[k])) group.own = k;
        groups.push_back(std::move(group));
    }
    return groups;
}

}  // namespace benchfeed::advice
