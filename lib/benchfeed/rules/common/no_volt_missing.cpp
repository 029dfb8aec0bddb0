// restart.no-volt-missing: a tool that was running when the supply failed starts by itself when it returns.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/open_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules::no_volt_missing {
namespace {

constexpr std::uint8_t released = 0, latched_cutter = 1, latched_other = 2, asked = 3;

enum class Release : std::uint8_t { none, there, unknown };

/// A no-volt release anywhere from the supply to the load, or in the load itself.
Release release_of(const Situation& s, Index load, Index* unknown_at) {
    const auto& own = s.plan[load].as<plan::Load>()->no_volt;
    if (own.is(true)) return Release::there;
    Release result = own.stated_unknown ? Release::unknown : Release::none;
    if (own.stated_unknown) *unknown_at = load;
    for (Index up = s.plan[load].parent; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* sw = s.plan[up].as<plan::Switch>();
        if (!sw) continue;
        if (sw->no_volt.is(true)) return Release::there;
        if (sw->no_volt.stated_unknown) {
            result = Release::unknown;
            *unknown_at = up;
        }
    }
    return result;
}

Outcome judge_load(const Situation& s, Index i) {
    const auto& load = *s.plan[i].as<plan::Load>();
    Outcome o;
    o.at = at_element(i);
    o.basis = s.plan.site.use.is(plan::Use::dwelling) ? Basis::practice : Basis::standard;
    // A drill's trigger, or a tool that cannot cut or catch and does not stay on by itself.
    const bool latched_unknown = !load.latched.known();
    const bool cutter_unknown = load.cutter.stated_unknown;
    const bool cutter = load.cutter.is(true);
    Index unknown_at = plan::nowhere;
    const Release release = release_of(s, i, &unknown_at);
    if (release == Release::there || load.latched.is(false) ||
        (!cutter && !cutter_unknown && latched_unknown))
        return o;
    if (cutter && load.latched.is(true) && release == Release::none) {
        o.verdict = Verdict::fail;
        o.variant = latched_cutter;
        return o;
    }
    // Whether it stays on, can cut, or has a release is not known.
    if (cutter || cutter_unknown) return undecided(o.at, Part::whole, asked);
    o.verdict = Verdict::caution;
    o.basis = Basis::practice;
    o.variant = latched_other;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& point : s.network.loads) {
        const auto& load = *s.plan[point.element].as<plan::Load>();
        if (load.kind.is(plan::LoadKind::light) || load.kind.is(plan::LoadKind::charger)) continue;
        if (load.motor.is(plan::Motor::none) && !load.cutter.is(true))
            continue;  // a heater cannot catch anybody
        yield.outcomes.push_back(judge_load(s, point.element));
    }
    return yield;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& load = *element.as<plan::Load>();
    Index unknown_at = plan::nowhere;
    (void)release_of(s, o.at.index, &unknown_at);
    if (load.cutter.stated_unknown)
        return ask_for_rating(s, o, load.cutter.span, element.path() + ".cutter",
                              "Can " + element.words() + " cut or catch somebody when it starts by itself?",
                              "what turns, and who works there");
    if (!load.latched.known()) {
        const Question ask_latched = question_of(s, {plan::Fact::latched, o.at.index});
        return ask_for_rating(s, o, place_of(load.latched, element), ask_latched.path, ask_latched.ask,
                              ask_latched.look);
    }
    const plan::Element& at = s.plan[unknown_at];
    const auto* sw = at.as<plan::Switch>();
    return ask_for_rating(s, o, sw ? sw->no_volt.span : load.no_volt.span, at.path() + ".no_volt",
                          "Does " + at.words() + " drop out when the supply fails, and stay out?",
                          "pull the plug while it is on, plug in again: does it come back?");
}

/// It closes because another tool or a radio says so: closed by hand after every power cut it would be none.
bool closes_from_afar(const plan::Switch& sw) {
    return sw.kind.is(plan::SwitchKind::current_sensing) || sw.kind.is(plan::SwitchKind::remote) ||
           sw.kind.is(plan::SwitchKind::timer);
}

/// The nearest switch before the load that a person closes.
Index nearest_switch(const Situation& s, Index load) {
    Index up = s.plan[load].parent;
    while (up != plan::nowhere && !s.plan[up].as<plan::Switch>()) up = s.plan[up].parent;
    if (up == plan::nowhere || !closes_from_afar(*s.plan[up].as<plan::Switch>())) return up;
    return nearest_switch(s, up);
}

/// The nearest one of those that something else closes; nowhere where a person's stands nearer.
Index switch_from_afar(const Situation& s, Index load) {
    for (Index up = s.plan[load].parent; up != plan::nowhere; up = s.plan[up].parent)
        if (const auto* sw = s.plan[up].as<plan::Switch>()) return closes_from_afar(*sw) ? up : plan::nowhere;
    return plan::nowhere;
}

/// The nearest switch before the load, if the plan has one, becomes a release.
std::vector<Change> release_at_its_switch(const Situation& s, Index load) {
    const Index at = nearest_switch(s, load);
    if (at == plan::nowhere) return {};
    return {{s.plan[at].path() + ".no_volt", "true"}};
}

/// ", with a motor rating of at least 9 A": what the switch is asked for by any finding.
std::string motor_rating_words(const Situation& s, Index load) {
    const Index at = nearest_switch(s, load);
    const Index through = at == plan::nowhere ? load : at;
    if (!s.network.loads[s.network.load_of[load]].known()) return "";
    const Current motors = switch_fit(s, through).motors;
    return motors > Current{} ? ", with a motor rating of at least " + to_text(motors) : "";
}

/// Out and back the coil asks for a core that the cable seldom has; in line all live cores pass by it.
std::optional<Remedy> release_in_line(const Situation& s, Index load, const std::string& rating) {
    const Index at = nearest_switch(s, load);
    if (at == plan::nowhere) return std::nullopt;
    const plan::Element& element = s.plan[at];
    const auto& sw = *element.as<plan::Switch>();
    if (!sw.wiring.is(plan::Wiring::loop) || !element.conductors.known()) return std::nullopt;
    std::vector<Change> changes{{element.path() + ".wiring", "in line"},
                                {element.path() + ".no_volt", "true"},
                                {element.path() + ".poles", std::to_string(element.conductors->live())}};
    if (sw.opens.written()) changes.push_back({element.path() + ".opens", ""});
    return Remedy{Cost::moderate,
                  "wire " + element.words() +
                      " in line, with what it feeds beside it, and fit one with no-volt "
                      "release that opens every live core" +
                      rating,
                  std::move(changes)};
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const auto& load = *element.as<plan::Load>();
    const std::string name = element.words();
    Explanation e;
    e.place = {place_of(load.latched, element), ""};
    if (o.variant == released) {
        e.headline = capital(name) + " does not start by itself after a power cut";
        return e;
    }
    e.headline = capital(name) + " stays switched on through a power cut, and nothing between it and " +
                 source_place(s, o.at.index) + " drops out";
    e.short_words = name + " restarts by itself after a power cut";
    e.place.text =
        load.latched.assumed() ? "its switch is taken to stay on (assumed)" : "its switch stays on";
    e.consequence = o.variant == latched_cutter ? "When the supply returns, or somebody resets the breaker, "
                                                  "it starts with whoever's hands are there."
                                                : "When the supply returns it starts by itself.";
    const std::string rating = motor_rating_words(s, o.at.index);
    const Index afar = switch_from_afar(s, o.at.index);
    const std::string before =
        afar == plan::nowhere ? "its outlet" : s.plan[afar].words() + ", which then goes on starting it";
    e.remedies = {
        {Cost::free, "for now: after any power cut or trip, switch off every tool before the supply returns"},
        {Cost::cheap, "a switch with no-volt release (no_volt = true), before " + before + rating,
         release_at_its_switch(s, o.at.index)}};
    if (auto remedy = release_in_line(s, o.at.index, rating)) e.remedies.push_back(*std::move(remedy));
    cite_fact(s, e, std::string_view(s.nec() ? "osha-woodworking" : "iec-60204-1"), "no_restart");
    return e;
}

}  // namespace

const Rule rule{.id = "restart.no-volt-missing",
                .title = "a tool starts by itself when the supply returns",
                .harm = Harm::restart,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::no_volt_missing
