// restart.self-reset: a cut-out that closes again by itself starts a tool that was left on.
#include <algorithm>
#include <array>

#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::self_reset {
namespace {

constexpr std::uint8_t harmless = 0, starts_cutter = 1, starts_extractor = 2, ask_reset = 3, ask_load = 4;

/// A thing that opens by heat, and how it closes again.
enum class Closes : std::uint8_t { by_hand, by_itself, open };

Closes closes(const plan::Element& e, Part part) {
    if (part == Part::cable) {
        const auto& cutout = e.cable->cutout;
        if (cutout.is(plan::OwnReset::self)) return Closes::by_itself;
        return cutout.known() ? Closes::by_hand : Closes::open;
    }
    if (const auto* device = e.as<plan::Device>())
        return device->reset.stated_unknown          ? Closes::open
               : device->reset.is(plan::Reset::self) ? Closes::by_itself
                                                     : Closes::by_hand;
    const auto& overload = e.as<plan::Load>()->overload;
    if (overload.is(plan::OwnReset::self)) return Closes::by_itself;
    return overload.stated_unknown || (!overload.known() && !e.plug.known()) ? Closes::open : Closes::by_hand;
}

/// Such things on an element: a device, the cut-out of a reel, the protection in a motor.
bool has_one(const plan::Element& e, Part part) {
    if (part == Part::cable)
        return e.cable && (e.cable->reel.stated_unknown ||
                           (e.cable->reel.known() && !e.cable->reel.is(plan::Reel::none)));
    if (const auto* load = e.as<plan::Load>()) return turns(*load);
    return e.kind == plan::Kind::device;
}

Outcome judge_load(const Situation& s, Index i, Part part, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    const Closes how = closes(s.plan[i], part);
    Outcome o;
    o.at = at_element(i);
    o.part = part;
    o.basis = s.nec() && i == load ? Basis::standard : Basis::practice;
    // A release below holds the tool back; what is in the tool itself sits behind its own release.
    const bool held = i != load && released_below(s, i, load);
    if (how == Closes::by_hand || !turns(what) || what.latched.is(false) || held) return o;
    const Known cuts = starts_and_cuts(what);
    if (how == Closes::open) {
        if (cuts == Known::no) return o;
        return undecided(o.at, part, ask_reset);
    }
    if (cuts == Known::open) return undecided(o.at, part, ask_load);
    o.verdict = cuts == Known::yes ? Verdict::fail : Verdict::caution;
    o.variant = cuts == Known::yes ? starts_cutter : starts_extractor;
    return o;
}

/// Loads that a cut-out starts: the load it sits in, or all below.
std::vector<Index> concerned(const Situation& s, Index i, Part part) {
    if (part == Part::whole && s.plan[i].kind == plan::Kind::load) return {i};
    return loads_below(s, i);
}

Index load_of(const Situation& s, const Outcome& o) {
    for (const Index load : concerned(s, o.at.index, o.part))
        if (judge_load(s, o.at.index, o.part, load).variant == o.variant) return load;
    return plan::nowhere;
}

Outcome judge_cut_out(const Situation& s, Index i, Part part) {
    Outcome worst;
    worst.at = at_element(i);
    worst.part = part;
    worst.basis = Basis::practice;
    if (closes(s.plan[i], part) == Closes::by_hand) return worst;
    for (const Index load : concerned(s, i, part)) {
        const Outcome o = judge_load(s, i, part, load);
        if (o.verdict > worst.verdict) worst = o;
    }
    return worst;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        for (const Part part : {Part::whole, Part::cable})
            if (has_one(s.plan[i], part)) yield.outcomes.push_back(judge_cut_out(s, i, part));
    return yield;
}

/// "the cut-out of the reel", "device b16", "the overload protection in the saw".
std::string cut_out(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    if (o.part == Part::cable) return "the cut-out of the reel of " + element.words();
    return element.kind == plan::Kind::load ? "the overload protection in " + element.words()
                                            : element.words();
}

struct Asked {
    Span span;
    std::string path;
};
Asked asked(const plan::Element& e, Part part) {
    if (part == Part::cable) return {place_of(e.cable->cutout.span, e), e.path() + ".cable.cutout"};
    if (const auto* device = e.as<plan::Device>())
        return {place_of(device->reset.span, e), e.path() + ".reset"};
    return {place_of(e.as<plan::Load>()->overload.span, e), e.path() + ".overload"};
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const Asked what = asked(s.plan[o.at.index], o.part);
    if (o.variant == ask_reset)
        return ask_for_rating(s, o, what.span, what.path,
                              "When " + cut_out(s, o) + " has opened by heat, does it close again by itself?",
                              "the manual; a red button to press means by hand");
    return ask_whether_it_catches(s, o, load_of(s, o));
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    Explanation e;
    e.place = {asked(s.plan[o.at.index], o.part).span, ""};
    const std::string what = cut_out(s, o);
    if (o.variant == harmless) {
        e.headline = capital(what) + " starts nothing that cuts or catches";
        return e;
    }
    const std::string load = s.plan[load_of(s, o)].words();
    e.headline = capital(what) + " closes again by itself when it has cooled, and " + load + " starts";
    e.short_words = load + " starts by itself when " + what + " has cooled";
    e.place.text = "closes by itself";
    e.consequence =
        o.variant == starts_cutter
            ? "It stopped by itself, somebody looks for the reason with a hand at the blade, and it "
              "starts."
            : "It starts while somebody clears its hose or its impeller.";
    e.remedies = {{Cost::free, "when a tool stops by itself: pull its plug before you look for the reason"}};
    if (o.variant == starts_cutter)
        e.remedies.push_back(
            s.plan[o.at.index].kind == plan::Kind::load
                ? Remedy{Cost::moderate, "a motor whose protection is reset by hand"}
                : Remedy{Cost::cheap, "a release (no_volt = true) below it, before " + load});
    if (s.nec() && s.plan[o.at.index].kind == plan::Kind::load)
        cite_fact(s, e, "nec-430-32", "no_self_restart");
    return e;
}

}  // namespace

const Rule rule{.id = "restart.self-reset",
                .title = "a cut-out closes by itself and starts a tool",
                .harm = Harm::restart,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::self_reset
