// shock.cores-missing: a cable has fewer live cores than the way it is wired needs, so that somebody will use
// the protective core, or spare ones that nobody may find live.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/figures/control_cores.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::cores_missing {
namespace {

constexpr std::uint8_t enough = 0, too_few = 1, spare = 2, ask_poles = 3, ask_no_volt = 4, ask_indicator = 5,
                       ask_table = 6;

using plan::Conductors;
using plan::Switch;
using plan::Wiring;

/// Live cores that a feed needs, with the words that say why.
struct Needed {
    int live = 0;
    std::string why;
    std::uint8_t asks = 0;  ///< not 0: nobody told what this variant asks for
    std::optional<tables::Citation> source;
};

/// Poles: as the plan opens them, else as it counts them.
std::optional<int> poles_of(const Switch& sw) {
    if (sw.opens.known()) return sw.opens->live();
    if (sw.opens.stated_unknown || !sw.poles.known()) return std::nullopt;
    return sw.poles.value;
}

/// It draws current of its own and so needs two conductors: a coil, a lamp, electronics.
Known feeds_itself(const Switch& sw) {
    if (sw.no_volt.is(true) || sw.indicator.is(true)) return Known::yes;
    using plan::SwitchKind;
    for (const auto kind :
         {SwitchKind::contactor, SwitchKind::current_sensing, SwitchKind::remote, SwitchKind::timer})
        if (sw.kind.is(kind)) return Known::yes;
    return sw.no_volt.stated_unknown || sw.indicator.stated_unknown ? Known::open : Known::no;
}

/// Out and back: each pole twice, and what it feeds itself with once more if no pole brings it.
Needed out_and_back(const Switch& sw, Conductors arriving) {
    const auto poles = poles_of(sw);
    if (!poles) return {0, "", ask_poles, {}};
    const bool both_there = *poles >= 2;
    const Known itself = both_there ? Known::no : feeds_itself(sw);
    if (itself == Known::open) return {0, "", sw.no_volt.stated_unknown ? ask_no_volt : ask_indicator, {}};
    const bool one_more = itself == Known::yes && arriving.live() > *poles;
    return {2 * *poles + one_more,
            fmt::format("{} pole{} out and back{}", *poles, *poles == 1 ? "" : "s",
                        one_more ? ", and a neutral for its coil, lamp or electronics" : ""),
            0,
            {}};
}

Needed for_control(const Situation& s, const Switch& sw) {
    using Of = figures::control_cores;
    const bool stop = sw.kind.is(plan::SwitchKind::emergency_stop);
    const auto cores = Of::at(s.tables, stop ? Of::Button::stop : Of::Button::start_and_stop).live();
    return {static_cast<int>(in(unit::one, cores.value)),
            stop ? "a stop contact in the control circuit" : "a start and a stop button", 0, cores.source};
}

Needed needed_by(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const Conductors arriving = e.conductors.value_or(Conductors{});
    if (const auto* sw = e.as<Switch>()) {
        if (sw->wiring.is(Wiring::loop)) return out_and_back(*sw, arriving);
        if (sw->wiring.is(Wiring::control)) return for_control(s, *sw);
    }
    return {arriving.live(), "the current passes through: " + plan::conductors_text(arriving), 0, {}};
}

int live_cores(const plan::Stock& stock) {
    return stock.cores.value_or(0) - stock.protective.value_or(true);
}

Yield look(const Situation& s) {
    Yield yield;
    for (const Index i : s.network.order) {
        const plan::Stock* stock = as_sold(s, i) ? nullptr : stock_of(s, i);
        if (!stock || !stock->cores.known() || s.network.house[i]) continue;
        const Needed needed = needed_by(s, i);
        if (needed.asks != 0) {
            yield.outcomes.push_back(undecided(at_element(i), Part::cable, needed.asks));
            continue;
        }
        if (needed.live == 0) continue;
        Outcome o;
        o.at = at_element(i);
        o.part = Part::cable;
        o.basis = Basis::physics;
        if (live_cores(*stock) < needed.live) {
            o.verdict = Verdict::fail;
            o.variant = too_few;
        } else if (live_cores(*stock) > needed.live) {
            o.verdict = Verdict::caution;
            o.basis = Basis::practice;
            o.variant = spare;
        } else if (needed.source) {
            o.ground.grade = needed.source->grade;
            if (!o.ground.carries_ok()) o = undecided(o.at, Part::cable, ask_table);
        }
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<Switch>();
    const std::string name = element.words();
    if (o.variant == ask_table) {
        const Needed needed = needed_by(s, o.at.index);
        return ask_for_rating(
            s, o, cable_place(element), "",
            fmt::format("Are {} live cores enough for {}? Only memory says so", needed.live, needed.why),
            "the maker's circuit diagram of the contactor and its buttons");
    }
    if (o.variant == ask_poles)
        return ask_for_rating(s, o, place_of(sw.poles, element), element.path() + ".poles",
                              "How many poles does " + name + " have?",
                              "count the terminals: two for each pole");
    if (o.variant == ask_no_volt)
        return ask_for_rating(s, o, place_of(sw.no_volt, element), element.path() + ".no_volt",
                              "Does " + name + " have a no-volt coil, which needs a neutral?",
                              "pull the plug while it is on, plug in again: does it come back?");
    return ask_for_rating(s, o, place_of(sw.indicator, element), element.path() + ".indicator",
                          "Does " + name + " have a lamp, which needs a neutral?",
                          "its front, while it is on");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const plan::Stock& stock = *stock_of(s, o.at.index);
    const Needed needed = needed_by(s, o.at.index);
    const std::string name = words(s, o.at, Part::cable);
    const int live = live_cores(stock);
    const bool earth = stock.protective.value_or(true);
    Explanation e;
    e.place = {cable_place(element), ""};
    e.related.push_back({place_of(stock.cores.span.nowhere() ? stock.header : stock.cores.span, element),
                         fmt::format("{} live{}", live, earth ? " and a protective one" : "")});
    if (needed.source) e.sources.push_back(*needed.source);
    Working working;
    working.note(fmt::format("Live cores needed: {} ({}); there are {}.", needed.live, needed.why, live));
    e.steps = working.finish();
    switch (o.variant) {
        case too_few:
            e.headline = fmt::format("{} has {} live core{} and needs {}", capital(name), live,
                                     live == 1 ? "" : "s", needed.live);
            e.short_words = name + " has too few cores";
            e.consequence =
                "The core that is left is the protective one: once it carries current the metal of "
                "the tool is live.";
            e.remedies = {
                {cost_at(s, o.at.index, Cost::cheap),
                 fmt::format("a cable with {} cores, the protective one included", needed.live + 1)}};
            break;
        case spare:
            e.headline =
                fmt::format("{} has {} live cores and needs {}: the plan does not say what the rest is for",
                            capital(name), live, needed.live);
            e.consequence = "A core whose use is not known is taken for a dead one.";
            e.remedies = {{Cost::free, "close both ends in a terminal of their own, and mark them"}};
            break;
        case enough:
        default:
            e.headline = fmt::format("{} has the {} live cores that it needs", capital(name), needed.live);
    }
    return e;
}

}  // namespace

const Rule rule{.id = "shock.cores-missing",
                .title = "a cable has too few cores for the way it is wired",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::cores_missing
