#include <benchfeed/rules/box_fill.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nec_314_16_b.hpp>
#include <benchfeed/figures/nec_314_16_b_rules.hpp>
#include <benchfeed/figures/terminal_fit.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

// ---- what is in the box -------------------------------------------------------------------------------
bool out_and_back(const plan::Element& e) {
    const auto* sw = e.as<plan::Switch>();
    return sw && !sw->wiring.is(plan::Wiring::in_line);
}

Index starts_at(const Situation& s, Index element) {
    Index at = s.plan[element].parent;
    while (at != plan::nowhere && out_and_back(s.plan[at])) at = s.plan[at].parent;
    return at;
}

namespace {
void add_children(const Situation& s, Index i, BoxContents& contents) {
    for (const Index child : s.plan[i].children) {
        const plan::Element& c = s.plan[child];
        if (c.plug.known() || c.plug.stated_unknown) continue;  // plugged into an outlet of the box
        if (c.cable) {
            contents.cables.push_back(child);
            // What a switch out and back feeds starts in the box.
            if (out_and_back(c)) add_children(s, child, contents);
            continue;
        }
        const bool yoke = c.kind == plan::Kind::outlet || c.kind == plan::Kind::switch_;
        if (yoke) contents.yokes.push_back(child);
        if (c.kind == plan::Kind::load) contents.loose.push_back(child);
        add_children(s, child, contents);
    }
}

}  // namespace

BoxContents box_contents(const Situation& s, Index box) {
    BoxContents contents;
    if (s.plan[box].cable) contents.cables.push_back(box);
    add_children(s, box, contents);
    return contents;
}

// ---- volume, NEC 314.16(B) --------------------------------------------------------------------------
namespace {
using Volumes = figures::nec_314_16_b;
using Rules = figures::nec_314_16_b_rules;

tables::Found<tables::Figure<Volume>> volume_of(const Situation& s, const Section& section) {
    return Volumes::at(s.tables, section).then([](const Volumes::Row& row) { return row.volume(); });
}

constexpr auto each_conductor = Rules::Item::each_conductor_from_outside_spliced_or_terminated,
               all_clamps = Rules::Item::all_internal_cable_clamps_together,
               each_yoke = Rules::Item::each_yoke_or_strap,
               four_grounds = Rules::Item::equipment_grounding_conductors_first_four_together,
               more_grounds = Rules::Item::each_equipment_grounding_conductor_beyond_four,
               each_block = Rules::Item::each_terminal_block_assembly;

bool thicker(const Section& a, const Section& b) {
    return a.area > b.area;
}

}  // namespace

std::vector<FillItem> fill_items(const Situation& s, Index box, const BoxContents& contents, Unknown open) {
    std::vector<FillItem> items;
    std::optional<Section> largest, largest_ground;
    int grounds = 0;
    // Conductors of one size are one line.
    const auto add = [&](const char* symbol, Rules::Item rule, double times, const Section& section) {
        if (times <= 0) return;
        const auto each = Rules::at(s.tables, rule).allowances();
        const auto same = std::find_if(items.begin(), items.end(), [&](const FillItem& item) {
            return item.symbol == symbol && item.sized_on == section;
        });
        if (same != items.end())
            same->allowances += Ratio(each.value * times);
        else
            items.push_back({symbol, each, Ratio(each.value * times), section});
    };
    for (const Index i : contents.cables) {
        const plan::Stock& stock = s.plan.stocks[s.plan[i].cable->stock_index];
        const bool ground = !stock.protective.is(false);
        const int live = *stock.cores - (ground ? 1 : 0);
        add("V_conductors", each_conductor, live, *stock.section);
        if (!largest || thicker(*stock.section, *largest)) largest = *stock.section;
        if (!ground) continue;
        ++grounds;
        const Section own = stock.protective_section.known() ? *stock.protective_section : *stock.section;
        if (!largest_ground || thicker(own, *largest_ground)) largest_ground = own;
    }
    if (!largest) return items;
    add("V_yokes", each_yoke, static_cast<double>(contents.yokes.size()), *largest);
    if (largest_ground) {
        add("V_grounds", four_grounds, 1, *largest_ground);
        add("V_more_grounds", more_grounds, std::max(0, grounds - 4), *largest_ground);
    }
    const plan::Box& here = *s.plan[box].as<plan::Box>();
    const auto& terminals = here.terminals;
    if (terminals.is(plan::Terminals::screw) || terminals.is(plan::Terminals::cage) ||
        (!terminals.known() && open == Unknown::counted))
        add("V_block", each_block, 1, *largest);
    if (here.clamps.is(plan::Clamps::inside) || (!here.clamps.known() && open == Unknown::counted))
        add("V_clamps", all_clamps, 1, *largest);
    return items;
}

std::vector<FillItem> printed_items(const Situation& s, const std::vector<FillItem>& items) {
    std::vector<FillItem> printed;
    for (FillItem item : items) {
        if (!volume_of(s, item.sized_on)) {
            const auto row = Volumes::below(s.tables, item.sized_on);
            if (!row) continue;
            item.sized_on = row->size().value;
        }
        printed.push_back(std::move(item));
    }
    return printed;
}

std::optional<Volume> fill_sum(const Situation& s, const std::vector<FillItem>& items) {
    Volume sum{};
    for (const FillItem& item : items) {
        const auto each = volume_of(s, item.sized_on);
        if (!each) return std::nullopt;
        sum += Volume(each->value * item.allowances);
    }
    return sum;
}

tables::Grade fill_grade(const Situation& s, const std::vector<FillItem>& items) {
    tables::Grade grade = tables::Grade::two_sources;
    for (const FillItem& item : items) {
        if (const auto each = volume_of(s, item.sized_on)) grade = std::min(grade, each->source.grade);
        grade = std::min(grade, item.each.source.grade);
    }
    return grade;
}

std::vector<tables::Citation> fill_sources(const Situation& s, const std::vector<FillItem>& items) {
    std::vector<tables::Citation> sources;
    const auto add = [&](const tables::Citation& source) {
        const auto same = [&](const tables::Citation& other) {
            return other.table == source.table && other.cell() == source.cell();
        };
        if (std::none_of(sources.begin(), sources.end(), same)) sources.push_back(source);
    };
    for (const FillItem& item : items) {
        if (const auto each = volume_of(s, item.sized_on)) add(each->source);
        add(item.each.source);
    }
    return sources;
}

bool at_a_terminal(const plan::Element& e) {
    return !e.plug.known() && !e.plug.stated_unknown;
}

int terminal_wires(const Situation& s, Index box, plan::Conductor conductor) {
    int wires = 1;
    for (const Index child : s.plan[box].children) {
        const plan::Element& c = s.plan[child];
        if (!at_a_terminal(c)) continue;
        const auto* sw = c.as<plan::Switch>();
        const bool turns = out_and_back(c);
        // A switch out and back has a line and its return; the neutral goes with it only if it needs one.
        const bool neutral_stays = turns && conductor == plan::Conductor::n && !(sw->poles.value_or(1) > 1) &&
                                   !sw->no_volt.is(true) && !sw->indicator.is(true);
        const bool used =
            conductor == plan::Conductor::pe || c.conductors.value_or(plan::Conductors{}).has(conductor);
        wires += used && !neutral_stays;
        const bool common = conductor == plan::Conductor::pe ||
                            (conductor == plan::Conductor::n && turns && !(sw->poles.value_or(1) > 1));
        if (turns && common)
            wires +=
                static_cast<int>(std::count_if(c.children.begin(), c.children.end(), [&](Index grandchild) {
                    return at_a_terminal(s.plan[grandchild]);
                }));
    }
    if (conductor == plan::Conductor::pe)
        wires +=
            static_cast<int>(std::count_if(s.plan.metals.begin(), s.plan.metals.end(),
                                           [&](const plan::MetalPart& m) { return m.bonded_index == box; }));
    return wires;
}

namespace {
/// The three columns have the same words.
template <class Word>
Holds holds_of(Word word) {
    return word == Word::yes ? Holds::yes : word == Word::care ? Holds::care : Holds::no;
}
}  // namespace

tables::Found<TerminalFit> terminal_fit(const Situation& s, std::string_view terminals,
                                        std::string_view strands) {
    using Of = figures::terminal_fit;
    return Of::at(s.tables, terminals, strands).then([](const Of::Row& row) {
        return TerminalFit{holds_of(row.bare()), holds_of(row.ferrule()), holds_of(row.ring()),
                           row.source(Of::Column::bare)};
    });
}

// ---- words ----------------------------------------------------------------------------------------
std::string cubic_inches(Volume v) {
    return plain_digits(in(unit::in3, v)) + " in3";
}

Value work_fill(Working& working, const Situation& s, const std::vector<FillItem>& items) {
    std::vector<Value> parts;
    std::string pattern, formula;
    for (const FillItem& item : items) {
        const auto each = *volume_of(s, item.sized_on);
        const Value part = working.add(
            item.symbol, "allowances * volume of " + section_text(item.sized_on), "{} * {}",
            {working.written(plain_digits(in(unit::one, item.allowances))), working.written(each.written)},
            "in3", {network::cited(item.each.source), network::cited(each.source)});
        if (parts.size() == 1 && items.size() == 1) return part;
        pattern += parts.empty() ? "{}" : " + {}";
        formula += (parts.empty() ? "" : " + ") + item.symbol;
        parts.push_back(part);
    }
    return parts.size() == 1 ? parts.front() : working.add("V", formula, pattern, parts, "in3");
}

}  // namespace benchfeed::rules
