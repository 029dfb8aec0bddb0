// volts.start-dip: what a motor gets while it starts, the rest of its set running and the source counted in.
#include <fmt/format.h>

#include <map>
#include <utility>
#include <vector>

#include "base/quantity_text.hpp"
#include "network/ampacity.hpp"
#include "network/fault.hpp"
#include "network/load_current.hpp"
#include "rules/contact.hpp"
#include "rules/drop.hpp"
#include "rules/overload.hpp"
#include "rules/rules.hpp"
#include "rules/starting.hpp"

namespace benchfeed::rules {
namespace {

constexpr std::uint8_t low_estimate = 0, high_estimate = 1, coil = 2;

/// A release or contactor whose coil hangs on the volts of this load: the nearest switch above it.
Index coil_above(const Situation& s, Index load) {
    for (Index up = s.plan[load].parent; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* sw = s.plan[up].as<plan::Switch>();
        if (sw && (sw->no_volt.is(true) || sw->kind.is(plan::SwitchKind::contactor))) return up;
    }
    return plan::nowhere;
}

/// A share of the motor's own volts, or of nominal volts by a local rule.
struct Edge {
    Voltage volts{};
    Basis basis = Basis::practice;
};

Edge least_volts(const Situation& s, Index motor, Ratio share) {
    const auto& local = s.plan.local.start_dip_limit;
    if (local.known()) {
        const Voltage nominal = network::nominal_between(
            s.plan.supply_of(motor), s.plan[motor].conductors.value_or(plan::Conductors{}));
        return {Voltage(nominal * Ratio(1.0 * unit::one - *local)), Basis::local};
    }
    return {Voltage(network::plate_voltage(s.plan, motor) * share), Basis::practice};
}

std::optional<Current> fault_current_of_the_weakest(const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    const auto least = table ? table->current("weakest_source") : std::nullopt;
    return least ? std::optional(least->value) : std::nullopt;
}

void add_limits(const Situation& s, Yield& yield, const network::LoadPoint& motor) {
    const auto least = threshold(s, "start_dip_least"), enough = threshold(s, "start_dip_enough"),
               coil_least = threshold(s, "contactor_coil_least");
    if (!least || !enough || !coil_least) return;
    const SourceSeen source = source_seen(s, motor.element);
    const Edge fails = least_volts(s, motor.element, least->value);
    Limit limit;
    limit.at = at_element(motor.element);
    limit.reach.kind = Reach::Kind::left_at_start;
    limit.reach.element = limit.reach.starter = motor.element;
    limit.reach.source = source.impedance;
    limit.reach.high_start = false;
    limit.bound = Bound::at_least;
    limit.edge = fails.volts;
    limit.basis = fails.basis;
    limit.caution = Voltage(network::plate_voltage(s.plan, motor.element) * enough->value);
    limit.ground.grade = least->source.grade;
    limit.variant = low_estimate;
    const Voltage nominal = network::nominal_between(s.plan.supply_of(motor.element), motor.conductors);
    if (!s.plan.supply_of(motor.element).source.is(plan::SupplySource::public_network)) {
        limit.doubt = Voltage(2.0 * nominal);  // a generator's start behaviour is not in any plan
    } else if (!source.known) {
        // The bench part alone: when it already takes what a running drop may, the source decides, unless the
        // weakest one changes nothing.
        limit.doubt = Voltage(nominal * Ratio(1.0 * unit::one - s.practice().drop_other.value));
        if (const auto panel = fault_current_of_the_weakest(s))
            limit.reach.weakest_source = Impedance(network::line_to_neutral(s.plan, motor.element) / *panel);
    }
    yield.limits.push_back(limit);

    limit.reach.high_start = true;
    limit.reach.weakest_source.reset();
    limit.edge = std::monostate{};
    limit.caution = fails.volts;
    limit.doubt = std::monostate{};
    limit.variant = high_estimate;
    yield.limits.push_back(limit);
}

/// For each release of a supply the load nearest to its coil, whose volts stand for the coil's.
std::vector<Index> coil_loads(const Situation& s) {
    std::map<Index, std::pair<Impedance, Index>> nearest;
    for (const network::LoadPoint& load : s.network.loads) {
        const Index release = coil_above(s, load.element);
        if (release == plan::nowhere) continue;
        Impedance behind{};
        for (const auto& z : network::impedance_to(s.plan, s.network, load.element)) behind += magnitude(z);
        const auto [it, fresh] = nearest.try_emplace(release, behind, load.element);
        if (!fresh && behind < it->second.first) it->second = {behind, load.element};
    }
    std::vector<Index> loads;
    for (const auto& [release, load] : nearest) loads.push_back(load.second);
    return loads;
}

/// Another tool's release drops out when this motor starts.
void add_coils(const Situation& s, Yield& yield, const network::LoadPoint& motor,
               const std::vector<Index>& coils) {
    const auto least = threshold(s, "contactor_coil_least");
    if (!least) return;
    for (const Index at : coils) {
        if (s.plan.supply_index_of(at) != s.plan.supply_index_of(motor.element)) continue;
        const auto conductors = s.plan[at].conductors.value_or(plan::Conductors{});
        Limit limit;
        limit.at = at_element(at);
        limit.reach.kind = Reach::Kind::left_at_start;
        limit.reach.element = at;
        limit.reach.starter = motor.element;
        limit.reach.source = source_seen(s, motor.element).impedance;
        limit.bound = Bound::at_least;
        limit.caution = Voltage(network::nominal_between(s.plan.supply_of(at), conductors) * least->value);
        limit.ground.grade = least->source.grade;
        limit.variant = coil;
        yield.limits.push_back(limit);
    }
}

Yield look(const Situation& s) {
    Yield yield;
    const std::vector<Index> coils = coil_loads(s);
    for (const network::LoadPoint& load : s.network.loads) {
        if (load.start) {
            add_limits(s, yield, load);
            add_coils(s, yield, load, coils);
        } else if (load.motor && !load.known()) {
            yield.outcomes.push_back(undecided(at_element(load.element), Part::whole));
        }
    }
    return yield;
}

Explanation ask_for_source(const Situation& s, const Outcome& o) {
    const plan::Element& supply = s.plan[s.plan.supply_index_of(o.at.index)];
    const auto& what = *supply.as<plan::Supply>();
    if (!what.source.is(plan::SupplySource::public_network))
        return ask_for_rating(s, o, place_of(what.source, supply), supply.path() + ".source",
                              "Can this generator or inverter start " + s.plan[o.at.index].words() + "?",
                              "its manual, for motors with their start current");
    Explanation e =
        ask_for_rating(s, o, place_of(what.line_impedance, supply), supply.path() + ".line_impedance",
                       "How stiff is the supply? " + to_text(o.value) + " are left at the start without it",
                       "a meter's line impedance at the outlet, which an electrician reads in a minute");
    return e;
}

void explain_cure(const Situation& s, Explanation& e, const Outcome& o, const Limit& limit) {
    const auto& load = *s.plan[limit.reach.starter].as<plan::Load>();
    if (auto first = start_first(s, o, limit)) e.remedies.push_back(std::move(*first));
    const Index worst = worst_cable(s, limit.reach.element);
    if (worst != plan::nowhere && !s.network.house[worst] && s.plan[worst].cable &&
        s.plan[worst].cable->stock_index != plan::nowhere) {
        e.remedies.push_back(shorter_cable(s, worst, "a shorter cord"));
        e.remedies.push_back(larger_section(s, worst, "a cord of larger section that its plug takes"));
    }
    if (!load.soft_start.is(true))
        e.remedies.push_back({Cost::moderate, "a soft-start module for it, or a tool that has one"});
}

/// What the motor wants: a share of its plate, or the nominal volts less what a local rule allows.
Value explain_edge(Working& working, const Situation& s, const Outcome& o, const Measure& bound) {
    const bool fails_there =
        number(bound) ==
        in(unit::volt, least_volts(s, o.at.index, threshold(s, "start_dip_least")->value).volts);
    const auto& local = s.plan.local.start_dip_limit;
    if (fails_there && local.known()) {
        const Voltage nominal = network::nominal_between(
            s.plan.supply_of(o.at.index), s.plan[o.at.index].conductors.value_or(plan::Conductors{}));
        return working.add("U_least", "U * (1 - local limit)", "{} * (1 - {})",
                           {working.written(to_text(nominal, 6)), working.written(to_text(*local))}, "V");
    }
    const auto share = *threshold(s, fails_there ? "start_dip_least" : "start_dip_enough");
    return working.add("U_least", "share * U_plate", "{} * {}",
                       {working.written(to_text(share.value)),
                        working.written(to_text(network::plate_voltage(s.plan, o.at.index), 6))},
                       "V", {network::cited(share.source)});
}

/// What a coil wants of the nominal volts.
Value explain_coil_edge(Working& working, const Situation& s, Index load) {
    const auto share = *threshold(s, "contactor_coil_least");
    const Voltage nominal = network::nominal_between(s.plan.supply_of(load),
                                                     s.plan[load].conductors.value_or(plan::Conductors{}));
    return working.add("U_coil", "share * U", "{} * {}",
                       {working.written(to_text(share.value)), working.written(to_text(nominal, 6))}, "V",
                       {network::cited(share.source)});
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    if (!limit) return ask_for_plate(s, o, o.at.index);
    const Evaluated evaluated = evaluate(s, *limit, set_of(s.plan, o.set).loads);
    if (o.verdict == Verdict::cannot_judge) {
        if (evaluated.unknown != plan::nowhere) return ask_for_plate(s, o, evaluated.unknown);
        if (evaluated.no_resistance != plan::nowhere ||
            !std::holds_alternative<std::monostate>(evaluated.at_worst))
            return explain_drop(s, o, *limit);
        return ask_for_source(s, o);
    }
    const plan::Element& motor = s.plan[limit->reach.starter];
    const std::string name = motor.words(), here = s.plan[o.at.index].words();
    std::vector<Index> others(evaluated.loads.begin() + 1, evaluated.loads.end());
    Explanation e;
    e.place = {motor.header, ""};
    e.sources.push_back(limit->variant == coil ? threshold(s, "contactor_coil_least")->source
                                               : threshold(s, "start_dip_least")->source);
    const Measure bound =
        o.verdict == Verdict::fail || std::holds_alternative<std::monostate>(o.caution) ? o.edge : o.caution;
    e.headline = o.variant == coil
                     ? fmt::format("{}: {} are left at {} while {} starts; its release wants {}",
                                   set_words(s, o.set), to_text(o.value), here, name, to_text(bound))
                     : fmt::format("{}: {} gets {} while it starts{}; it wants {}", set_words(s, o.set), name,
                                   to_text(o.value),
                                   o.variant == high_estimate ? " at the most that its kind draws" : "",
                                   to_text(bound));
    Working working;
    const Value left = explain_volts_at_start(working, s, limit->reach, evaluated);
    working.compare(
        left, number(o.value) < number(bound) * (1 - 1e-9) ? "<" : ">=",
        o.variant == coil ? explain_coil_edge(working, s, o.at.index) : explain_edge(working, s, o, bound));
    if (!std::holds_alternative<std::monostate>(evaluated.at_weakest_source))
        working.note("Nobody has said what lies before the panel. With as much as " +
                     to_text(*limit->reach.weakest_source) + " there, " +
                     to_text(evaluated.at_weakest_source) + " would be left" +
                     (number(o.value) < number(limit->doubt) ? ": the verdict is the same." : "."));
    e.steps = working.finish();
    if (o.verdict == Verdict::ok) return e;
    if (o.variant == coil) {
        e.consequence = "The release may drop out: the tool stops whenever the other one starts.";
    } else if (o.verdict == Verdict::fail) {
        e.short_words = name + " may not start";
        e.consequence = "It hums, pulls its start current for seconds, heats and trips the breaker.";
    } else {
        e.consequence = "It starts slowly under load; lamps dim.";
    }
    explain_cure(s, e, o, *limit);
    return e;
}

}  // namespace

const Rule start_dip{.id = "volts.start-dip",
                     .title = "a motor does not get enough voltage to start",
                     .harm = Harm::volts,
                     .essential = false,
                     .families = "iec nec",
                     .since = "0.1.0",
                     .sections = {Depends::way, More::helps},
                     .look = look,
                     .explain = explain};

}  // namespace benchfeed::rules
