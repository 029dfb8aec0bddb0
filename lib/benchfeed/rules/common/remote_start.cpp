// restart.remote-start: a timer, a remote or a current-sensing switch starts a tool while nobody stands at
// its own switch.
#include <algorithm>
#include <array>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::remote_start {
namespace {

constexpr std::uint8_t starts_cutter = 1, starts_extractor = 2, ask_kind = 3, ask_load = 4, stop_released = 5;

bool starts_from_afar(const plan::Switch& sw) {
    return sw.kind.is(plan::SwitchKind::remote) || sw.kind.is(plan::SwitchKind::timer) ||
           sw.kind.is(plan::SwitchKind::current_sensing);
}

/// An emergency stop that is pulled out again and does not drop out by itself: what it stopped starts.
bool starts_when_released(const plan::Switch& sw) {
    return sw.kind.is(plan::SwitchKind::emergency_stop) && !sw.no_volt.is(true);
}

/// What such a switch does to one load below it.
Outcome judge_load(const Situation& s, Index sw, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    Outcome o;
    o.at = at_element(sw);
    o.basis = Basis::practice;
    if (!turns(what) || what.latched.is(false) || released_below(s, sw, load)) return o;
    const Known cuts = starts_and_cuts(what);
    if (s.plan[sw].as<plan::Switch>()->kind.stated_unknown) return undecided(o.at, Part::whole, ask_kind);
    if (cuts == Known::open) return undecided(o.at, Part::whole, ask_load);
    o.verdict = cuts == Known::yes ? Verdict::fail : Verdict::caution;
    o.variant = cuts == Known::yes ? starts_cutter : starts_extractor;
    if (!starts_when_released(*s.plan[sw].as<plan::Switch>())) return o;
    if (cuts == Known::no) {  // who pulls it out stands beside the extractor
        o.verdict = Verdict::ok;
        o.variant = 0;
        return o;
    }
    o.variant = stop_released;
    return o;
}

/// The load that a verdict is about: the first for which it is reached.
Index load_of(const Situation& s, const Outcome& o) {
    for (const Index load : loads_below(s, o.at.index))
        if (judge_load(s, o.at.index, load).variant == o.variant) return load;
    return plan::nowhere;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* sw = s.plan[i].as<plan::Switch>();
        if (!sw || (!starts_from_afar(*sw) && !starts_when_released(*sw) && !sw->kind.stated_unknown))
            continue;
        Outcome worst;
        worst.at = at_element(i);
        worst.basis = Basis::practice;
        for (const Index load : loads_below(s, i)) {
            const Outcome o = judge_load(s, i, load);
            if (o.verdict > worst.verdict) worst = o;
        }
        yield.outcomes.push_back(worst);
    }
    return yield;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<plan::Switch>();
    if (o.variant == ask_kind)
        return ask_for_rating(
            s, o, place_of(sw.kind, element), element.path() + ".kind",
            "Is " + element.words() + " closed by hand, or by a timer, a remote or another tool?",
            "its front; the box it came in");
    return ask_whether_it_catches(s, o, load_of(s, o));
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const auto& kind = element.as<plan::Switch>()->kind;
    Explanation e;
    e.place = {place_of(kind, element), ""};
    if (o.verdict == Verdict::ok) {
        e.headline = capital(element.words()) + " starts nothing that cuts or catches";
        return e;
    }
    const std::string load = s.plan[load_of(s, o)].words();
    if (o.variant == stop_released) {
        e.headline = "When " + element.words() + " is pulled out again, " + load + " starts";
        e.short_words = load + " starts when " + element.words() + " is pulled out again";
        e.place.text = "only opens and closes";
        e.consequence =
            "Somebody stopped it in an emergency, frees what was caught, pulls the button out, and it "
            "starts.";
        e.remedies = {{Cost::free, "switch off every tool before the stop is pulled out"},
                      {Cost::cheap, "a release (no_volt = true) before " + load +
                                        ", or a stop that works on a contactor which is closed by hand"}};
        if (const tables::Table* table = s.tables.table("iec-60204-1"))
            if (const auto* fact = table->fact("emergency_stop"); fact && !s.nec())
                e.sources.push_back(table->cite(*fact));
        return e;
    }
    e.headline = capital(element.words()) + " starts " + load + " while nobody is at its switch";
    e.short_words = load + " can be started from a distance";
    e.place.text = std::string(kind.word());
    e.related.push_back({s.plan[load_of(s, o)].header, "its own switch stays on"});
    if (o.variant == starts_cutter) {
        e.consequence = "It starts with whoever's hands are there. A contact that welds keeps it running.";
        e.remedies = {{Cost::free, "for now: pull its plug before a hand goes near the blade"},
                      {Cost::cheap, "a release (no_volt = true) between " + element.words() + " and " + load +
                                        ", closed by hand at the tool"}};
    } else {
        e.consequence = "It starts while somebody clears its hose or its impeller.";
        e.remedies = {{Cost::free, "pull its plug before it is opened or cleared"}};
    }
    return e;
}

}  // namespace

const Rule rule{.id = "restart.remote-start",
                .title = "a tool starts while nobody is at its switch",
                .harm = Harm::restart,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::remote_start
