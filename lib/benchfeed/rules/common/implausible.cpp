// plan.implausible: possible, but more likely a slip of the pen.
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::implausible {
namespace {

enum Variant : std::uint8_t { long_cord, thick_section, load_above_plug, twin_digits, foreign_pattern };

Outcome doubtful(At at, Part part, Variant variant) {
    Outcome o;
    o.at = at;
    o.part = part;
    o.verdict = Verdict::caution;
    o.basis = Basis::practice;
    o.variant = variant;
    return o;
}

std::optional<Length> longest_cord(const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    const auto figure = table ? table->length("long_cord") : std::nullopt;
    return figure ? std::optional(figure->value) : std::nullopt;
}
std::optional<Area> thickest(const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    const auto figure = table ? table->section("thick_section") : std::nullopt;
    return figure ? std::optional(figure->value.area) : std::nullopt;
}

/// 1.5 kW beside 1.5 hp: the same digits under two units, one of them copied.
bool twin_digits_on(const plan::Load& load) {
    if (!load.plate || !load.plate->horsepower.known()) return false;
    const double hp = in(unit::horsepower, load.plate->horsepower->power);
    const auto twins = [&](const plan::Field<Power>& power) {
        return power.known() && std::abs(in(unit::kilowatt, *power) - hp) < 1e-9 * hp;
    };
    return twins(load.plate->power_in) || twins(load.plate->power_out);
}

/// A pattern for about 125 V behind a supply of 230 V, or the other way round.
bool foreign(const Situation& s, Index i) {
    const auto* outlet = s.plan[i].as<plan::Outlet>();
    const tables::Table* patterns = s.tables.table("plug-patterns");
    if (!outlet || !outlet->pattern.known() || !patterns) return false;
    const auto row = patterns->row_of("pattern", *outlet->pattern);
    const auto volts = row ? patterns->voltage(*row, "volts") : std::nullopt;
    if (!volts) return false;
    const Voltage here =
        network::nominal_between(s.plan.supply_of(i), s.plan[i].conductors.value_or(plan::Conductors{}));
    const auto least = threshold(s, "foreign_voltage");
    return here > volts->value || (least && here < Voltage(volts->value * least->value));
}

Yield look(const Situation& s) {
    Yield yield;
    const auto too_long = longest_cord(s);
    const auto too_thick = thickest(s);
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (too_long && e.cable && !s.network.house[i] && e.cable->length.known() &&
            *e.cable->length > *too_long)
            yield.outcomes.push_back(doubtful(at_element(i), Part::cable, long_cord));
        if (foreign(s, i)) yield.outcomes.push_back(doubtful(at_element(i), Part::whole, foreign_pattern));
        const auto* load = e.as<plan::Load>();
        if (!load) continue;
        if (twin_digits_on(*load))
            yield.outcomes.push_back(doubtful(at_element(i), Part::whole, twin_digits));
        const ContactRating plug = plug_rating(s, i);
        if (plug.current && above(s.network.loads[s.network.load_of[i]].current, *plug.current))
            yield.outcomes.push_back(doubtful(at_element(i), Part::plug, load_above_plug));
    }
    for (Index i = 0; i < s.plan.stocks.size(); ++i) {
        const auto& section = s.plan.stocks[i].section;
        if (too_thick && section.known() && section->area > *too_thick)
            yield.outcomes.push_back(doubtful({At::Kind::stock, i}, Part::whole, thick_section));
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    Explanation e;
    e.consequence =
        "If it is meant, nothing is wrong with it; if it is a slip, every figure after it is wrong too.";
    if (o.at.kind == At::Kind::stock) {
        const plan::Stock& stock = s.plan.stocks[o.at.index];
        e.headline =
            "Stock " + stock.name + " has a section of " + section_text(*stock.section) +
            (stock.section->gauge ? ": mm2 written as an AWG number?" : ": an AWG number written as mm2?");
        e.place = {stock.section.span, "very thick for a bench"};
        return e;
    }
    const plan::Element& element = s.plan[o.at.index];
    e.place = {element.header, ""};
    switch (o.variant) {
        case long_cord:
            e.headline = capital(words(s, o.at, Part::cable)) + " is " + to_text(*element.cable->length) +
                         " long: feet written as metres?";
            e.place.span = element.cable->length.span;
            break;
        case foreign_pattern:
            e.headline = capital(element.words()) + " has a pattern that is not made for the volts behind it";
            e.place.span = place_of(element.as<plan::Outlet>()->pattern, element);
            break;
        case twin_digits:
            e.headline =
                capital(element.words()) + " has the same digits in kW and in hp: one of them was copied";
            e.place.span = element.as<plan::Load>()->plate->horsepower.span;
            break;
        default:
            e.headline = capital(element.words()) + " draws " +
                         to_text(s.network.loads[s.network.load_of[o.at.index]].current) +
                         ", more than its own plug is made for: is the plate figure right?";
            e.place.span =
                element.as<plan::Load>()->plate ? element.as<plan::Load>()->plate->span : element.header;
    }
    return e;
}

}  // namespace

const Rule rule{.id = "plan.implausible",
                .title = "a figure that is possible, but more likely a slip",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::implausible
