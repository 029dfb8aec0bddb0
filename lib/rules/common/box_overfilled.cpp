// heat.box-overfilled: a box with less room than its conductors need (NEC 314.16), or terminals with fewer
// ways than conductors.
#include <fmt/format.h>

#include <algorithm>

#include "base/quantity_text.hpp"
#include "network/ampacity.hpp"
#include "rules/contact.hpp"
#include "rules/overload.hpp"
#include "rules/rules.hpp"

namespace benchfeed::rules {
namespace {

using tables::Table;

enum Variant : std::uint8_t { by_volume, by_ways, ask_volume, ask_clamps, ask_ways, no_allowance };

const plan::Box& box_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Box>();
}

// ---- what is in the box -------------------------------------------------------------------------------
struct Contents {
    std::vector<Index> cables;  ///< elements whose cable enters the box: its own feed, and what starts in it
    std::vector<Index> yokes;   ///< outlets and switches mounted in the box
    std::vector<Index> loose;   ///< loads wired on whose cable is not in the plan
};

bool out_and_back(const plan::Element& e) {
    const auto* sw = e.as<plan::Switch>();
    return sw && !sw->wiring.is(plan::Wiring::in_line);
}

void add_children(const Situation& s, Index i, Contents& contents) {
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

Contents contents_of(const Situation& s, Index box) {
    Contents contents;
    if (s.plan[box].cable) contents.cables.push_back(box);
    add_children(s, box, contents);
    return contents;
}

// ---- volume, NEC 314.16(B) --------------------------------------------------------------------------
/// One counted item: so many allowances of so much each.
struct Item {
    std::string symbol, rule;  ///< rule: the row of table nec-314-16-b-rules
    Ratio allowances{};
    Section sized_on;
};

std::optional<tables::Figure<Volume>> volume_of(const Situation& s, const Section& section) {
    const Table* table = s.tables.table("nec-314-16-b");
    const auto row = table && section.gauge ? table->row_of("size", awg_text(*section.gauge)) : std::nullopt;
    return row ? table->volume(*row, "volume") : std::nullopt;
}

std::optional<tables::Figure<Ratio>> allowance(const Situation& s, std::string_view item) {
    const Table* table = s.tables.table("nec-314-16-b-rules");
    const auto row = table ? table->row_of("item", item) : std::nullopt;
    return row ? table->ratio(*row, "allowances") : std::nullopt;
}

constexpr std::string_view each_conductor = "each conductor from outside, spliced or terminated",
                           all_clamps = "all internal cable clamps together",
                           each_yoke = "each yoke or strap",
                           four_grounds = "equipment grounding conductors, first four together",
                           more_grounds = "each equipment grounding conductor beyond four",
                           each_block = "each terminal block assembly";

bool thicker(const Section& a, const Section& b) {
    return a.area > b.area;
}

/// Items of 314.16(B) in the order of the code, clamps last.
std::vector<Item> items_of(const Situation& s, Index box, const Contents& contents, bool clamps) {
    std::vector<Item> items;
    std::optional<Section> largest, largest_ground;
    int grounds = 0;
    // Conductors of one size are one line.
    const auto add = [&](const char* symbol, std::string_view rule, double times, const Section& section) {
        const auto each = allowance(s, rule);
        if (!each || times <= 0) return;
        const auto same = std::find_if(items.begin(), items.end(), [&](const Item& item) {
            return item.symbol == symbol && item.sized_on == section;
        });
        if (same != items.end())
            same->allowances += Ratio(each->value * times);
        else
            items.push_back({symbol, std::string(rule), Ratio(each->value * times), section});
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
    const auto& terminals = box_of(s, box).terminals;
    if (terminals.is(plan::Terminals::screw) || terminals.is(plan::Terminals::cage))
        add("V_block", each_block, 1, *largest);
    if (clamps) add("V_clamps", all_clamps, 1, *largest);
    return items;
}

/// Sum of the items; nothing where a size has no printed volume.
std::optional<Volume> sum_of_items(const Situation& s, const std::vector<Item>& items) {
    Volume sum{};
    for (const Item& item : items) {
        const auto each = volume_of(s, item.sized_on);
        if (!each) return std::nullopt;
        sum += Volume(each->value * item.allowances);
    }
    return sum;
}

tables::Grade lowest_grade(const Situation& s, const std::vector<Item>& items) {
    tables::Grade grade = tables::Grade::two_sources;
    for (const Item& item : items) {
        if (const auto each = volume_of(s, item.sized_on)) grade = std::min(grade, each->source.grade);
        if (const auto times = allowance(s, item.rule)) grade = std::min(grade, times->source.grade);
    }
    return grade;
}

bool exceeds(Volume sum, Volume room) {
    return above(in(unit::in3, sum), in(unit::in3, room));
}

/// Clamps that nobody knows are counted and not counted: if both agree, so be it.
Outcome judge_volume(const Situation& s, Index i, const Contents& contents) {
    const plan::Box& box = box_of(s, i);
    const bool outside = box.clamps.is(plan::Clamps::outside), inside = box.clamps.is(plan::Clamps::inside);
    const auto most_items = items_of(s, i, contents, !outside),
               least_items = items_of(s, i, contents, inside);
    const auto most = sum_of_items(s, most_items), least = sum_of_items(s, least_items);
    if (!most || !least) return undecided(at_element(i), Part::whole, no_allowance);
    if (!box.volume.known()) return undecided(at_element(i), Part::whole, ask_volume);
    const bool too_much = exceeds(*least, *box.volume);
    if (too_much != exceeds(*most, *box.volume)) return undecided(at_element(i), Part::whole, ask_clamps);
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    o.variant = by_volume;
    o.value = Ratio((too_much ? *least : *most) / *box.volume);
    o.edge = 1.0 * unit::one;
    o.ground.grade = lowest_grade(s, most_items);
    if (too_much) o.verdict = Verdict::fail;
    return o;
}

// ---- ways of the terminals ----------------------------------------------------------------------------
/// A load or an outlet with a plug of its own hangs at an outlet, not at a terminal of the box.
bool at_a_terminal(const plan::Element& e) {
    return !e.plug.known() && !e.plug.stated_unknown;
}

/// Wires of one conductor in the terminals of a box: the feed, and one for each element wired on.
int wires_of(const Situation& s, Index box, plan::Conductor conductor) {
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

struct Bank {
    plan::Conductor conductor = plan::Conductor::l1;
    int wires = 0;
};

/// The terminal bank with most wires.
Bank fullest(const Situation& s, Index box) {
    Bank most;
    const auto own = s.plan[box].conductors.value_or(plan::Conductors{});
    using plan::Conductor;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n, Conductor::pe}) {
        if (c != Conductor::pe && !own.has(c)) continue;
        const int wires = wires_of(s, box, c);
        if (wires > most.wires) most = {c, wires};
    }
    return most;
}

std::optional<Outcome> judge_ways(const Situation& s, Index i) {
    const auto& ways = box_of(s, i).ways;
    if (ways.stated_unknown) return undecided(at_element(i), Part::whole, ask_ways);
    if (!ways.known()) return std::nullopt;  // asked when parts are bought
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::marking;
    o.variant = by_ways;
    const double used = static_cast<double>(fullest(s, i).wires) / *ways;
    o.value = used * unit::one;
    o.edge = 1.0 * unit::one;
    if (above(used, 1.0)) {
        o.verdict = Verdict::fail;
        return o;
    }
    const auto attention = s.nec() ? std::nullopt : threshold(s, "box_ways");
    if (attention && above(used, in(unit::one, attention->value))) {
        o.verdict = Verdict::caution;
        o.basis = Basis::practice;
        o.caution = attention->value;
    }
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::box) continue;
        const Contents contents = contents_of(s, i);
        if (s.nec() && !contents.cables.empty()) add_worse(yield.outcomes, judge_volume(s, i, contents));
        if (const auto o = judge_ways(s, i)) add_worse(yield.outcomes, *o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------
/// As few digits as say it: "34.875", "42".
std::string plain(double number) {
    std::string text = digits(number, 6);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string cubic_inches(Volume v) {
    return plain(in(unit::in3, v)) + " in3";
}

/// The worked sum: one line for each item, then all of them.
Value work_sum(Working& working, const Situation& s, const std::vector<Item>& items) {
    std::vector<Value> parts;
    std::string pattern, formula;
    for (const Item& item : items) {
        const auto each = *volume_of(s, item.sized_on);
        const auto times = *allowance(s, item.rule);
        const Value part = working.add(
            item.symbol, "allowances * volume of " + section_text(item.sized_on), "{} * {}",
            {working.written(plain(in(unit::one, item.allowances))), working.written(each.written)}, "in3",
            {network::cited(times.source), network::cited(each.source)});
        if (parts.size() == 1 && items.size() == 1) return part;
        pattern += parts.empty() ? "{}" : " + {}";
        formula += (parts.empty() ? "" : " + ") + item.symbol;
        parts.push_back(part);
    }
    return parts.size() == 1 ? parts.front() : working.add("V", formula, pattern, parts, "in3");
}

Explanation explain_volume(const Situation& s, const Outcome& o) {
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const plan::Box& box = box_of(s, i);
    const Contents contents = contents_of(s, i);
    const std::string name = element.words();
    const bool inside = box.clamps.is(plan::Clamps::inside), outside = box.clamps.is(plan::Clamps::outside);
    if (o.variant == no_allowance)
        return ask_for_rating(
            s, o, element.header, element.path() + ".volume",
            "How large must " + name + " be? No volume is printed for one of its conductors",
            "an electrician: NEC 314.28 for 4 AWG and larger");
    const auto least = items_of(s, i, contents, inside), most = items_of(s, i, contents, !outside);
    if (o.variant == ask_volume) {
        const std::string need = cubic_inches(*sum_of_items(s, most));
        return ask_for_rating(s, o, place_of(box.volume, element), element.path() + ".volume",
                              "What volume has " + name + "? It needs at least " + need,
                              "stamped inside the box");
    }
    if (o.variant == ask_clamps)
        return ask_for_rating(
            s, o, place_of(box.clamps, element), element.path() + ".clamps",
            fmt::format("Are the cable clamps of {} inside? Without them it needs {}, with them {}", name,
                        cubic_inches(*sum_of_items(s, least)), cubic_inches(*sum_of_items(s, most))),
            "the box: a clamp inside takes room, a connector outside does not");
    Explanation e;
    e.place = {place_of(box.volume, element), ""};
    const bool fail = o.verdict == Verdict::fail;
    const auto& items = fail ? least : most;
    Working working;
    const Value sum = work_sum(working, s, items);
    working.compare(sum, fail ? ">" : "<=", working.written(cubic_inches(*box.volume)));
    if (!contents.yokes.empty())
        working.note(
            "Each outlet or switch mounted in the box is one yoke, counted on the largest conductor in the "
            "box.");
    if (!contents.loose.empty())
        working.note("Not counted, since its cable is not in the plan: " + list(s, contents.loose) + ".");
    e.steps = working.finish();
    if (const Table* table = s.tables.table("nec-314-16-b")) e.sources.push_back(table->cite());
    const std::string need = cubic_inches(*sum_of_items(s, items));
    e.headline = fmt::format("{} holds {}; its conductors and parts need {}", capital(name),
                             cubic_inches(*box.volume), need);
    if (!fail) return e;
    e.short_words = name + " is too small for what is in it";
    e.consequence =
        "Conductors pressed into a box crack, loosen in their terminals and cannot shed their heat.";
    e.remedies = {{Cost::cheap, "a box, or a box with an extension ring, of at least " + need},
                  {Cost::cheap, "or a part of the outlets in a second box"}};
    return e;
}

Explanation explain_ways(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& ways = box_of(s, o.at.index).ways;
    const std::string name = element.words();
    const Bank bank = fullest(s, o.at.index);
    if (o.variant == ask_ways)
        return ask_for_rating(
            s, o, place_of(ways, element), element.path() + ".ways",
            fmt::format("How many ways has a terminal bank of {}? {} are needed", name, bank.wires),
            "the pack, or count the openings of one connector");
    constexpr std::string_view names[] = {"line", "second line", "third line", "neutral",
                                          "protective conductor"};
    const auto which = names[static_cast<std::size_t>(bank.conductor)];
    Explanation e;
    e.place = {place_of(ways, element), ""};
    Working working;
    const Value used = working.add(
        "used", "wires / ways", "{} / {}",
        {working.written(std::to_string(bank.wires)), working.written(std::to_string(*ways))}, "%");
    if (o.verdict == Verdict::fail) working.compare(used, ">", working.written("100 %"));
    if (o.verdict == Verdict::ok) working.compare(used, "<=", working.written("100 %"));
    if (o.verdict == Verdict::caution) {
        const auto attention = *threshold(s, "box_ways");
        working.compare(used, ">", working.written(attention.written), {network::cited(attention.source)});
        e.sources.push_back(attention.source);
    }
    e.steps = working.finish();
    e.headline = fmt::format("{} wires of the {} meet in {}, whose terminals have {} ways each", bank.wires,
                             which, name, *ways);
    if (o.verdict == Verdict::ok) return e;
    e.short_words = "the terminals of " + name + " have too few ways";
    e.consequence = o.verdict == Verdict::fail
                        ? "Two cores end up in one way: one of them is not held, and heats."
                        : "No way is left for the next outlet, or for a core that breaks.";
    e.remedies = {
        {Cost::cheap, fmt::format("terminals with {} ways or more; two to spare is usual", bank.wires + 2)}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    return o.variant == by_ways || o.variant == ask_ways ? explain_ways(s, o) : explain_volume(s, o);
}

}  // namespace

const Rule box_overfilled{.id = "heat.box-overfilled",
                          .title = "a box or its terminals hold more conductors than they are made for",
                          .harm = Harm::heat,
                          .essential = false,
                          .families = "iec nec",
                          .since = "0.1.0",
                          .sections = {Depends::here, More::hurts},
                          .look = look,
                          .explain = explain};

}  // namespace benchfeed::rules
