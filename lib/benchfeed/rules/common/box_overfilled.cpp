// heat.box-overfilled: a box with less room than its conductors need (NEC 314.16), or terminals with fewer
// ways than conductors.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::box_overfilled {
namespace {

enum Variant : std::uint8_t {
    by_volume,
    by_ways,
    ask_volume,
    ask_clamps,
    ask_ways,
    no_allowance,
    ask_terminals
};

const plan::Box& box_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Box>();
}

bool exceeds(Volume sum, Volume room) {
    return above(in(unit::in3, sum), in(unit::in3, room));
}

/// What the box has to hold by the table at least: clamps and terminals that nobody knows are not counted.
std::vector<FillItem> least_items(const Situation& s, Index i, const BoxContents& contents) {
    return printed_items(s, fill_items(s, i, contents, Unknown::left_out));
}
/// The same at most, with clamps and terminals that nobody knows.
std::vector<FillItem> most_items(const Situation& s, Index i, const BoxContents& contents) {
    return fill_items(s, i, contents, Unknown::counted);
}

/// What is not known is counted and not counted: if both agree, so be it. Beyond the last printed size its
/// volume is a bound, so what fails with one size fails with every larger one.
Outcome judge_volume(const Situation& s, Index i, const BoxContents& contents) {
    const plan::Box& box = box_of(s, i);
    const auto at_least = least_items(s, i, contents), at_most = most_items(s, i, contents);
    const auto least = fill_sum(s, at_least), most = fill_sum(s, at_most);
    const bool too_much = box.volume.known() && exceeds(*least, *box.volume);
    if (!most && !too_much) return undecided(at_element(i), Part::whole, no_allowance);
    if (!box.volume.known()) return undecided(at_element(i), Part::whole, ask_volume);
    if (!too_much && exceeds(*most, *box.volume))
        return undecided(at_element(i), Part::whole, box.clamps.known() ? ask_terminals : ask_clamps);
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    o.variant = by_volume;
    o.value = Ratio((too_much ? *least : *most) / *box.volume);
    o.edge = 1.0 * unit::one;
    o.ground.grade = fill_grade(s, too_much ? at_least : at_most);
    if (too_much) o.verdict = Verdict::fail;
    return o;
}

// ---- ways of the terminals ----------------------------------------------------------------------------
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
        const int wires = terminal_wires(s, box, c);
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
        const BoxContents contents = box_contents(s, i);
        if (s.nec() && !contents.cables.empty()) add_worse(yield.outcomes, judge_volume(s, i, contents));
        if (const auto o = judge_ways(s, i)) add_worse(yield.outcomes, *o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------
Explanation explain_volume(const Situation& s, const Outcome& o) {
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const plan::Box& box = box_of(s, i);
    const BoxContents contents = box_contents(s, i);
    const std::string name = element.words();
    if (o.variant == no_allowance)
        return ask_for_rating(
            s, o, element.header, element.path() + ".volume",
            "How large must " + name + " be? No volume is printed for one of its conductors",
            "an electrician: NEC 314.28 for 4 AWG and larger");
    const auto least = least_items(s, i, contents), most = most_items(s, i, contents);
    if (o.variant == ask_volume) {
        const std::string need = cubic_inches(*fill_sum(s, most));
        return ask_for_rating(s, o, place_of(box.volume, element), element.path() + ".volume",
                              "What is the volume of " + name + "? It needs at least " + need,
                              "stamped inside the box");
    }
    if (o.variant == ask_terminals)
        return ask_for_rating(
            s, o, place_of(box.terminals, element), element.path() + ".terminals",
            fmt::format("Are the terminals of {} a block? Without one it needs {}, with one {}", name,
                        cubic_inches(*fill_sum(s, least)), cubic_inches(*fill_sum(s, most))),
            "inside: screws or cages in a row are a block; single connectors count for nothing");
    if (o.variant == ask_clamps)
        return ask_for_rating(
            s, o, place_of(box.clamps, element), element.path() + ".clamps",
            fmt::format("Are the cable clamps of {} inside? Without them it needs {}, with them {}", name,
                        cubic_inches(*fill_sum(s, least)), cubic_inches(*fill_sum(s, most))),
            "the box: a clamp inside takes room, a connector outside does not");
    Explanation e;
    e.place = {place_of(box.volume, element), ""};
    const bool fail = o.verdict == Verdict::fail;
    const auto& items = fail ? least : most;
    const bool bound = !fill_sum(s, most);
    Working working;
    const Value sum = work_fill(working, s, items);
    working.compare(sum, fail ? ">" : "<=", working.written(cubic_inches(*box.volume)));
    if (!contents.yokes.empty())
        working.note(
            "Each outlet or switch mounted in the box is one yoke, counted on the largest conductor in the "
            "box.");
    if (!contents.loose.empty())
        working.note("Not counted, since its cable is not in the plan: " + list(s, contents.loose) + ".");
    if (bound)
        working.note(
            "A conductor for which no volume is printed is counted as the largest that is, and needs more.");
    e.steps = working.finish();
    e.sources = fill_sources(s, items);
    const std::string need = cubic_inches(*fill_sum(s, items));
    e.headline = fmt::format("{} holds {}; its conductors and parts need {}{}", capital(name),
                             cubic_inches(*box.volume), bound ? "more than " : "", need);
    if (!fail) return e;
    e.short_words = name + " is too small for what is in it";
    e.consequence =
        "Conductors pressed into a box crack, loosen in their terminals and cannot shed their heat.";
    if (bound) {
        e.remedies = {{Cost::electrician, "have the box sized: NEC 314.28 does so for 4 AWG and larger"}};
        return e;
    }
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
            fmt::format("How many ways does a terminal bank of {} have? {} are needed", name, bank.wires),
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

const Rule rule{.id = "heat.box-overfilled",
                .title = "a box or its terminals hold more conductors than they are made for",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::here, More::hurts},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::box_overfilled
