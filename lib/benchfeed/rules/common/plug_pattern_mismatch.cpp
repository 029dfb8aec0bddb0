// heat.plug-pattern-mismatch: a plug in an outlet that it does not go into, an adaptor that makes it go in,
// and outlets whose rating does not suit their circuit.
#include <fmt/format.h>

#include <string>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nec_210_21_b_1.hpp>
#include <benchfeed/figures/nec_210_21_b_3.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::plug_pattern_mismatch {
namespace {

using tables::Table;

enum Variant : std::uint8_t {
    goes_in,
    refused,
    ask_plug,
    adaptor,
    other_system,
    below_circuit,
    alone_below_circuit,
    above_circuit,
    permitted_below
};

std::optional<std::size_t> row_of_pair(const Table* table, std::string_view plug, std::string_view outlet) {
    if (!table) return std::nullopt;
    for (std::size_t row = 0; row < table->rows.size(); ++row)
        if (table->text(row, "plug") == plug && table->text(row, "outlet") == outlet) return row;
    return std::nullopt;
}

/// The outlet into which the plug of an element goes; nullptr without a plug or an outlet.
const plan::Outlet* outlet_before(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (e.parent == plan::nowhere || !(e.plug.known() || e.plug.stated_unknown)) return nullptr;
    const auto* outlet = s.plan[e.parent].as<plan::Outlet>();
    return outlet && outlet->pattern.known() ? outlet : nullptr;
}

std::optional<Outcome> judge_plug(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const auto* outlet = outlet_before(s, i);
    if (!outlet || e.plug.assumed()) return std::nullopt;
    if (!e.plug.known()) return undecided(at_element(i), Part::plug, ask_plug);
    Outcome o;
    o.at = at_element(i);
    o.part = Part::plug;
    o.basis = Basis::marking;
    const Table* matings = s.tables.table("plug-mating");
    const auto row = row_of_pair(matings, *e.plug, *outlet->pattern);
    if (!row) {
        o.verdict = Verdict::fail;
        o.variant = refused;
        return o;
    }
    o.ground.grade = matings->grade_of(*row, matings->column("outlet").value_or(0));
    if (!o.ground.carries_ok()) o.verdict = Verdict::cannot_judge;
    return o;
}

// ---- adaptors -------------------------------------------------------------------------------------
struct Pattern {
    Current rated{};
    bool earth = false;
    std::string_view poles, system;
};

std::optional<Pattern> pattern_of(const Situation& s, const std::string& name) {
    const Table* patterns = s.tables.table("plug-patterns");
    const auto row = patterns ? patterns->row_of("pattern", name) : std::nullopt;
    if (!row) return std::nullopt;
    const auto rated_current = patterns->current(*row, "rated");
    if (!rated_current) return std::nullopt;
    return Pattern{rated_current->value, patterns->flag(*row, "earth").value_or(false),
                   patterns->text(*row, "poles"), patterns->text(*row, "system")};
}

/// A lead, strip or adaptor: an outlet with a plug. What its own plug could not do, its outlet must not
/// offer.
std::optional<Outcome> judge_adaptor(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const auto* outlet = e.as<plan::Outlet>();
    if (!outlet || !e.plug.known() || !outlet->pattern.known()) return std::nullopt;
    const auto plug = pattern_of(s, *e.plug), face = pattern_of(s, *outlet->pattern);
    if (!plug || !face) return std::nullopt;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::marking;
    o.variant = adaptor;
    const Current offered = outlet->rating.known() ? std::min(*outlet->rating, face->rated) : face->rated;
    const bool loses =
        above(offered, plug->rated) || (face->earth && !plug->earth) || face->poles != plug->poles;
    if (loses || (plug->system != face->system && !e.cable)) {
        o.verdict = Verdict::fail;
    } else if (plug->system != face->system) {
        o.verdict = Verdict::caution;
        o.variant = other_system;
    }
    return o;
}

// ---- outlets and their circuit ------------------------------------------------------------------------
/// Adds the ways of the outlets below an element that belong to the same side, the house or the bench; stops
/// counting above one.
void count_ways(const Situation& s, Index element, bool house, int& ways) {
    const auto* outlet = s.plan[element].as<plan::Outlet>();
    if (outlet && s.network.house[element] == house) ways += outlet->ways.value_or(1);
    for (const Index child : s.plan[element].children)
        if (ways < 2) count_ways(s, child, house, ways);
}

/// NEC 210.21(B)(1): the only receptacle of its circuit.
bool stands_alone(const Situation& s, Index outlet, Index device) {
    const bool house = s.network.house[outlet];
    if (house != s.network.house[device]) return false;
    if (house && !s.plan.supply_of(outlet).circuit.is(plan::Circuit::individual)) return false;
    int ways = 0;
    count_ways(s, device, house, ways);
    return ways == 1;
}

/// NEC 210.21(B)(3): receptacles that a circuit with several may have.
bool allowed_on(const Situation& s, Current receptacle, Current circuit) {
    using Of = figures::nec_210_21_b_3;
    const auto first = Of::circuit_rating_at_or_above(s.tables, circuit);
    if (!first) return !above(circuit, receptacle);
    const Current printed = first->circuit_rating().value;
    for (const Of::Row row : Of::rows(s.tables))
        if (row.circuit_rating().value == printed && row.allowed_2020().value == receptacle) return true;
    return false;
}

/// No other outlet stands between this one and its device: what hangs behind one is told there.
bool first_outlet(const Situation& s, Index outlet, Index device) {
    for (Index up = s.plan[outlet].parent; up != plan::nowhere && up != device; up = s.plan[up].parent)
        if (s.plan[up].kind == plan::Kind::outlet) return false;
    return true;
}

std::optional<Outcome> judge_receptacle(const Situation& s, Index i, Current rating,
                                        const network::Guard& g) {
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    o.value = *g.rating;
    o.edge = rating;
    if (stands_alone(s, i, g.element)) {
        o.variant = alone_below_circuit;
        if (above(*g.rating, rating)) o.verdict = Verdict::fail;
        return o;
    }
    o.variant = above(rating, *g.rating) ? above_circuit : below_circuit;
    if (allowed_on(s, rating, *g.rating)) return o;
    // Too large for the circuit is told once, at the wall.
    if (o.variant == above_circuit && !first_outlet(s, i, g.element)) return o;
    o.verdict = o.variant == above_circuit ? Verdict::caution : Verdict::fail;
    return o;
}

std::optional<Outcome> judge_circuit(const Situation& s, Index i) {
    if (s.plan[i].kind != plan::Kind::outlet || is_tool_socket(s, i)) return std::nullopt;
    const auto rating = outlet_rating(s, i).current;
    const auto search = network::overload_guard(s.plan, s.tables, i, network::Place::whole);
    // A device of unknown rating is asked for by heat.element-unprotected.
    if (!rating || !search.found || !search.found->rating || search.found->plug_fuse) return std::nullopt;
    if (s.nec()) return judge_receptacle(s, i, *rating, *search.found);
    if (!above(*search.found->rating, *rating) || !first_outlet(s, i, search.found->element))
        return std::nullopt;
    if (!permitted_pair(s, *rating, *search.found->rating)) return std::nullopt;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::practice;
    o.value = *search.found->rating;
    o.edge = *rating;
    o.verdict = Verdict::caution;
    o.variant = permitted_below;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (auto o = judge_plug(s, i)) yield.outcomes.push_back(*o);
        if (auto o = judge_adaptor(s, i)) add_worse(yield.outcomes, *o);
        if (auto o = judge_circuit(s, i)) add_worse(yield.outcomes, *o);
    }
    return yield;
}

// ---- words ----------------------------------------------------------------------------------------
Explanation explain_plug(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Element& outlet = s.plan[element.parent];
    const std::string& pattern = *outlet.as<plan::Outlet>()->pattern;
    const std::string what = words(s, o.at, Part::plug);
    if (o.variant == ask_plug)
        return ask_for_rating(
            s, o, element.plug.span, element.path() + ".plug",
            "What is " + what + ", which goes into " + outlet.words() + " (" + pattern + ")?",
            "the shape of its pins; a rating is moulded into it");
    const Table* matings = s.tables.table("plug-mating");
    Explanation e;
    e.place = {place_of(element.plug, element), "a plug of pattern " + *element.plug};
    e.related.push_back(
        {place_of(outlet.as<plan::Outlet>()->pattern, outlet), "an outlet of pattern " + pattern});
    if (const auto row = row_of_pair(matings, *element.plug, pattern)) {
        const auto source = matings->cite(*row, matings->column("outlet").value_or(0));
        if (o.verdict == Verdict::cannot_judge) {
            e = rests_on_memory_words(s, o, e.place.span, {source});
            e.headline = fmt::format("That a plug of {} goes into an outlet of {} is from memory alone",
                                     *element.plug, pattern);
            e.short_words = "does " + what + " go into " + outlet.words() + "?";
            e.questions = {{"", "Does " + what + " go into " + outlet.words() + " with all its pins?",
                            "try it with the power off"}};
            return e;
        }
        e.headline =
            fmt::format("{} ({}) goes into {} ({})", capital(what), *element.plug, outlet.words(), pattern);
        e.sources.push_back(source);
        return e;
    }
    e.headline = fmt::format("{} ({}) does not go into {} ({})", capital(what), *element.plug, outlet.words(),
                             pattern);
    const Table* refusals = s.tables.table("plug-refused");
    if (const auto row = row_of_pair(refusals, *element.plug, pattern)) {
        e.sources.push_back(refusals->cite(*row, refusals->column("outlet").value_or(0)));
        const auto how = refusals->text(*row, "how");
        if (!how.empty() && how != "-") e.headline += ": " + std::string(how);
    } else if (const tables::Fact* strangers = refusals ? refusals->fact("strangers") : nullptr) {
        e.sources.push_back(refusals->cite(*strangers));
    }
    e.short_words = what + " does not fit its outlet";
    e.consequence =
        "The shapes keep a plug out of an outlet that cannot carry it or does not earth it. Whatever makes "
        "it "
        "go in takes that away.";
    e.remedies = {
        {Cost::cheap, "a plug of the pattern of the outlet, if the load draws no more than that carries"},
        {Cost::electrician, "or an outlet that takes this plug, on a circuit that is made for it"}};
    return e;
}

Explanation explain_adaptor(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& outlet = *element.as<plan::Outlet>();
    const std::string name = element.words();
    Explanation e;
    e.place = {place_of(element.plug, element), "goes in as " + *element.plug};
    e.related.push_back({place_of(outlet.pattern, element), "and offers " + *outlet.pattern});
    if (o.verdict == Verdict::ok) {
        e.headline = capital(name) + " offers no more than its own plug takes";
        return e;
    }
    const auto plug = *pattern_of(s, *element.plug), face = *pattern_of(s, *outlet.pattern);
    e.short_words = name + " is an adaptor: it takes plugs that its own outlet keeps out";
    e.headline = fmt::format("{} is an adaptor: it goes in as {} and takes {} plugs", capital(name),
                             *element.plug, *outlet.pattern);
    if (above(face.rated, plug.rated))
        e.headline += fmt::format(", made for {} where its own is made for {}", to_text(face.rated),
                                  to_text(plug.rated));
    else if (face.earth && !plug.earth)
        e.headline += ", whose earth ends there";
    e.consequence = o.verdict == Verdict::caution
                        ? "It may be right where it is made and marked for that; a home-made one is not."
                        : "It takes away what the shapes of plugs keep apart: amps, earth, volts.";
    e.remedies = {{Cost::cheap, "a lead whose plug and outlet are of the pattern of the wall outlet"},
                  {Cost::electrician, "or an outlet of the right pattern on a circuit that is made for it"}};
    return e;
}

/// The row of receptacles for a circuit, or the nearest that is printed.
tables::Found<figures::nec_210_21_b_3::Row> printed_circuit(const Situation& s, Current circuit) {
    using Of = figures::nec_210_21_b_3;
    const auto at_or_above = Of::circuit_rating_at_or_above(s.tables, circuit);
    return at_or_above ? at_or_above : Of::circuit_rating_at_or_below(s.tables, circuit);
}

Explanation explain_circuit(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, network::Place::whole);
    const plan::Element& device = s.plan[search.found->element];
    const std::string rating = to_text(std::get<Current>(o.edge)),
                      circuit = to_text(std::get<Current>(o.value));
    Explanation e;
    e.place = {place_of(element.as<plan::Outlet>()->pattern, element), "made for " + rating};
    e.related.push_back({place_of(device.as<plan::Device>()->rating, device), "a circuit of " + circuit});
    if (o.variant == permitted_below) {
        e.sources.push_back(permitted_pair(s, std::get<Current>(o.edge), std::get<Current>(o.value))->source);
    } else if (o.variant == alone_below_circuit) {
        e.sources.push_back(figures::nec_210_21_b_1::rule(s.tables).source);
    } else if (const auto row = printed_circuit(s, std::get<Current>(o.value))) {
        e.sources.push_back(row->minimum_2023().source);
    }
    std::vector<std::string> cited;
    for (const tables::Citation& source : e.sources) cited.push_back(network::cited(source));
    Working working;
    const Current device_amps = std::get<Current>(o.value), outlet_amps = std::get<Current>(o.edge);
    working.compare(working.written(rating),
                    above(device_amps, outlet_amps)   ? "<"
                    : above(outlet_amps, device_amps) ? ">"
                                                      : ">=",
                    working.written(circuit), cited);
    e.steps = working.finish();
    const std::string name = element.words();
    if (o.verdict == Verdict::ok) {
        e.headline = fmt::format("{} ({}) is allowed on a circuit of {}", capital(name), rating, circuit);
        return e;
    }
    e.short_words = name + " is not made for its circuit";
    e.headline = fmt::format("{} is made for {} and is on a circuit of {}", capital(name), rating, circuit);
    switch (o.variant) {
        case alone_below_circuit:
            e.headline += ", the only receptacle on it";
            e.consequence = "One tool may draw more than the receptacle carries, and the breaker holds.";
            break;
        case above_circuit:
            e.headline += ": editions up to 2020 do not list the pair, later ones do not exclude it";
            e.consequence = "It takes plugs of tools for which the circuit is too small: the breaker trips.";
            break;
        case permitted_below:
            e.headline +=
                ", which is usual in the region; the limit of the national rules is to be looked up";
            e.consequence = "Nothing trips when one tool draws more than the outlet carries.";
            break;
        default:
            e.consequence = "The breaker holds while the receptacle burns.";
    }
    switch (o.variant) {
        case above_circuit:
            e.remedies = {
                {Cost::electrician, "a receptacle that the edition in force lists for the circuit"}};
            break;
        case alone_below_circuit:
            e.remedies = {
                {Cost::electrician, "a receptacle made for " + circuit + ", or a device of " + rating}};
            break;
        default:
            e.remedies = {{Cost::electrician, "or outlets and circuit of one rating"}};
            if (const auto made = made_rating(s, outlet_amps))
                e.remedies.push_back({Cost::moderate, "a device of " + to_text(made->value) +
                                                          " before the outlets of the bench"});
    }
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    switch (o.variant) {
        case goes_in:
        case refused:
        case ask_plug:
            return explain_plug(s, o);
        case adaptor:
        case other_system:
            return explain_adaptor(s, o);
        default:
            return explain_circuit(s, o);
    }
}

}  // namespace

const Rule rule{.id = "heat.plug-pattern-mismatch",
                .title = "a plug, an outlet and their circuit do not belong together",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::plug_pattern_mismatch
