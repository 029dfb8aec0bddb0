// restart.stop-misses-cutter: an emergency stop leaves a tool running that can cut or catch, or opens what
// its brake needs.
#include <algorithm>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::stop_misses_cutter {
namespace {

enum Variant : std::uint8_t {
    all_stop,
    standing_left,
    other_stops_it,
    hand_left,
    ask_form,
    ask_cutter,
    brake_dead
};

/// Another emergency stop acts on the load.
bool another_stops_it(const Situation& s, const std::vector<Stop>& stops, const Stop& but, Index load) {
    return std::any_of(stops.begin(), stops.end(), [&](const Stop& other) {
        return other.element != but.element && acts_on(s, other, load);
    });
}

/// What a stop does about one load.
Outcome judge_load(const Situation& s, const std::vector<Stop>& stops, const Stop& stop, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    Outcome o;
    o.at = at_element(stop.element);
    o.basis = s.plan.site.use.is(plan::Use::dwelling) ? Basis::practice : Basis::standard;
    const Known cuts = starts_and_cuts(what);
    if (cuts == Known::no || acts_on(s, stop, load)) return o;
    const auto caution = [&](Variant variant) {
        o.verdict = Verdict::caution;
        o.variant = variant;
        return o;
    };
    if (what.form.is(plan::Form::hand)) return caution(hand_left);
    if (another_stops_it(s, stops, stop, load)) return caution(other_stops_it);
    if (!what.form.known()) return undecided(o.at, Part::whole, ask_form);
    if (cuts == Known::open) return undecided(o.at, Part::whole, ask_cutter);
    o.verdict = Verdict::fail;
    o.variant = standing_left;
    return o;
}

Outcome judge_stop(const Situation& s, const std::vector<Stop>& stops, const Stop& stop) {
    Outcome worst;
    worst.at = at_element(stop.element);
    worst.basis = s.plan.site.use.is(plan::Use::dwelling) ? Basis::practice : Basis::standard;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::load) continue;
        const Outcome o = judge_load(s, stops, stop, i);
        if (o.verdict > worst.verdict) worst = o;
    }
    return worst;
}

/// Loads for which a stop comes to the same verdict for the same reason, in the order of the plan.
std::vector<Index> loads_of(const Situation& s, const Outcome& o) {
    const std::vector<Stop> stops = emergency_stops(s);
    const auto stop =
        std::find_if(stops.begin(), stops.end(), [&](const Stop& one) { return one.element == o.at.index; });
    std::vector<Index> loads;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::load && judge_load(s, stops, *stop, i).variant == o.variant)
            loads.push_back(i);
    return loads;
}

/// What takes the supply from a load and with it from its brake: stops, switches and residual devices.
std::vector<Index> opened_before(const Situation& s, Index load) {
    std::vector<Index> found;
    for (const Stop& stop : emergency_stops(s))
        if (acts_on(s, stop, load) && !s.network.hangs_below(load, stop.element))
            found.push_back(stop.element);
    for (Index up = s.plan[load].parent; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* device = s.plan[up].as<plan::Device>();
        if (s.plan[up].as<plan::Switch>() || (device && residual_part(s, *device) == Known::yes))
            found.push_back(up);
    }
    return found;
}

bool brake_needs_supply(const plan::Load& load) {
    return load.brake.is(plan::Brake::needs_supply) && !load.cutter.is(false);
}

Yield look(const Situation& s) {
    Yield yield;
    const std::vector<Stop> stops = emergency_stops(s);
    for (const Stop& stop : stops)
        if (stop.known && opens_something(s, stop))  // else restart.stop-without-effect speaks
            yield.outcomes.push_back(judge_stop(s, stops, stop));
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* load = s.plan[i].as<plan::Load>();
        if (!load || !brake_needs_supply(*load) || opened_before(s, i).empty()) continue;
        Outcome o;
        o.at = at_element(i);
        o.basis = Basis::practice;
        o.verdict = Verdict::caution;
        o.variant = brake_dead;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain_brake(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const std::string name = element.words();
    const std::vector<Index> before = opened_before(s, o.at.index);
    Explanation e;
    e.place = {place_of(element.as<plan::Load>()->brake, element), "the brake needs supply"};
    e.headline = "When " + list(s, before) + (before.size() > 1 ? " open" : " opens") + ", the brake of " +
                 name + " has no supply and the blade runs down without it";
    e.short_words = name + " runs down without its brake";
    for (const Index i : before) e.related.push_back({s.plan[i].header, "takes the supply from the brake"});
    e.consequence = "Whoever stops it in an emergency waits longest for the blade to stop.";
    e.remedies = {
        {Cost::free, "stop " + name +
                         " at the switch on the machine, and write the run-down time beside every other one"},
        {Cost::moderate, "a brake that acts when supply is lost"}};
    return e;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const Index load = loads_of(s, o).front();
    const plan::Element& element = s.plan[load];
    if (o.variant == ask_cutter) return ask_whether_it_catches(s, o, load);
    return ask_for_rating(s, o, place_of(element.as<plan::Load>()->form, element), element.path() + ".form",
                          "Is " + element.words() + " held in the hands or a standing machine? " +
                              capital(s.plan[o.at.index].words()) + " leaves it running",
                          "held in the hands at work, or standing on legs, a stand or the bench");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == brake_dead) return explain_brake(s, o);
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<plan::Switch>();
    const std::string name = element.words();
    Explanation e;
    e.place = {sw.stops.written() ? sw.stops.span : element.header, ""};
    if (o.variant == all_stop) {
        e.headline = capital(name) + " leaves no tool running that stays on by itself and can cut or catch";
        return e;
    }
    const std::vector<Index> left = loads_of(s, o);
    const std::string tools = list(s, left);
    for (const Index load : left) e.related.push_back({s.plan[load].header, "goes on running"});
    e.headline = capital(name) + " leaves " + tools + " running";
    e.short_words = name + " leaves " + tools + " running";
    if (o.variant == standing_left) {
        e.consequence = "Whoever is caught there, or sees it, hits the red button and the blade goes on.";
        e.remedies = {{Cost::free, "for now: a sign at the button that names what it does not stop"},
                      {Cost::moderate, "feed " + tools + " through a contactor that " + name + " drops out"}};
        if (const tables::Table* table = s.tables.table("iec-60204-1"))
            if (const auto* fact = table->fact("emergency_stop"); fact && !s.nec())
                e.sources.push_back(table->cite(*fact));
    } else if (o.variant == other_stops_it) {
        e.headline += "; another emergency stop stops " + std::string(left.size() > 1 ? "them" : "it");
        e.consequence =
            "In an emergency nobody reads: whoever hits the nearest button expects everything to stop.";
        e.remedies = {{Cost::free, "write at each button which machines it stops"},
                      {Cost::moderate, "let each of them drop out every contactor"}};
    } else {
        e.headline += ", held in the hands";
        e.consequence = "It runs on in the hands or on the bench after the button was hit.";
        e.remedies = {{Cost::free, "tools without a lock on their trigger"},
                      {Cost::moderate, "outlets for them behind the contactor that " + name + " drops out"}};
    }
    return e;
}

}  // namespace

const Rule rule{.id = "restart.stop-misses-cutter",
                .title = "an emergency stop leaves a tool running",
                .harm = Harm::restart,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::stop_misses_cutter
