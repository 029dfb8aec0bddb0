#include <benchfeed/rules/starting.hpp>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/network/start.hpp>
#include <benchfeed/rules/conductor_lines.hpp>
#include <benchfeed/rules/drop.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

/// A star whose middle stays where it is.
bool three_lines(const network::LoadPoint& motor) {
    return !network::pair_of(motor.conductors);
}

/// Impedance of the motor at rest and what it works against, all worked.
struct Divider {
    Value motor, resistance, reactance, cosine;
};

Divider explain_divider(Working& working, const Situation& s, const Reach& reach) {
    const network::LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    const Voltage plate = network::plate_voltage(s.plan, reach.starter);
    const Value start = explain_start_current(working, s, reach.starter, reach.high_start);
    const bool star = three_lines(motor);
    const Value z = working.add("Z_m", star ? "U_plate / (sqrt(3) * I_start)" : "U_plate / I_start",
                                star ? "{} / (sqrt(3) * {})" : "{} / {}",
                                {working.written(to_text(plate, 6)), start}, "ohm");
    const LoopValues loop = explain_loop(working, s, reach.starter, reach.source);
    const double cosine = reach.high_start ? 1.0 : in(unit::one, motor.start->low_power_factor);
    return {z, loop.resistance, loop.reactance, working.written(digits(cosine, 3))};
}

Value total_impedance(Working& working, const Divider& d) {
    return working.add("Z", "sqrt((Z_m * cos + R)^2 + (Z_m * sin + X)^2)",
                       "sqrt(({} * {} + {}) ^ 2 + ({} * sqrt(1 - {} ^ 2) + {}) ^ 2)",
                       {d.motor, d.cosine, d.resistance, d.motor, d.cosine, d.reactance}, "ohm");
}

}  // namespace

SourceSeen source_seen(const Situation& s, Index load) {
    const Index supply = s.plan.supply_index_of(load);
    for (const Index at : s.plan.path_to(load))
        if (s.network.branches[at].measured) {
            // The reading at the outlet holds the source; only what was taken off it stands before the panel.
            const auto stated = s.plan[supply].as<plan::Supply>()->line_impedance.value;
            return {stated, true};
        }
    const auto source = network::line_source(s.plan, supply);
    return {source, source.has_value()};
}

Value explain_start_current(Working& working, const Situation& s, Index motor, bool high) {
    const network::LoadPoint& point = s.network.loads[s.network.load_of[motor]];
    const auto found = network::start_current(s.plan, s.tables, point);
    Value running{};
    if (found->start.from == network::Start::From::motor_kind) {
        const auto current =
            network::load_current(s.plan, s.tables, s.practice(), motor, s.network.plate_end);
        running = network::explain_current(working, s.plan, current, motor);
    }
    return network::explain_start(working, s.plan, *found, motor, running, high);
}

Value explain_high_start(Working& working, const Situation& s, Index motor) {
    const Value start = explain_start_current(working, s, motor, true);
    if (network::volts_above_plate(s.plan, motor) == unit::one) return start;
    const Voltage nominal = network::nominal_between(s.plan.supply_of(motor),
                                                     s.plan[motor].conductors.value_or(plan::Conductors{}));
    const Voltage plate = s.plan[motor].as<plan::Load>()->plate->voltage->high;
    return working.add("I_start", "I_start * U / U_plate", "{} * {} / {}",
                       {start, working.written(to_text(nominal, 6)), working.written(to_text(plate, 6))},
                       "A");
}

Value explain_weakened_start(Working& working, const Situation& s, const Reach& reach) {
    const Divider d = explain_divider(working, s, reach);
    const Voltage nominal = network::nominal_between(
        s.plan.supply_of(reach.starter), s.plan[reach.starter].conductors.value_or(plan::Conductors{}));
    const bool star = three_lines(s.network.loads[s.network.load_of[reach.starter]]);
    return working.add("I_start", star ? "U / (sqrt(3) * Z)" : "U / Z",
                       star ? "{} / (sqrt(3) * {})" : "{} / {}",
                       {working.written(to_text(nominal, 6)), total_impedance(working, d)}, "A");
}

namespace {

/// What the starter draws while others run: their volts lost come off its own. Three lines keep their
/// current.
Flow starting_flow(Working& working, const Situation& s, const Reach& reach, const Evaluated& evaluated,
                   const std::vector<Index>& others) {
    Flow flow;
    flow.load = reach.starter;
    flow.draw = evaluated.start_draw;
    for (const CurrentPhasor& drawn : flow.draw) flow.current = std::max(flow.current, magnitude(drawn));
    const network::LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    const auto pair = network::pair_of(motor.conductors);
    if (others.empty() || !pair) {
        flow.amps = explain_weakened_start(working, s, reach);
        return flow;
    }
    const Value open = explain_volts_left(working, s, others, reach.starter, *pair, reach.source);
    flow.amps = working.add("I_start", "U_left / Z", "{} / {}",
                            {open, total_impedance(working, explain_divider(working, s, reach))}, "A");
    return flow;
}

}  // namespace

Value explain_volts_at_start(Working& working, const Situation& s, const Reach& reach,
                             const Evaluated& evaluated) {
    const std::vector<Index> others(evaluated.loads.begin() + 1, evaluated.loads.end());
    const network::LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    if (reach.element == reach.starter && !three_lines(motor)) {
        const Value running =
            explain_volts_left(working, s, others, reach.element, *evaluated.between, reach.source);
        const Divider d = explain_divider(working, s, reach);
        return working.add("U_start", "U_run * Z_m / Z", "{} * {} / {}",
                           {running, d.motor, total_impedance(working, d)}, "V");
    }
    const Flow start = starting_flow(working, s, reach, evaluated, others);
    std::vector<Flow> flows = running_flows(working, s, others);
    flows.push_back(start);
    return explain_pair(working, s, reach.element, *evaluated.between, flows, reach.source);
}

namespace {
/// The load itself, or of a switch the first load of the set behind it.
Index runs_there(const Situation& s, const Outcome& outcome, Index element) {
    for (const Index load : set_of(s.plan, outcome.set).loads)
        if (s.network.hangs_below(load, element)) return load;
    return element;
}
}  // namespace

std::optional<Remedy> start_first(const Situation& s, const Outcome& outcome, const Limit& limit) {
    const Index starter = limit.reach.starter;
    std::vector<Index> alone{starter};
    if (limit.reach.kind == Reach::Kind::left_at_start && limit.reach.element != starter)
        alone.push_back(
            runs_there(s, outcome, limit.reach.element));  // volts elsewhere: something has to run there
    std::sort(alone.begin(), alone.end());
    alone.erase(std::unique(alone.begin(), alone.end()), alone.end());
    if (verdict_at(limit, evaluate(s, limit, alone)) >= outcome.verdict) return std::nullopt;
    Remedy remedy{Cost::free, "start " + s.plan[starter].words() + " first, before the others run"};
    const plan::RunSet& set = set_of(s.plan, outcome.set);
    if (set.declared == plan::nowhere) return remedy;
    std::string order = s.plan[starter].name;
    for (const Index load : set.loads)
        if (load != starter) order += "," + s.plan[load].name;
    remedy.changes = {{"together." + set.name + ".start_order", order}};
    return remedy;
}

std::optional<network::Guard> guard_at(const Situation& s, Index motor, Index element, Part part) {
    for (const network::Guard& guard : network::guards_above(s.plan, s.tables, motor, network::Place::whole))
        if (guard.element == element && part_of(guard) == part) return guard;
    return std::nullopt;
}

Value explain_multiple(Working& working, const std::string& symbol, const network::Guard& guard,
                       const tables::Figure<Ratio>& multiple) {
    return working.add(
        symbol, "multiple * In", "{} * {}",
        {working.written(tables::written_number(multiple)), working.written(to_text(*guard.rating, 6))}, "A",
        {network::cited(multiple.source)});
}

Value explain_carried(Working& working, const Situation& s, const network::Guard& guard,
                      bool longer_than_a_second) {
    const auto carries = *network::start_withstand(s.plan, s.tables, guard, longer_than_a_second);
    return carries.multiple ? explain_multiple(working, "I_carried", guard, *carries.multiple)
                            : working.written(to_text(carries.current, 6));
}

Value explain_margin(Working& working, const Situation& s, Value carried) {
    const auto margin = *threshold(s, "surge_margin");
    return working.add("I_edge", "margin * I_carried", "{} * {}",
                       {working.written(to_text(margin.value)), carried}, "A",
                       {network::cited(margin.source)});
}

}  // namespace benchfeed::rules
