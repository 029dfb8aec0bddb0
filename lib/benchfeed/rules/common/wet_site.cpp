// shock.wet-site: water where the bench stands, and parts or an earthing that are not made for it.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/figures/residual_practice.hpp>
#include <benchfeed/figures/wet_places.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::wet_site {
namespace {

constexpr std::uint8_t good = 0, open_part = 1, unprotected = 2, us_covers = 3, outbuilding = 4, ask_ip = 5,
                       ask_residual = 6, ask_earthing = 7;

bool is_damp(const Situation& s) {
    return s.plan.site.wet.is(plan::Wet::damp) || s.plan.site.wet.is(plan::Wet::wet);
}

const plan::Field<std::string>* ip_of(const plan::Element& e) {
    if (const auto* outlet = e.as<plan::Outlet>()) return &outlet->ip;
    if (const auto* box = e.as<plan::Box>()) return &box->ip;
    return nullptr;
}

/// Both digits of "IP44", "IP 54", "IPX4"; an X was not tested and stands as nothing. Nothing at all where it
/// is no IP code.
struct Tightness {
    std::optional<int> dust, water;
};
std::optional<Tightness> tightness_of(std::string_view code) {
    if (!code.starts_with("IP")) return std::nullopt;
    code.remove_prefix(2);
    while (code.starts_with(' ')) code.remove_prefix(1);
    const auto is_mark = [](char c) { return (c >= '0' && c <= '9') || c == 'X'; };
    if (code.size() < 2 || !is_mark(code[0]) || !is_mark(code[1])) return std::nullopt;
    const auto digit = [](char c) { return c == 'X' ? std::nullopt : std::optional(c - '0'); };
    return Tightness{digit(code[0]), digit(code[1])};
}

std::string_view least_ip(const Situation& s) {
    return figures::wet_places::ip(s.tables).value;
}

/// Whether a part is tight enough; open where its code is not known or cannot be read.
Known tight(const Situation& s, const plan::Field<std::string>& ip) {
    const auto least = tightness_of(least_ip(s));
    const auto here = ip.known() ? tightness_of(*ip) : std::nullopt;
    if (!least || !here) return Known::open;
    if ((here->dust && *here->dust < *least->dust) || (here->water && *here->water < *least->water))
        return Known::no;
    return here->dust && here->water ? Known::yes : Known::open;
}

/// Parts of the bench with an IP code, a tool's own socket left out.
std::vector<Index> parts(const Situation& s) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (ip_of(s.plan[i]) && !s.network.house[i] && !is_tool_socket(s, i)) found.push_back(i);
    return found;
}

Outcome decided(At at, std::uint8_t variant, Verdict verdict, Basis basis) {
    Outcome o;
    o.at = at;
    o.variant = variant;
    o.verdict = verdict;
    o.basis = basis;
    return o;
}

/// Parts that are too open each; those that nobody told in one question.
void look_at_parts(Yield& yield, const Situation& s) {
    bool any = false;
    for (const Index i : parts(s)) {
        const Known one = tight(s, *ip_of(s.plan[i]));
        any = true;
        if (one == Known::no)
            yield.outcomes.push_back(decided(at_element(i), open_part, Verdict::fail, Basis::practice));
        if (one != Known::open) continue;
        yield.outcomes.push_back(undecided(at_element(i), Part::whole, ask_ip));
        yield.outcomes.back().fold = fold_of(ask_ip);
    }
    if (any && yield.outcomes.empty())
        yield.outcomes.push_back(decided(At{}, good, Verdict::ok, Basis::practice));
}

/// Loads that are wired on without an outlet: shock.no-residual-protection looks at outlets.
void look_at_wired_loads(Yield& yield, const Situation& s) {
    const auto practice = residual_practice(s);
    if (!practice) return yield.cannot_judge(At{}, Part::whole, practice.missing());
    for (const network::LoadPoint& point : s.network.loads) {
        const Index parent = s.plan[point.element].parent;
        if (s.plan[parent].kind == plan::Kind::outlet) continue;
        const Known one = residual_protection(s, point.element, *practice).by;
        if (one == Known::no)
            yield.outcomes.push_back(
                decided(at_element(point.element), unprotected, Verdict::fail, Basis::recommendation));
        if (one == Known::open)
            yield.outcomes.push_back(undecided(at_element(point.element), Part::whole, ask_residual));
    }
}

/// Earthing that a region does not want to be led into an outbuilding without thought.
void look_at_outbuilding(Yield& yield, const Situation& s) {
    if (!s.plan.site.room.is(plan::Room::outbuilding)) return;
    const auto region = figures::residual_practice::at(s.tables, s.practice().region);
    if (!region) return yield.cannot_judge(At{}, Part::whole, region.missing());
    const std::string_view named = region->outbuilding_earthing();
    if (named.empty()) return;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* supply = s.plan[i].as<plan::Supply>();
        if (!supply || s.plan[i].children.empty()) continue;
        if (!supply->earthing.known())
            yield.outcomes.push_back(
                decided(at_element(i), ask_earthing, Verdict::caution, Basis::recommendation));
        else if (supply->earthing.word() == named)
            yield.outcomes.push_back(
                decided(at_element(i), outbuilding, Verdict::caution, Basis::recommendation));
    }
}

Yield look(const Situation& s) {
    Yield yield;
    if (is_damp(s)) {
        if (s.nec())
            yield.outcomes.push_back(decided(At{}, us_covers, Verdict::caution, Basis::practice));
        else
            look_at_parts(yield, s);
        look_at_wired_loads(yield, s);
    }
    look_at_outbuilding(yield, s);
    return yield;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == ask_residual)
        return ask_for_rating(s, o, element.header, "",
                              "Is " + element.words() +
                                  " behind a residual current device, and at how many "
                                  "milliamperes does it trip?",
                              source_place(s, o.at.index) + ": a device with a button marked T or TEST");
    std::vector<std::string> names;
    for (const Index i : parts(s))
        if (tight(s, *ip_of(s.plan[i])) == Known::open) names.push_back(s.plan[i].words());
    return ask_for_rating(s, o, place_of(*ip_of(element), element), element.path() + ".ip",
                          "What is the IP code of " + list(names) + "? A damp place needs " +
                              std::string(least_ip(s)) + " at least",
                          "the IP code printed on each");
}

Explanation explain_earthing(const Situation& s, const Outcome& o) {
    const plan::Element& supply = s.plan[o.at.index];
    const auto& earthing = supply.as<plan::Supply>()->earthing;
    Explanation e;
    e.place = {place_of(earthing, supply), ""};
    e.consequence =
        "If the common conductor in the street breaks, the metal of the tools is at a voltage "
        "against the wet ground.";
    e.remedies = {{Cost::electrician,
                   "an earth electrode at the outbuilding (TT) with its own residual current "
                   "device, or the distributor's consent"}};
    if (o.variant == outbuilding) {
        e.headline = "The earth of " + supply.words() + " (" + std::string(earthing.word()) +
                     ") is led into an outbuilding";
        return e;
    }
    e.headline = "How " + supply.words() + " is earthed is not known, and the bench is in an outbuilding";
    e.questions.push_back({supply.path() + ".earthing", "How is the outbuilding earthed?",
                           "the test report, or an electrician"});
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    if (o.variant == outbuilding || o.variant == ask_earthing) return explain_earthing(s, o);
    const auto& wet = s.plan.site.wet;
    const Span site = wet.span.nowhere() ? s.plan.site.header : wet.span;
    Explanation e;
    e.place = {site, std::string(wet.word())};
    if (o.variant == good) {
        e.headline = "Outlets and boxes are made for a damp place";
        return e;
    }
    e.consequence = "Water gets to live parts, and wet skin lets through many times the current.";
    if (o.variant == us_covers) {
        e.headline = "The place is " + std::string(wet.word()) +
                     ": outlets and boxes there need covers that are listed for it, which no plan shows";
        e.remedies = {{Cost::cheap, "covers marked for damp or wet locations, good with the plug in"}};
        return e;
    }
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == unprotected) {
        e.headline = capital(element.words()) + " is in a " + std::string(wet.word()) +
                     " place, and nothing before it trips at a residual current";
        e.short_words =
            element.words() + " has no residual protection in a " + std::string(wet.word()) + " place";
        e.place = {element.header, ""};
        e.remedies = {{Cost::electrician, "a residual current device before it"}};
        return e;
    }
    e.headline = fmt::format("{} is {}; a {} place needs {}", capital(element.words()), **ip_of(element),
                             wet.word(), least_ip(s));
    e.short_words = element.words() + " is not made for a " + std::string(wet.word()) + " place";
    e.place = {place_of(*ip_of(element), element), ""};
    e.sources.push_back(figures::wet_places::ip(s.tables).source);
    e.remedies = {{Cost::free, "move the bench to a dry place"},
                  {Cost::cheap, fmt::format("outlets with a flap and boxes of {} or better", least_ip(s))}};
    return e;
}

}  // namespace

const Rule rule{.id = "shock.wet-site",
                .title = "parts or an earthing that are not made for a wet place",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::wet_site
