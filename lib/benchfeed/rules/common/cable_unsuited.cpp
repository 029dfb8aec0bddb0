// shock.cable-unsuited: the wrong kind of cable for where it lies and what it ends in.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::cable_unsuited {
namespace {

constexpr std::uint8_t suits = 0, solid_on_plug = 1, two_core = 2, cord_fixed = 3, soft_on_floor = 4,
                       light_at_work = 5, ask_strands = 6, indoor_outdoors = 7;

/// What table cord-places says of a stock: nothing where it does not list it.
std::optional<bool> may_lie(const Situation& s, const plan::Stock& stock, std::string_view where) {
    const tables::Table* places = s.tables.table("cord-places");
    const auto row =
        places && stock.type.known() ? places->row_of("construction", *stock.type) : std::nullopt;
    return row ? places->flag(*row, where) : std::nullopt;
}

/// A place of work in a region whose rules for leads there are known.
bool is_work(const Situation& s) {
    const tables::Table* places = s.tables.table("cord-places");
    if (!places || !s.plan.site.use.known() || s.plan.site.use.is(plan::Use::dwelling)) return false;
    std::string_view regions = places->text("workplace_regions");
    while (!regions.empty()) {
        const auto space = std::min(regions.find(' '), regions.size());
        if (regions.substr(0, space) == s.practice().region) return true;
        regions.remove_prefix(std::min(space + 1, regions.size()));
    }
    return false;
}

/// It ends in an outlet, itself or through what is mounted or wired on behind it.
bool ends_in_outlet(const Situation& s, Index i) {
    return feeds_outlets(s, i) && !is_tool_socket(s, i);
}

/// Fixed feed: no plug on the way, and it comes from the panel, a device or the house.
bool is_fixed_feed(const Situation& s, Index i) {
    if (behind_a_plug(s, i)) return false;
    const plan::Element& parent = s.plan[s.plan[i].parent];
    return parent.kind == plan::Kind::supply || parent.kind == plan::Kind::device ||
           s.network.house[s.plan[i].parent];
}

/// A lead: it has a plug, or lies on the floor. A lead whose route nobody told is taken to lie there.
bool on_the_floor(const plan::Element& e) {
    const auto& route = e.cable->route;
    return route.is(plan::Route::floor) || (!route.known() && e.plug.written());
}

/// Rain and sun get at it: a lead, or a cord that is said to run in the open.
bool in_the_weather(const plan::Element& e) {
    const auto& route = e.cable->route;
    return on_the_floor(e) || route.is(plan::Route::overhead) || route.is(plan::Route::buried);
}

Outcome judge_cable(const Situation& s, Index i, const plan::Stock& stock) {
    const plan::Element& e = s.plan[i];
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = s.nec() ? Basis::standard : Basis::recommendation;
    const auto decided = [&](std::uint8_t variant, Verdict verdict) {
        o.variant = variant;
        o.verdict = verdict;
        return o;
    };
    if (e.plug.written() && stock.strands.is(plan::Strands::solid))
        return decided(solid_on_plug, Verdict::fail);
    if (stock.cores.is(2) && ends_in_outlet(s, i)) return decided(two_core, Verdict::fail);
    const bool cord = is_cord(s, stock);
    if (cord && is_fixed_feed(s, i)) return decided(cord_fixed, s.nec() ? Verdict::fail : Verdict::caution);
    if (e.plug.written() && !stock.strands.known()) return undecided(o.at, Part::cable, ask_strands);
    o.basis = Basis::recommendation;
    if (cord && s.plan.site.room.is(plan::Room::outdoors) && in_the_weather(e) &&
        may_lie(s, stock, "outdoors") == false)
        return decided(indoor_outdoors, Verdict::caution);
    if (!cord || !on_the_floor(e)) return o;
    if (may_lie(s, stock, "floor") == false) return decided(soft_on_floor, Verdict::caution);
    if (is_work(s) && may_lie(s, stock, "workplace") == false)
        return decided(light_at_work, Verdict::caution);
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const Index i : s.network.order) {
        const plan::Stock* stock = as_sold(s, i) ? nullptr : stock_of(s, i);
        if (stock) yield.outcomes.push_back(judge_cable(s, i, *stock));
    }
    return yield;
}

/// A cell of the row that has `key` in `column`.
void cite_row(const Situation& s, Explanation& e, tables::Key table, tables::Key column, std::string_view key,
              tables::Key cell) {
    const tables::Table* there = s.tables.table(table);
    if (const auto row = there ? there->row_of(column, key) : std::nullopt)
        cite_cell(s, e, table, *row, cell);
}

/// Row of table nec-400-4 that lists a type: "SJTW, SJTOW, SJTOOW", "SPT-1 (W: SPT-1W)".
std::optional<std::size_t> nec_row(const tables::Table& types, std::string_view type) {
    const auto is_part = [](char c) { return c != ' ' && c != ',' && c != '(' && c != ')' && c != ':'; };
    for (std::size_t row = 0; row < types.rows.size(); ++row) {
        const std::string_view listed = types.text(row, "types");
        for (auto at = listed.find(type); at != std::string_view::npos; at = listed.find(type, at + 1)) {
            const std::size_t end = at + type.size();
            if ((at == 0 || !is_part(listed[at - 1])) && (end == listed.size() || !is_part(listed[end])))
                return row;
        }
    }
    return std::nullopt;
}

/// Where the word of table cord-places comes from: the table of the code for its own types.
void cite_place(const Situation& s, Explanation& e, std::string_view type, tables::Key place,
                tables::Key column_of_the_nec) {
    const tables::Table* types = s.nec() ? s.tables.table("nec-400-4") : nullptr;
    if (const auto row = types ? nec_row(*types, type) : std::nullopt)
        cite_cell(s, e, "nec-400-4", *row, column_of_the_nec);
    else
        cite_row(s, e, "cord-places", "construction", type, place);
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Stock& stock = *stock_of(s, o.at.index);
    const std::string name = words(s, o.at, Part::cable), type = *stock.type;
    if (o.variant == ask_strands)
        return ask_for_rating(s, o, place_of(stock.strands.span, element), stock.path() + ".strands",
                              "Are the cores of " + name + " solid or stranded?",
                              "the stripped end: one wire, or many fine ones");
    Explanation e;
    e.place = {cable_place(element), type};
    e.related.push_back({place_of(stock.type.span, element), "this stock"});
    switch (o.variant) {
        case solid_on_plug:
            e.headline = fmt::format("{} has solid cores ({}) and a plug: it moves, and they break",
                                     capital(name), type);
            e.short_words = name + " has solid cores on a plug";
            e.consequence = "A core that broke in the grip arcs, or touches another one.";
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap), region_word(s, "lead")}};
            if (s.nec()) cite_fact(s, e, "nec-400-rules", "plug_on_cord");
            break;
        case two_core:
            e.headline =
                fmt::format("{} has two cores and ends in an outlet: no earth gets there", capital(name));
            e.short_words = name + " has two cores and ends in an outlet";
            e.consequence = "One day a tool with a metal case is plugged in there.";
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap), "a cable with a protective core"}};
            break;
        case cord_fixed:
            e.headline = fmt::format("{} is a cord ({}) where the wiring is fixed", capital(name), type);
            e.short_words = name + " is a cord in fixed wiring";
            e.consequence = "It ages unseen: its sheath is not made for walls, clips and heat.";
            e.remedies = {{Cost::cheap, "a plug and an outlet instead, if the bench may move"},
                          {Cost::electrician, "a cable for fixed wiring"}};
            if (s.nec()) cite_fact(s, e, "nec-400-rules", "no_fixed_wiring");
            break;
        case soft_on_floor:
            e.headline = fmt::format("{} ({}) lies on the floor of a workshop, where it gets cut and crushed",
                                     capital(name), type);
            e.consequence = "A light sheath is soon worn through by chips and castors.";
            if (!element.cable->route.known()) {
                e.headline =
                    fmt::format("{} ({}) is a lead: on the floor of a workshop it gets cut and crushed",
                                capital(name), type);
                e.questions.push_back({element.path() + ".cable.route", "Where does " + name + " run?",
                                       "the sketch: floor, carcass, conduit, overhead"});
            }
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap), region_word(s, "lead")}};
            cite_place(s, e, type, "floor", "usage");
            break;
        case indoor_outdoors:
            e.headline =
                fmt::format("{} ({}) is a cord for indoors, and the bench is outdoors", capital(name), type);
            e.consequence = "Sun and frost crack its sheath, and rain gets to the cores.";
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap),
                           s.nec() ? "a cord with a W in its name (SJOOW, SOOW)" : region_word(s, "lead")}};
            cite_place(s, e, type, "outdoors", "outdoor");
            break;
        case light_at_work:
            e.headline =
                fmt::format("{} ({}) is a lead at a place of work: rough use asks for {}", capital(name),
                            type, s.tables.table("cord-places")->text("workplace_cords"));
            e.consequence = "It holds in normal use; under castors and chips it does not last.";
            e.remedies = {
                {cost_at(s, o.at.index, Cost::cheap), region_word(s, "lead") + " when it is next changed"}};
            cite_row(s, e, "dguv-203-005", "class", "K2", "cord");
            break;
        case suits:
        default:
            e.headline = fmt::format("{} ({}) suits where it lies", capital(name), type);
    }
    return e;
}

}  // namespace

const Rule rule{.id = "shock.cable-unsuited",
                .title = "the wrong kind of cable for its place",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::cable_unsuited
