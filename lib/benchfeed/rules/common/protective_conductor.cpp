// shock.protective-conductor: the earth is missing, interrupted, too thin, or metal is not joined to it.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/leaks.hpp>
#include <benchfeed/rules/least_protective.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::protective_conductor {
namespace {

constexpr std::uint8_t tested = 0, supply_without = 1, combined = 2, outlet_without = 3, untested = 4,
                       no_core = 5, thin = 6, opened = 7, unbonded_with_wiring = 8, unbonded_alone = 9,
                       ask_outlet = 10, ask_conduit = 11, ask_section = 12, ask_bonded = 13, ask_wiring = 14,
                       bonded = 15, thick_enough = 16, ask_table = 17, much_current = 18, no_row = 19;

using plan::Kind;

Outcome decided(At at, Part part, std::uint8_t variant, Verdict verdict) {
    Outcome o;
    o.at = at;
    o.part = part;
    o.basis = Basis::standard;
    o.variant = variant;
    o.verdict = verdict;
    return o;
}

/// Something below this element relies on the earth: an outlet, into which any tool may be plugged one day,
/// or what is wired on and not double insulated.
bool earth_is_needed(const Situation& s, Index i) {
    if (feeds_outlets(s, i)) return true;
    if (const auto* load = s.plan[i].as<plan::Load>())
        return !load->protection_class.is(plan::ProtectionClass::ii);
    return std::any_of(s.plan[i].children.begin(), s.plan[i].children.end(),
                       [&](Index child) { return earth_is_needed(s, child); });
}

// ---- supplies and outlets -------------------------------------------------------------------------

void look_at_supply(Yield& yield, const Situation& s, Index i) {
    const auto& earthing = s.plan[i].as<plan::Supply>()->earthing;
    if (s.plan[i].children.empty()) return;
    if (earthing.is(plan::Earthing::none))
        yield.outcomes.push_back(decided(at_element(i), Part::whole, supply_without, Verdict::fail));
    if (earthing.is(plan::Earthing::tn_c))
        yield.outcomes.push_back(decided(at_element(i), Part::whole, combined, Verdict::fail));
}

void look_at_outlet(Yield& yield, const Situation& s, Index i) {
    const auto& outlet = *s.plan[i].as<plan::Outlet>();
    const bool at_the_wall = s.network.house[i];
    const auto say = [&](std::uint8_t variant, Verdict verdict) {
        yield.outcomes.push_back(decided(at_element(i), Part::whole, variant, verdict));
    };
    if (!network::may_have_earth(outlet, s.tables)) return say(outlet_without, Verdict::fail);
    // What the builder wires is seen in the cables; what was in the wall has to be told.
    if (outlet.earth.stated_unknown || (at_the_wall && !outlet.earth.known()))
        return say(ask_outlet, Verdict::cannot_judge);
    if (!at_the_wall) return;
    if (outlet.earth.is(plan::Earth::present)) return say(untested, Verdict::caution);
    say(tested, Verdict::ok);
}

// ---- cables ---------------------------------------------------------------------------------------

tables::Found<std::optional<Outcome>> judge_cable(const Situation& s, Index i) {
    const plan::Stock& stock = *stock_of(s, i);
    const At at = at_element(i);
    if (!stock.protective.value_or(true)) {
        const auto& method = s.plan[i].cable->method;
        if (s.nec() && (method.is(plan::Method::conduit) || method.stated_unknown))  // which may earth it
            return std::optional(undecided(at, Part::cable, ask_conduit));
        return std::optional(decided(at, Part::cable, no_core, Verdict::fail));
    }
    if (s.network.house[i]) return std::optional<Outcome>();  // its section is as found
    if (stock.protective_section.stated_unknown)
        return std::optional(undecided(at, Part::cable, ask_section));
    if (!stock.protective_section.written()) return std::optional<Outcome>();  // as its construction has it
    const auto found = least_protective(s, i);
    if (!found) return found.missing();
    const std::optional<LeastProtective>& least = *found;
    if (!least || !stock.protective_section.known()) return std::optional<Outcome>();
    const bool fails = thinner(*stock.protective_section, least->section);
    Outcome o = decided(at, Part::cable, fails ? thin : thick_enough, fails ? Verdict::fail : Verdict::ok);
    o.ground.grade = least->source.grade;
    if (!fails && !o.ground.carries_ok()) return std::optional(undecided(at, Part::cable, ask_table));
    return std::optional(o);
}

/// One stock is told once: it is the same cable in every run.
void look_at_cables(Yield& yield, const Situation& s) {
    for (const Index i : s.network.order) {
        const plan::Stock* stock = cable_is_judged(s, i) ? stock_of(s, i) : nullptr;
        if (!stock || !earth_is_needed(s, i)) continue;
        const auto judged = judge_cable(s, i);
        const Index stock_index = s.plan[i].cable->stock_index;
        if (!judged) {
            yield.cannot_judge(at_element(i), Part::cable, judged.missing());
            yield.outcomes.back().fold = fold_of(no_row, stock_index);
        } else if (*judged) {
            yield.outcomes.push_back(**judged);
            yield.outcomes.back().fold = fold_of((*judged)->variant, stock_index);
        }
    }
}

// ---- what opens, and metal ------------------------------------------------------------------------

const plan::Field<plan::Conductors>* opens_of(const plan::Element& e) {
    if (const auto* sw = e.as<plan::Switch>()) return &sw->opens;
    if (const auto* device = e.as<plan::Device>()) return &device->opens;
    return nullptr;
}

void look_at_metal(Yield& yield, const Situation& s, Index i) {
    const plan::MetalPart& metal = s.plan.metals[i];
    const At at{At::Kind::metal, i};
    const bool joined = metal.bonded.known() && *metal.bonded != "no";
    if (joined) {
        yield.outcomes.push_back(decided(at, Part::whole, bonded, Verdict::ok));
    } else if (!metal.bonded.known()) {
        // Without wiring on it the worst is a caution.
        const bool alone = metal.carries_wiring.is(false);
        yield.outcomes.push_back(alone ? decided(at, Part::whole, ask_bonded, Verdict::caution)
                                       : undecided(at, Part::whole, ask_bonded));
    } else if (!metal.carries_wiring.known()) {
        yield.outcomes.push_back(undecided(at, Part::whole, ask_wiring));
    } else {
        const bool wiring = *metal.carries_wiring;
        yield.outcomes.push_back(decided(at, Part::whole, wiring ? unbonded_with_wiring : unbonded_alone,
                                         wiring ? Verdict::fail : Verdict::caution));
    }
}

// ---- current that flows while all is well -----------------------------------------------------------

/// The most that a plug may carry to earth, for plugs of other patterns than the table names.
std::optional<tables::Figure<Current>> most_on(const Situation& s, Index plug) {
    const tables::Table* limits = s.nec() ? nullptr : s.tables.table("iec-543-7");
    const tables::Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns ? patterns->row_of("pattern", *s.plan[plug].plug) : std::nullopt;
    if (!limits || !row || patterns->text(*row, "system") == limits->text("plug")) return std::nullopt;
    return limits->current("most_on_a_plug");
}

bool plug_above(const Situation& s, Index i) {
    for (Index up = s.plan[i].parent; up != plan::nowhere; up = s.plan[up].parent)
        if (s.plan[up].plug.known()) return true;
    return false;
}

/// The plug nearest the supply carries the sum; one finding for each set that leaks too much.
void look_at_plug(Yield& yield, const Situation& s, Index i, const LoadsOfSets& sets) {
    if (!s.plan[i].plug.known() || s.plan[i].kind == Kind::load || plug_above(s, i)) return;
    const auto most = most_on(s, i);
    if (!most) return;
    for (const auto& [set, loads] : sets.behind(i)) {
        const Leak leak = leak_behind(s, i, loads);
        if (!above(leak.sum, most->value)) continue;
        Outcome o = decided(at_element(i), Part::plug, much_current, Verdict::caution);
        o.set = set;
        o.value = leak.sum;
        o.caution = most->value;
        yield.outcomes.push_back(o);
    }
}

Yield look(const Situation& s) {
    Yield yield;
    const LoadsOfSets sets(s);
    for (const Index i : s.network.order) {
        look_at_plug(yield, s, i, sets);
        const plan::Element& e = s.plan[i];
        if (e.kind == Kind::supply) look_at_supply(yield, s, i);
        if (e.kind == Kind::outlet && !is_tool_socket(s, i)) look_at_outlet(yield, s, i);
        if (const auto* opens = opens_of(e); opens && opens->known() && (*opens)->has(plan::Conductor::pe))
            yield.outcomes.push_back(decided(at_element(i), Part::whole, opened, Verdict::fail));
    }
    look_at_cables(yield, s);
    for (Index i = 0; i < s.plan.metals.size(); ++i) look_at_metal(yield, s, i);
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------

const std::string dead_metal =
    "After a fault the metal of a tool stays live, and whoever touches it and "
    "something earthed gets the whole voltage.";

Explanation explain_metal(const Situation& s, const Outcome& o) {
    const plan::MetalPart& metal = s.plan.metals[o.at.index];
    const std::string name = words(s, o.at, Part::whole), path = "metal." + metal.name;
    const Span at = metal.bonded.span.nowhere() ? metal.header : metal.bonded.span;
    if (o.variant == ask_bonded || o.variant == ask_wiring) {
        const bool bond = o.variant == ask_bonded;
        Explanation e = ask_for_rating(
            s, o, at, path + (bond ? ".bonded" : ".carries_wiring"),
            bond ? "Is " + name + " joined to the protective conductor, and where?"
                 : "Are wires or outlets fixed to " + name + "?",
            bond ? "follow the " + region_word(s, "earth") + " core to its screw" : "look at the part");
        return e;
    }
    Explanation e;
    e.place = {at, ""};
    if (o.variant == bonded) {
        e.headline = capital(name) + " is joined to the protective conductor";
        return e;
    }
    const bool wiring = o.variant == unbonded_with_wiring;
    e.headline = capital(name) + (wiring ? " carries wiring and is not joined to the protective conductor"
                                         : " is not joined to the protective conductor");
    e.short_words = name + " is not joined to the protective conductor";
    e.consequence = wiring ? "A chafed core makes it live, and nothing trips until somebody touches it."
                           : "A cord that is crushed under it can make it live.";
    e.remedies = {{Cost::cheap, "a " + region_word(s, "earth") +
                                    " conductor from a protective terminal to a screw on bare metal, as "
                                    "thick as the line conductors"}};
    return e;
}

/// "2.08 mm2", also of a gauge: figures that a reader can compare.
std::string square_text(Area area) {
    return digits(in(unit::mm2, area), 3) + " mm2";
}

std::vector<Step> size_steps(const Situation& s, Index i) {
    const plan::Stock& stock = *stock_of(s, i);
    const LeastProtective least = **least_protective(s, i);
    Working working;
    if (least.device) working.note("By the device of " + to_text(*least.device, 6) + " before it.");
    working.compare(working.written(square_text(stock.protective_section->area)),
                    thinner(*stock.protective_section, least.section) ? "<" : ">=",
                    working.written(square_text(least.section.area)), {network::cited(least.source)});
    return working.finish();
}

Explanation explain_cable(const Situation& s, const Outcome& o) {
    const Index i = o.at.index;
    const plan::Element& element = s.plan[i];
    const plan::Stock& stock = *stock_of(s, i);
    const std::string name = words(s, o.at, Part::cable);
    const Span at = cable_place(element);
    if (o.variant == ask_conduit)
        return ask_for_rating(s, o, at, stock.path() + ".protective",
                              "Which conductor earths what " + name + " feeds?",
                              "a " + region_word(s, "earth") +
                                  " core in the conduit; a metal conduit alone is nothing that a "
                                  "plan can tell");
    if (o.variant == ask_section)
        return ask_for_rating(
            s, o, place_of(stock.protective_section.span, element), stock.path() + ".protective_section",
            "How thick is the protective core of " + name + "?", "printed along the sheath");
    if (o.variant == ask_table) {
        const tables::Citation source = (*least_protective(s, i))->source;
        Explanation e = ask_for_rating(s, o, place_of(stock.protective_section.span, element), "",
                                       "Only memory says what " + std::string(source.source) + " (" +
                                           std::string(source.place) +
                                           ") prints: how thick must the protective core of " + name + " be?",
                                       "a copy of the standard, or an electrician");
        e.sources.push_back(source);
        return e;
    }
    Explanation e;
    e.place = {at, ""};
    if (o.variant == no_core) {
        e.headline = capital(name) + " has no protective core";
        e.short_words = name + " has no protective core";
        e.place.text = "no " + region_word(s, "earth") + " core";
        e.related.push_back({stock.header, "this stock"});
        e.consequence = dead_metal;
        e.remedies = {
            {Cost::free, "for now: leave everything behind it unplugged"},
            {cost_at(s, i, Cost::cheap),
             fmt::format("a cable with {} cores, one of them protective", element.conductors->live() + 1)}};
        return e;
    }
    e.steps = size_steps(s, i);
    e.sources.push_back((*least_protective(s, i))->source);
    const std::string least = section_text((*least_protective(s, i))->section);
    e.headline = fmt::format("The protective core of {} has {}; {} is the least", name,
                             section_text(*stock.protective_section), least);
    if (o.verdict == Verdict::ok) return e;
    e.short_words = "the protective core of " + name + " is too thin";
    e.consequence =
        "It gets hot in a fault before the device opens, and may part: then the metal stays live.";
    e.remedies = {{cost_at(s, i, Cost::cheap), "a cable whose protective core has at least " + least}};
    return e;
}

Explanation explain_outlet(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& outlet = *element.as<plan::Outlet>();
    const std::string name = element.words();
    const Span at = place_of(outlet.earth, element);
    if (o.variant == ask_outlet)
        return ask_for_rating(
            s, o, at, element.path() + ".earth", "Does " + name + " have an earth, and was it tested?",
            "a tester with a loop or low-resistance range; a lamp tester alone is fooled by a "
            "link from neutral to earth");
    Explanation e;
    e.place = {at, ""};
    switch (o.variant) {
        case tested:
            e.headline = "The earth of " + name + " was tested";
            return e;
        case untested:
            e.headline =
                capital(name) + " has an earth contact, but whether it leads anywhere was not tested";
            e.consequence = "Old circuits of two wires have earth contacts that end in the box.";
            e.remedies = {{Cost::cheap, "have it tested, and write earth = \"tested\""}};
            return e;
        default:
            e.headline = capital(name) + " has no earth";
            e.short_words = name + " has no earth";
            e.consequence = dead_metal;
            e.remedies = {
                {Cost::free, "for now: use another outlet, one with earth"},
                {Cost::electrician, "an earthed circuit; a residual current device alone is no earth"}};
    }
    return e;
}

Explanation explain_current(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const Leak leak = leak_behind(s, o.at.index, s.plan.sets[o.set].loads);
    const auto most = *most_on(s, o.at.index);
    const std::string plug = words(s, o.at, Part::plug);
    Explanation e;
    e.place = {place_of(element.plug, element), ""};
    e.headline =
        fmt::format("{}: {} may send {} to earth through {}, which is made for {}", set_words(s, o.set),
                    list(s, leak.loads), to_text(leak.sum), plug, to_text(most.value));
    e.short_words = "much current flows to earth through " + plug;
    e.consequence =
        "If its earth contact fails, the metal of every tool behind it carries that current, and "
        "whoever touches it feels it.";
    Working working;
    std::vector<Value> terms;
    std::string pattern, names;
    for (const Index load : leak.loads) {
        const auto one = *leaks(s, load);
        terms.push_back(working.written(to_text(one.value, 6)));
        pattern += pattern.empty() ? "{}" : " + {}";
        names += (names.empty() ? "" : " + ") + s.plan[load].name;
        e.sources.push_back(one.source);
    }
    working.note("Assumed: each leaks what its kind may at most.");
    const Value sum = working.add("I_PE", names, pattern, terms, "mA");
    working.compare(sum, ">", working.written(to_text(most.value, 6)), {network::cited(most.source)});
    e.steps = working.finish();
    e.sources.push_back(most.source);
    e.remedies = {{Cost::free, "run fewer machines with a drive on one plug"},
                  {Cost::electrician, "an IEC 60309 plug with a protective core of 2.5 mm2 or more"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == much_current) return explain_current(s, o);
    if (o.at.kind == At::Kind::metal) return explain_metal(s, o);
    if (o.part == Part::cable) return explain_cable(s, o);
    const plan::Element& element = s.plan[o.at.index];
    if (element.kind == Kind::outlet) return explain_outlet(s, o);
    Explanation e;
    e.consequence = dead_metal;
    const std::string name = element.words();
    if (o.variant == opened) {
        const auto& opens = *opens_of(element);
        e.place = {place_of(opens, element), "opens the protective conductor as well"};
        e.headline = capital(name) + " opens the protective conductor";
        e.short_words = name + " cuts the protective conductor";
        e.remedies = {{Cost::free, "join the protective conductor straight through, past the switch"}};
        return e;
    }
    const auto& earthing = element.as<plan::Supply>()->earthing;
    e.place = {place_of(earthing, element), ""};
    const bool none = o.variant == supply_without;
    e.headline = none ? capital(name) + " has no protective conductor"
                      : "In " + name + " neutral and earth are one conductor (TN-C) up to the outlets";
    e.short_words = none ? name + " has no protective conductor" : name + " has its earth on the neutral";
    if (!none)
        e.consequence = "If that conductor breaks, the metal of every tool is at the voltage of the line.";
    e.remedies = {{Cost::free, "for now: use an outlet of another circuit, one with an earth of its own"},
                  {Cost::electrician, "a circuit with a protective conductor of its own"}};
    return e;
}

}  // namespace

const Rule rule{.id = "shock.protective-conductor",
                .title = "the earth is missing, cut, too thin or not joined to metal",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::protective_conductor
