#include <benchfeed/rules/support.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed::rules {

using plan::Element;
using plan::Kind;
using plan::Load;
using plan::Outlet;

std::uint64_t place_key(const Outcome& outcome) {
    return (std::uint64_t{outcome.rule} << 48u) | (static_cast<std::uint64_t>(outcome.at.kind) << 40u) |
           (static_cast<std::uint64_t>(outcome.part) << 32u) | outcome.at.index;
}

std::string value_words(const Outcome& outcome) {
    return range_text(outcome.least, outcome.value);
}

bool above(double value, double edge) {
    return value > edge * (1 + rounding);
}
bool above(Current value, Current edge) {
    return above(in(unit::ampere, value), in(unit::ampere, edge));
}
bool thinner(const Section& one, const Section& other) {
    return above(in(unit::mm2, other.area), in(unit::mm2, one.area));
}

std::optional<tables::Figure<Ratio>> threshold(const Situation& s, std::string_view name) {
    const tables::Table* table = s.tables.table("thresholds");
    return table ? table->ratio(name) : std::nullopt;
}

std::optional<tables::Figure<Current>> rated(const Situation& s, const std::string& pattern) {
    const tables::Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns ? patterns->row_of("pattern", pattern) : std::nullopt;
    return row ? patterns->current(*row, "rated") : std::nullopt;
}

std::optional<tables::Figure<Current>> carried_for_hours(const Situation& s, const std::string& pattern) {
    const tables::Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns ? patterns->row_of("pattern", pattern) : std::nullopt;
    return row ? patterns->current(*row, "hours") : std::nullopt;
}

bool fused(const Situation& s, const std::string& pattern) {
    const tables::Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns ? patterns->row_of("pattern", pattern) : std::nullopt;
    return row && patterns->flag(*row, "fused").value_or(false);
}

Current amps_of(const Situation& s, Index element, const CurrentOrPower& mark) {
    if (const auto* amps = std::get_if<Current>(&mark)) return *amps;
    const auto conductors = s.plan[element].conductors.value_or(plan::Conductors{});
    return std::get<Power>(mark) / network::nominal_between(s.plan.supply_of(element), conductors);
}

std::optional<Power> watts_of(const plan::Field<CurrentOrPower>& mark) {
    const auto* watts = mark.known() ? std::get_if<Power>(&*mark) : nullptr;
    return watts ? std::optional(*watts) : std::nullopt;
}

namespace {

ContactRating of_pattern(const Situation& s, const plan::Field<std::string>& pattern) {
    ContactRating rating;
    if (!pattern.known()) return rating;
    if (const auto figure = rated(s, *pattern)) {
        rating.current = figure->value;
        rating.source = figure->source;
        rating.written = figure->written;
        rating.ground.grade = figure->source.grade;
    }
    return rating;
}

/// A mark on the part may stand alone: it is a plate figure.
void mark_of(ContactRating& rating, Current mark) {
    rating = {};
    rating.current = mark;
    rating.written = to_text(mark, 6);
}
void lower_to(ContactRating& rating, Current mark) {
    if (!rating.current || above(*rating.current, mark)) mark_of(rating, mark);
}

}  // namespace

ContactRating outlet_rating(const Situation& s, Index outlet) {
    const auto& what = *s.plan[outlet].as<Outlet>();
    ContactRating rating = of_pattern(s, what.pattern);
    if (what.rating.known()) lower_to(rating, *what.rating);
    if (what.limit.known()) lower_to(rating, amps_of(s, outlet, *what.limit));
    if (what.limit.stated_unknown) rating.current.reset();
    return rating;
}

ContactRating plug_rating(const Situation& s, Index element) {
    return of_pattern(s, s.plan[element].plug);
}
ContactRating inlet_rating(const Situation& s, Index element) {
    const Element& e = s.plan[element];
    ContactRating rating = of_pattern(s, e.inlet);
    const tables::Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns && e.inlet.known() ? patterns->row_of("pattern", *e.inlet) : std::nullopt;
    const auto here = row && s.nec() ? patterns->current(*row, "rated_us") : std::nullopt;
    if (here) {
        rating.doubt = rating.current;
        rating.current = here->value;
        rating.source = here->source;
        rating.written = here->written;
    }
    if (!e.inlet_rating.known()) return rating;
    if (!rating.current || above(*rating.current, *e.inlet_rating) || rating.doubt)
        mark_of(rating, *e.inlet_rating);
    return rating;
}

Part part_of(const network::Guard& guard) {
    return guard.plug_fuse ? Part::fuse : Part::whole;
}

bool is_tool_socket(const Situation& s, Index element) {
    const Index parent = s.plan[element].parent;
    return s.plan[element].kind == Kind::outlet && parent != plan::nowhere &&
           s.plan[parent].kind == Kind::load;
}

bool inside_a_machine(const Situation& s, Index element) {
    for (Index up = s.plan[element].parent; up != plan::nowhere; up = s.plan[up].parent)
        if (s.plan[up].kind == Kind::load) return true;
    return false;
}

bool carries_sockets(const Situation& s, Index element) {
    return s.plan[element].kind == Kind::load && !s.plan[element].children.empty();
}

bool as_sold(const Situation& s, Index element) {
    const Element& e = s.plan[element];
    return e.kind == Kind::load && !(e.cable && e.cable->own.value_or(false));
}

bool cable_is_judged(const Situation& s, Index element) {
    const Element& e = s.plan[element];
    if (!e.cable || as_sold(s, element)) return false;
    // A control cable carries a coil's current, not the loads'.
    const auto* sw = e.as<plan::Switch>();
    if (sw && sw->wiring.is(plan::Wiring::control)) return false;
    return true;
}

bool feeds_outlets(const Situation& s, Index element) {
    if (s.plan[element].kind == Kind::outlet) return true;
    return std::any_of(s.plan[element].children.begin(), s.plan[element].children.end(),
                       [&](Index child) { return feeds_outlets(s, child); });
}

int free_ways(const Situation& s, Index element) {
    const Element& e = s.plan[element];
    int free = 0;
    if (const auto* outlet = e.as<Outlet>()) {
        const auto plugged = std::count_if(e.children.begin(), e.children.end(), [&](Index child) {
            return s.plan[child].plug.known() || s.plan[child].plug.stated_unknown;
        });
        free = std::max(0, outlet->ways.value_or(1) - static_cast<int>(plugged));
    }
    for (const Index child : e.children) free += free_ways(s, child);
    return free;
}

namespace {

void add(Sum& sum, const Sum& more) {
    sum.current += more.current;
    sum.loads.insert(sum.loads.end(), more.loads.begin(), more.loads.end());
}

/// What nobody knows counts whether or not it is among the largest.
void take_over_unknown(Sum& sum, const Sum& more) {
    if (sum.unknown == plan::nowhere) sum.unknown = more.unknown;
}

/// Of things that run in turns those with most amps, of equals the first by name.
void add_largest(const Situation& s, Sum& sum, std::vector<std::pair<Index, Sum>> in_turns,
                 std::size_t at_once) {
    std::sort(in_turns.begin(), in_turns.end(), [&](const auto& a, const auto& b) {
        if (a.second.current != b.second.current) return a.second.current > b.second.current;
        return s.plan[a.first].path() < s.plan[b.first].path();
    });
    for (std::size_t i = 0; i < in_turns.size(); ++i) {
        if (i < at_once) add(sum, in_turns[i].second);
        take_over_unknown(sum, in_turns[i].second);
    }
}

/// What the ways of an outlet leave for loads once what else is plugged in has its own.
std::size_t ways_for_loads(const Situation& s, const Element& e) {
    auto ways = static_cast<std::ptrdiff_t>(e.as<Outlet>()->ways.value_or(1));
    for (const Index child : e.children)
        if (s.plan[child].kind != Kind::load && s.plan[child].plug.written()) --ways;
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(ways, 0));
}

}  // namespace

Sum all_below(const Situation& s, Index element) {
    const Element& e = s.plan[element];
    Sum sum;
    if (const Index position = s.network.load_of[element]; position != plan::nowhere) {
        const network::LoadPoint& point = s.network.loads[position];
        sum = {point.current, {element}, point.known() ? plan::nowhere : element};
    }
    const auto* sw = e.as<plan::Switch>();
    const bool positions = sw && sw->changeover.is(true), outlet = e.kind == Kind::outlet;
    std::vector<std::pair<Index, Sum>> in_turns;
    for (const Index child : e.children) {
        Sum below = all_below(s, child);
        if (positions || (outlet && s.plan[child].kind == Kind::load)) {
            in_turns.emplace_back(child, std::move(below));
        } else {
            add(sum, below);
            take_over_unknown(sum, below);
        }
    }
    add_largest(s, sum, std::move(in_turns), positions ? 1 : outlet ? ways_for_loads(s, e) : 0);
    std::sort(sum.loads.begin(), sum.loads.end());
    return sum;
}

// ---- words ----------------------------------------------------------------------------------------
std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

std::string list(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
        out += words[i];
    }
    return out;
}

std::string list(const Situation& s, const std::vector<Index>& elements) {
    std::vector<std::string> names;
    for (const Index element : elements) names.push_back(s.plan[element].words());
    return list(names);
}

std::string length_words(const Situation& s, Length length, int significant) {
    return s.nec() ? to_text_us(length, significant) : to_text(length, significant);
}

std::string cable_words(const plan::Stock& stock) {
    return fmt::format("{} {} x {}", stock.type.value_or("cable"),
                       stock.cores.known() ? std::to_string(*stock.cores) : "?",
                       stock.section.known() ? section_text(*stock.section) : "section unknown");
}

std::string set_words(const Situation& s, Index set) {
    if (set == no_set) return "";
    if (set == everything_set) return "Everything at once";
    return capital(s.plan.sets[set].name);
}

std::string words(const Situation& s, At at, Part part) {
    if (at.kind == At::Kind::plan) return "the plan";
    if (at.kind == At::Kind::together) return "the set " + s.plan.together[at.index].name.value_or("");
    if (at.kind == At::Kind::stock) return "the stock " + s.plan.stocks[at.index].name;
    if (at.kind == At::Kind::metal) return "the metal part " + s.plan.metals[at.index].name;
    const Element& element = s.plan[at.index];
    if (part == Part::whole) return element.words();
    // What hangs at a wall outlet is the bench's own plug and cord, as everybody calls them.
    const bool the_bench = s.network.bench_plugs == 1 && network::is_bench_plug(s.plan, s.network, at.index);
    switch (part) {
        case Part::plug:
            return the_bench ? "the bench plug" : "the plug of " + element.words();
        case Part::fuse:
            return the_bench ? "the fuse in the bench plug" : "the fuse in the plug of " + element.words();
        case Part::inlet:
            return "the inlet of " + element.words();
        case Part::cable:
            if (the_bench) return "the bench cord";
            return (element.plug.known()        ? "the cord of "
                    : s.network.house[at.index] ? "the house cable to "
                                                : "the run to ") +
                   element.words();
        case Part::whole:
            break;
    }
    return element.words();
}

Remedy larger_section(const Situation& s, Index element, std::string text) {
    const Index of = s.plan[element].cable->stock_index;
    // The house may have cables of the same stock: then a wall is opened.
    bool house = false;
    for (Index i = 0; i < s.plan.elements.size() && !house; ++i)
        house = s.network.house[i] && s.plan[i].cable && s.plan[i].cable->stock_index == of;
    return {house ? Cost::electrician : Cost::cheap,
            std::move(text),
            {{s.plan.stocks[of].path() + ".section", ""}}};
}

Remedy shorter_cable(const Situation& s, Index element, std::string text) {
    return {s.network.house[element] ? Cost::electrician : Cost::cheap,
            std::move(text),
            {{s.plan[element].path() + ".cable.length", ""}}};
}

}  // namespace benchfeed::rules
