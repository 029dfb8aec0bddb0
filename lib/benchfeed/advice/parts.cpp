// Fields of a plan that no rule reads are for this list and for the sheet in the cabinet: contact, the
// diameter of a stock, and the material of a box, which is asked for since an electrician asks first.
#include <benchfeed/advice/parts.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <benchfeed/advice/part_lists.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Situation;
using rules::Verdict;

std::string_view words(PartGroup group) {
    constexpr std::array<std::string_view, 11> names{
        "cable",     "plugs and inlets", "outlets",       "switches", "protective devices", "boxes",
        "terminals", "ends of cores",    "cable entries", "fixing",   "labels and papers"};
    return names[static_cast<std::size_t>(group)];
}

const plan::Stock& stock_of_cable(const Situation& s, Index element) {
    return s.plan.stocks[s.plan[element].cable->stock_index];
}

bool is_bought(const Situation& s, Index element) {
    const plan::Kind kind = s.plan[element].kind;
    return kind != plan::Kind::supply && kind != plan::Kind::load && !s.network.house[element] &&
           !rules::is_tool_socket(s, element);
}

bool comes_whole(const Situation& s, Index element) {
    const plan::Element& e = s.plan[element];
    if (!e.cable || !e.plug.written()) return false;
    const bool reel = e.cable->reel.known() && !e.cable->reel.is(plan::Reel::none);
    return reel || e.cable->listed.is(true);
}

bool cable_is_bought(const Situation& s, Index element) {
    const plan::Element& e = s.plan[element];
    if (!e.cable || s.network.house[element] || rules::as_sold(s, element) || comes_whole(s, element))
        return false;
    const plan::Stock& stock = stock_of_cable(s, element);
    return !stock.existing.is(true) && stock.section.known();
}

void PartLines::add(PartLine line) {
    const auto same = std::find_if(lines_.begin(), lines_.end(), [&](const PartLine& l) {
        return l.group == line.group && l.what == line.what && l.choose == line.choose &&
               l.count.has_value() == line.count.has_value() && l.steps.empty() && line.steps.empty();
    });
    if (same == lines_.end()) {
        lines_.push_back(std::move(line));
        return;
    }
    if (line.count) *same->count += *line.count;
    same->places.insert(same->places.end(), line.places.begin(), line.places.end());
    for (std::string& note : line.notes)
        if (std::find(same->notes.begin(), same->notes.end(), note) == same->notes.end())
            same->notes.push_back(std::move(note));
}

namespace {

/// As `check` tells them: what has the same cause is one.
void count_verdicts(const Situation& s, const rules::Judgement& judgement, ShoppingList& list) {
    for (const rules::Finding& finding : rules::findings(s, judgement)) {
        const rules::Outcome& o = *finding.outcome;
        list.fails += o.verdict == Verdict::fail;
        list.essential_questions += rules::is_grave_question(o);
    }
}

std::string warning_for(const ShoppingList& list) {
    const auto many = [](std::size_t n, const char* one) {
        return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
    };
    if (list.fails > 0)
        return fmt::format(
            "DO NOT BUY YET: the plan has {}. Its cure may need other parts; `benchfeed check` says what "
            "and why.",
            many(list.fails, "fail"));
    if (list.essential_questions > 0)
        return fmt::format(
            "DO NOT BUY YET: {} of the plan {} open, and the answer may need other parts; `benchfeed check` "
            "asks "
            "{}.",
            many(list.essential_questions, "essential question"),
            list.essential_questions == 1 ? "is" : "are", list.essential_questions == 1 ? "it" : "them");
    return "";
}

void note_what_is_there(const Situation& s, ShoppingList& list) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Kind kind = s.plan[i].kind;
        if (kind == plan::Kind::supply || kind == plan::Kind::load) continue;
        if (s.network.house[i]) list.there_already.push_back(i);
    }
    for (Index i = 0; i < s.plan.stocks.size(); ++i)
        if (s.plan.stocks[i].existing.is(true)) list.stocks_there.push_back(i);
}

template <class Q>
void cite(const Allowance<Q>& allowance, std::vector<tables::Citation>& sources) {
    if (!allowance.source) return;
    const bool there = std::any_of(sources.begin(), sources.end(), [&](const tables::Citation& c) {
        return c.table == allowance.source->table;
    });
    if (there) return;
    sources.push_back(*allowance.source);
    sources.back().row = sources.back().column = {};
}

}  // namespace

ShoppingList shopping_list(const Situation& s, const rules::Judgement& judgement,
                           const PartsOptions& options) {
    ShoppingList list;
    list.allowances = usual_allowances(s);
    for (const std::string& text : options.allowances) (void)allow(list.allowances, text);
    count_verdicts(s, judgement, list);
    list.warning = warning_for(list);
    list.cables = cable_lines(s, list.allowances, options.sold);
    PartLines lines;
    add_plugs(s, lines);
    add_outlets(s, lines);
    add_switches(s, lines);
    add_devices(s, lines);
    add_boxes(s, lines);
    add_enclosures(s, lines);
    add_terminals(s, list.allowances, lines);
    add_ends(s, list.allowances, lines);
    add_entries(s, lines);
    add_fixing(s, list.allowances, lines);
    add_labels(s, lines);
    list.parts = lines.take();
    note_what_is_there(s, list);
    const Allowances& a = list.allowances;
    for (const auto* length : {&a.free_end, &a.bends, &a.service_loop, &a.clip_spacing})
        cite(*length, list.sources);
    for (const auto* share : {&a.waste, &a.ferrules}) cite(*share, list.sources);
    cite(a.spare_ways, list.sources);
    return list;
}

}  // namespace benchfeed::advice
