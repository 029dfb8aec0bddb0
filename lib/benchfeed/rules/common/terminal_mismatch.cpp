// heat.terminal-mismatch: conductors in terminals that are not made for them: tinned ends, fine strands,
// aluminium, sections outside the range.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/figures/terminal_ranges.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::terminal_mismatch {
namespace {

enum Variant : std::uint8_t {
    fits,
    aluminium,
    house_aluminium,
    tinned,
    wrong_strands,
    loose_strands,
    too_thick,
    maybe_too_thick,
    ask_ends,
    ask_terminals,
    ask_strands,
    ask_metal,
    no_row
};

/// The boxes in which a cable ends: the one that it feeds, and the one in which it starts.
std::vector<Index> boxes_of(const Situation& s, Index i) {
    std::vector<Index> boxes;
    const plan::Element& e = s.plan[i];
    const Index start = starts_at(s, i);
    if (start != plan::nowhere && s.plan[start].kind == plan::Kind::box) boxes.push_back(start);
    if (e.kind == plan::Kind::box) boxes.push_back(i);
    return boxes;
}

const plan::Stock& stock_there(const Situation& s, Index i) {
    return s.plan.stocks[s.plan[i].cable->stock_index];
}

Outcome outcome_at(Index i, Verdict verdict, Variant variant, Basis basis) {
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.verdict = verdict;
    o.variant = variant;
    o.basis = basis;
    return o;
}

Outcome by_word(Index i, Holds holds) {
    if (holds == Holds::no) return outcome_at(i, Verdict::fail, wrong_strands, Basis::marking);
    if (holds == Holds::care) return outcome_at(i, Verdict::caution, loose_strands, Basis::practice);
    return outcome_at(i, Verdict::ok, fits, Basis::marking);
}

/// A conductor in the terminals of one box.
Outcome judge_in_box(const Situation& s, Index i, Index box) {
    const auto& terminals = s.plan[box].as<plan::Box>()->terminals;
    const plan::Cable& cable = *s.plan[i].cable;
    const plan::Stock& stock = stock_there(s, i);
    if (!stock.strands.known()) return outcome_at(i, Verdict::cannot_judge, ask_strands, Basis::marking);
    if (!terminals.known()) return outcome_at(i, Verdict::cannot_judge, ask_terminals, Basis::marking);
    const auto fit = terminal_fit(s, terminals.word(), stock.strands.word());
    if (!fit) return outcome_at(i, Verdict::cannot_judge, no_row, Basis::marking);
    if (cable.ends.is(plan::Ends::ferrule)) return by_word(i, fit->ferrule);
    if (cable.ends.is(plan::Ends::ring)) return by_word(i, fit->ring);
    if (cable.ends.stated_unknown) return outcome_at(i, Verdict::cannot_judge, ask_ends, Basis::marking);
    // Nobody said: bare, unless that makes a difference.
    if (cable.ends.known() || fit->bare == Holds::yes) return by_word(i, fit->bare);
    return outcome_at(i, Verdict::caution, ask_ends, Basis::practice);
}

// ---- range of sections ------------------------------------------------------------------------------
struct Range {
    figures::terminal_ranges::Row row;
    std::string part;  ///< "lever", or the pattern of a plug
};

/// Rows of table terminal-ranges for the ends of a cable whose range it leaves.
std::optional<Range> range_left(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const plan::Stock& stock = stock_there(s, i);
    if (!stock.section.known()) return std::nullopt;
    std::vector<std::string> parts;
    for (const Index box : boxes_of(s, i))
        if (const auto& terminals = s.plan[box].as<plan::Box>()->terminals; terminals.known())
            parts.emplace_back(terminals.word());
    if (e.plug.known() && !e.plug.assumed() && !e.cable->listed.is(true)) parts.push_back(*e.plug);
    const double area = in(unit::mm2, stock.section->area);
    for (const std::string& part : parts) {
        const auto row = figures::terminal_ranges::at(s.tables, part);
        if (!row) continue;  // a part without a printed range: nothing is said of it
        const auto least = row->least();
        const bool below = least && area < in(unit::mm2, least->value.area) * (1 - 1e-9);
        const bool beyond = area > in(unit::mm2, row->most().value.area) * (1 + 1e-9);
        if (below || beyond) return Range{*row, part};
    }
    return std::nullopt;
}

/// A range from memory warns; the mark on the part decides.
Outcome judge_range(const Situation& s, Index i) {
    const auto left = range_left(s, i);
    if (!left) return outcome_at(i, Verdict::ok, fits, Basis::marking);
    const bool memory = left->row.most().source.grade == tables::Grade::memory;
    return memory ? outcome_at(i, Verdict::caution, maybe_too_thick, Basis::practice)
                  : outcome_at(i, Verdict::fail, too_thick, Basis::marking);
}

Outcome judge_cable(const Situation& s, Index i) {
    const plan::Stock& stock = stock_there(s, i);
    const bool house = s.network.house[i];
    if (stock.conductor.stated_unknown)
        return outcome_at(i, Verdict::cannot_judge, ask_metal, Basis::marking);
    if (stock.conductor.known() && !stock.conductor.is(plan::Metal::copper))
        return house ? outcome_at(i, Verdict::caution, house_aluminium, Basis::practice)
                     : outcome_at(i, Verdict::fail, aluminium, Basis::marking);
    if (s.plan[i].cable->ends.is(plan::Ends::tinned))
        return outcome_at(i, Verdict::fail, tinned, Basis::marking);
    Outcome worst = house ? outcome_at(i, Verdict::ok, fits, Basis::marking) : judge_range(s, i);
    for (const Index box : boxes_of(s, i)) {
        const Outcome o = judge_in_box(s, i, box);
        if (o.verdict > worst.verdict) worst = o;
    }
    return worst;
}

bool is_judged(const Situation& s, Index i) {
    return s.plan[i].cable && !as_sold(s, i);
}

/// Every cable with this outcome, for questions that are asked once.
std::vector<Index> alike(const Situation& s, std::uint8_t variant) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (is_judged(s, i) && judge_cable(s, i).variant == variant) found.push_back(i);
    return found;
}

/// The box whose terminals speak against a cable; nowhere if it is something else.
Index box_against(const Situation& s, Index i, std::uint8_t variant) {
    for (const Index box : boxes_of(s, i))
        if (judge_in_box(s, i, box).variant == variant) return box;
    return plan::nowhere;
}

bool is_question(std::uint8_t variant) {
    return variant >= ask_ends;
}

/// One finding for each question, and for the terminals of each box.
Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!is_judged(s, i)) continue;
        Outcome o = judge_cable(s, i);
        if (o.variant == no_row) {
            const auto& terminals = s.plan[box_against(s, i, no_row)].as<plan::Box>()->terminals;
            const auto fit = terminal_fit(s, terminals.word(), stock_there(s, i).strands.word());
            yield.cannot_judge(o.at, o.part, fit.missing());
            continue;
        }
        const bool by_box = o.variant == wrong_strands || o.variant == loose_strands;
        if (by_box) o.fold = fold_of(o.variant, box_against(s, i, o.variant));
        if (is_question(o.variant)) o.fold = fold_of(o.variant);
        yield.outcomes.push_back(o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------
/// "cord.a, cord.b" of the elements or stocks that a question is about, each once.
std::string paths(const Situation& s, const std::vector<Index>& cables, std::uint8_t variant) {
    std::vector<std::string> seen;
    const auto note = [&](const std::string& path) {
        if (std::find(seen.begin(), seen.end(), path) == seen.end()) seen.push_back(path);
    };
    for (const Index i : cables) {
        if (variant == ask_ends) note(s.plan[i].path() + ".cable.ends");
        if (variant == ask_strands) note(stock_there(s, i).path() + ".strands");
        if (variant == ask_metal) note(stock_there(s, i).path() + ".conductor");
        if (variant != ask_terminals) continue;
        for (const Index box : boxes_of(s, i))
            if (!s.plan[box].as<plan::Box>()->terminals.known()) note(s.plan[box].path() + ".terminals");
    }
    std::string out;
    for (const std::string& path : seen) out += (out.empty() ? "" : ", ") + path;
    return out;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const std::vector<Index> cables = alike(s, o.variant);
    const plan::Element& first = s.plan[o.at.index];
    std::vector<std::string> names;
    for (const Index i : cables) names.push_back(words(s, at_element(i), Part::cable));
    const std::string all = paths(s, cables, o.variant), what = list(names);
    switch (o.variant) {
        case ask_strands:
            return ask_for_rating(s, o, cable_place(first), all,
                                  "Are the cores of " + what + " solid, stranded or fine?",
                                  "the stripped end: one wire, seven, or many like hair");
        case ask_metal:
            return ask_for_rating(s, o, cable_place(first), all, "Of what metal is " + what + "?",
                                  "the cut end: red copper, or silver aluminium");
        case ask_terminals: {
            std::vector<Index> boxes;
            for (const Index i : cables)
                for (const Index box : boxes_of(s, i))
                    if (!s.plan[box].as<plan::Box>()->terminals.known() &&
                        std::find(boxes.begin(), boxes.end(), box) == boxes.end())
                        boxes.push_back(box);
            return ask_for_rating(s, o, cable_place(first), all,
                                  "What kind of terminal is in " + list(s, boxes) + "?",
                                  "the pack: lever, push-in, screw, cage, twist-on or tab");
        }
        default:
            break;
    }
    Explanation e = ask_for_rating(s, o, cable_place(first), all,
                                   "How are the fine-stranded ends of " + what + " finished?",
                                   "the ends: bare strands, a ferrule, a ring, or solder");
    e.headline = "The plan does not say how the fine-stranded ends of " + what +
                 " are finished, and their terminals do not hold every kind of end";
    e.consequence = "Bare fine strands spread in a terminal: some are not held, the rest get hot.";
    e.remedies = {
        {Cost::cheap, "a ferrule of the right size on every fine strand, or terminals marked for bare ones"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (is_question(o.variant)) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const plan::Cable& cable = *element.cable;
    const plan::Stock& stock = stock_there(s, o.at.index);
    const std::string what = words(s, o.at, Part::cable);
    Explanation e;
    e.place = {cable_place(element), ""};
    e.short_words = what + " ends in a terminal that is not made for it";
    e.consequence = "The joint loosens and heats; no device feels that.";
    switch (o.variant) {
        case aluminium:
        case house_aluminium:
            e.headline = capital(what) + " is of " + std::string(stock.conductor.word()) +
                         ", which terminals made for copper do not hold";
            e.related.push_back(
                {place_of(stock.conductor.span, element), std::string(stock.conductor.word())});
            e.consequence = "Aluminium creeps and oxidises: the joint gets hotter each year.";
            e.remedies = {o.variant == aluminium
                              ? Remedy{Cost::cheap, "copper for everything on the bench"}
                              : Remedy{Cost::electrician,
                                       "have the outlet and its joints looked at: are they marked "
                                       "for aluminium?"}};
            return e;
        case tinned:
            e.headline = "The ends of " + what + " are tinned";
            e.place = {cable.ends.span, "solder"};
            e.consequence =
                "Solder creeps under pressure: the screw is loose after weeks, and the joint burns.";
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap),
                           "cut the solder off; ferrules, or terminals that take bare strands"}};
            return e;
        case too_thick:
        case maybe_too_thick: {
            const auto left = *range_left(s, o.at.index);
            const auto least = left.row.least();
            const auto most = left.row.most();
            e.headline = fmt::format(
                "{} ({}) is outside the range of {}: {}{}", capital(what), section_text(*stock.section),
                left.part, least ? section_text(least->value) + " to " : "up to ", section_text(most.value));
            e.sources.push_back(most.source);
            e.remedies = {{cost_at(s, o.at.index, Cost::cheap),
                           "a part whose printed range takes it, or another section"}};
            if (o.variant == maybe_too_thick) {
                e.consequence = "The range is from memory of the trade; the one printed on the part decides.";
                e.questions.push_back({"", "What range is printed on the " + left.part + " at " + what + "?",
                                       "on the part or its pack: 0.2 to 4 mm2, or 22 to 12 AWG"});
            }
            return e;
        }
        default:
            break;
    }
    if (o.verdict == Verdict::ok) {
        e.headline = "Nothing speaks against the ends of " + what;
        e.consequence.clear();
        e.short_words.clear();
        return e;
    }
    const Index box = box_against(s, o.at.index, o.variant);
    const auto& kind = s.plan[box].as<plan::Box>()->terminals;
    std::vector<std::string> cables;
    for (const Index i : alike(s, o.variant))
        if (box_against(s, i, o.variant) == box) cables.push_back(words(s, at_element(i), Part::cable));
    e.related.push_back({place_of(kind.span, s.plan[box]), std::string(kind.word()) + " terminals"});
    if (const auto fit = terminal_fit(s, kind.word(), stock.strands.word())) e.sources.push_back(fit->source);
    const std::string ends = cable.ends.known() ? std::string(cable.ends.word()) : "bare";
    e.headline = fmt::format("{} {} {} cores, {}, in {} terminals", capital(list(cables)),
                             cables.size() == 1 ? "has" : "have", stock.strands.word(), ends, kind.word());
    if (o.verdict == Verdict::caution) e.headline += ": not every such terminal holds them";
    e.remedies = {{cost_at(s, o.at.index, Cost::cheap),
                   "terminals that are marked for this kind of core, or the end that they need"}};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.terminal-mismatch",
                .title = "a conductor is in a terminal that is not made for it",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::here},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::terminal_mismatch
