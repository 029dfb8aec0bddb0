// heat.motor-circuit: conductors of a motor that is wired without a plug carry 1.25 times the current that
// the table gives for its horsepower, whatever its plate says (NEC 430.22, 430.6).
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nec_430_22.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/wired_motor.hpp>

namespace benchfeed::rules::motor_circuit {
namespace {

enum Variant : std::uint8_t { by_table, by_plate, plate_alone, ask_horsepower, no_row };

const plan::Load& load_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Load>();
}

tables::Figure<Ratio> factor(const Situation& s) {
    return figures::nec_430_22::continuous_duty_factor(s.tables);
}

std::optional<Current> plate_amps(const plan::Load& load) {
    return load.plate ? load.plate->current.value : std::nullopt;
}

/// Another load than this one hangs at or below an element.
bool feeds_another(const Situation& s, Index i, Index load) {
    if (s.plan[i].kind == plan::Kind::load && i != load) return true;
    return std::any_of(s.plan[i].children.begin(), s.plan[i].children.end(),
                       [&](Index child) { return feeds_another(s, child, load); });
}

/// Elements whose cable carries this motor alone, from its own upwards to the device or plug before it.
std::vector<Index> own_cables(const Situation& s, Index load) {
    std::vector<Index> found;
    for (Index up = load; up != plan::nowhere; up = s.plan[up].parent) {
        const plan::Element& e = s.plan[up];
        const bool shared = feeds_another(s, up, load) || (up != load && feeds_outlets(s, up));
        if (shared || e.kind == plan::Kind::supply || e.plug.known()) break;
        const auto* sw = e.as<plan::Switch>();
        if (e.cable && !(sw && sw->wiring.is(plan::Wiring::control))) found.push_back(up);
        if (e.kind == plan::Kind::device) break;
    }
    return found;
}

bool is_wired_motor(const Situation& s, const network::LoadPoint& point) {
    const plan::Element& e = s.plan[point.element];
    return point.motor && !e.plug.known() && !e.plug.stated_unknown;
}

/// The motor on whose way a cable lies; nowhere if the cable carries more.
Index motor_of(const Situation& s, Index cable) {
    for (const network::LoadPoint& point : s.network.loads)
        if (is_wired_motor(s, point) && s.network.hangs_below(point.element, cable)) return point.element;
    return plan::nowhere;
}

Outcome judge_cable(const Situation& s, Index motor, Index cable, const network::Ampacity& iz) {
    Outcome o;
    o.at = at_element(cable);
    o.part = Part::cable;
    o.basis = Basis::standard;
    o.bound = Bound::at_least;
    o.value = *iz.value;
    const Ratio share = factor(s).value;
    const auto plate = plate_amps(load_of(s, motor));
    const auto table = motor_table_amps(s, motor);
    if (plate && above(Current(*plate * share), *iz.value)) {
        o.edge = Current(*plate * share);
        o.verdict = Verdict::fail;
        o.variant = by_plate;
        return o;
    }
    if (!table) return undecided(o.at, o.part, rated_horsepower(load_of(s, motor)) ? no_row : ask_horsepower);
    o.edge = Current(table->value * share);
    o.ground = {std::min(iz.grade, table->source.grade), iz.beyond};
    if (!above(std::get<Current>(o.edge), *iz.value)) {
        if (!o.ground.carries_ok()) o.verdict = Verdict::cannot_judge;
        return o;
    }
    o.verdict = plate ? Verdict::caution : Verdict::fail;
    o.variant = plate ? plate_alone : by_table;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& point : s.network.loads) {
        if (!is_wired_motor(s, point)) continue;
        for (const Index cable : own_cables(s, point.element)) {
            const network::Ampacity iz = network::ampacity(s.plan, s.tables, s.network, cable);
            // What is missing for the ampacity is asked for by heat.cable-overloaded.
            if (!iz.value) continue;
            const Outcome o = judge_cable(s, point.element, cable, iz);
            if (!iz.beyond || o.verdict == Verdict::fail) yield.outcomes.push_back(o);
        }
    }
    return yield;
}

Explanation ask_for_horsepower(const Situation& s, const Outcome& o, Index motor) {
    const plan::Element& element = s.plan[motor];
    const plan::Load& load = load_of(s, motor);
    const Span place =
        load.plate && load.plate->horsepower.written() ? load.plate->horsepower.span : element.header;
    if (o.variant == no_row)
        return ask_for_rating(
            s, o, place, element.path() + ".plate.horsepower",
            "What conductor does " + element.words() + " need? Its horsepower is beyond the printed table",
            "an electrician, by the table of motor currents");
    return ask_for_rating(s, o, place, element.path() + ".plate.horsepower",
                          "What is the rated horsepower of " + element.words() +
                              "? Wired without a plug, its conductors follow the table of motors",
                          "the motor's plate: HP; the peak of an advert does not count");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const Index motor = motor_of(s, o.at.index);
    if (o.variant == ask_horsepower || o.variant == no_row) return ask_for_horsepower(s, o, motor);
    const plan::Element& element = s.plan[o.at.index];
    const plan::Load& load = load_of(s, motor);
    const std::string cable = words(s, o.at, Part::cable), name = s.plan[motor].words();
    const network::Ampacity iz = network::ampacity(s.plan, s.tables, s.network, o.at.index);
    Explanation e;
    e.place = {cable_place(element), ""};
    Working working;
    const Value carries = network::explain_ampacity(working, iz);
    const auto share = factor(s);
    const Value times = working.written(tables::written_number(share));
    const std::string by_rule = network::cited(share.source);
    const auto table = motor_table_amps(s, motor);
    const auto plate = plate_amps(load);
    if (o.variant != by_plate) {
        const Value need =
            working.add("I_table", "1.25 * FLC", "{} * {}", {times, working.written(table->written)}, "A",
                        {by_rule, network::cited(table->source)});
        working.compare(carries, o.verdict == Verdict::ok || o.verdict == Verdict::cannot_judge ? ">=" : "<",
                        need);
        e.sources.push_back(table->source);
    }
    if (o.variant == by_plate || o.variant == plate_alone) {
        const Value need = working.add("I_plate", "1.25 * I", "{} * {}",
                                       {times, working.written(to_text(*plate, 6))}, "A", {by_rule});
        working.compare(carries, o.variant == by_plate ? "<" : ">=", need);
    }
    e.steps = working.finish();
    e.sources.push_back(share.source);
    if (o.verdict == Verdict::cannot_judge)
        return rests_on_memory_words(s, o, e.place.span, {iz.base.source, table->source});
    const std::string carried = to_text(*iz.value);
    if (o.verdict == Verdict::ok) {
        e.headline =
            fmt::format("{} carries {}, enough for {} by the table of motors", capital(cable), carried, name);
        return e;
    }
    const std::string need = to_text(std::get<Current>(o.edge));
    e.short_words = cable + " is too thin for a motor that is wired without a plug";
    e.headline = fmt::format("{} may carry {}; {} needs {}", capital(cable), carried, name, need);
    e.headline += o.variant == by_plate      ? " by its own plate"
                  : o.variant == plate_alone ? " by the table of motors, and less by its plate"
                                             : " by the table of motors";
    e.consequence =
        o.verdict == Verdict::caution
            ? "It carries this motor; another of the same horsepower may draw what the table says. The "
              "code takes the table for conductors, and the inspector decides."
            : "A motor under load draws more than its rating for long: the cable is warm all day, and "
              "the device is set for the start.";
    e.remedies = {{Cost::electrician, fmt::format("conductors that carry at least {}", need)},
                  {Cost::electrician, "or a plug and a receptacle that are made for the motor"}};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.motor-circuit",
                .title = "conductors of a wired motor are too thin",
                .harm = Harm::heat,
                .essential = false,
                .families = "nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::motor_circuit
