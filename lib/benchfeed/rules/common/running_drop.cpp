// volts.running-drop: what a load does not get while it runs. Counted from the panel, house run included.
#include <fmt/format.h>

#include <utility>

#include <benchfeed/figures/nema_mg1_voltage.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/drop.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::running_drop {
namespace {

constexpr std::uint8_t share = 0;  // variant: share of the nominal volts that is lost
constexpr std::uint8_t plate = 1;  // variant: volts left at a motor against its plate

struct Edges {
    std::optional<tables::Figure<Ratio>> fail, caution;
    Basis basis = Basis::recommendation;
};

/// A motor: the standard's advice for "other uses" fails, the trade's target cautions. Light: the advice for
/// lighting cautions. Anything else: the advice for other uses cautions.
Edges edges_for(const Situation& s, const network::LoadPoint& load) {
    const network::Practice& practice = s.practice();
    const bool light = s.plan[load.element].as<plan::Load>()->kind.is(plan::LoadKind::light);
    Edges edges;
    if (load.motor) {
        edges.fail = practice.drop_other;
        edges.caution = practice.drop_advice;
    } else {
        edges.caution = light ? practice.drop_lighting : practice.drop_other;
    }
    const auto& local = s.plan.local.voltage_drop_limit;
    if (local.known()) {
        const tables::Figure<Ratio> figure{*local, {}, {}};  // of the plan: no table prints it
        (load.motor ? edges.fail : edges.caution) = figure;
        if (load.motor && edges.caution && edges.caution->value > *local) edges.caution.reset();
        edges.basis = Basis::local;
    }
    return edges;
}

/// A target for motors is advice of a standard in some regions, of the trade in others.
Basis basis_of(const tables::Citation& target) {
    return target.status == tables::Status::recommendation ? Basis::recommendation : Basis::practice;
}

tables::Figure<Ratio> motor_tolerance(const Situation& s) {
    return figures::nema_mg1_voltage::voltage_tolerance(s.tables);
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& load : s.network.loads) {
        if (!load.known()) {
            yield.outcomes.push_back(undecided(at_element(load.element), Part::whole));
            continue;
        }
        const Edges edges = edges_for(s, load);
        Limit limit;
        limit.at = at_element(load.element);
        limit.reach = {Reach::Kind::lost_to, load.element};
        if (edges.fail) limit.edge = edges.fail->value;
        if (edges.caution) limit.caution = edges.caution->value;
        // An ok rests on the limit itself; a target that only warns may be from memory.
        if (const auto& held = edges.fail ? edges.fail : edges.caution; held && !held->source.table.empty())
            limit.ground.grade = held->source.grade;
        limit.basis = edges.basis;
        limit.caution_basis = load.motor && edges.caution ? basis_of(edges.caution->source) : edges.basis;
        limit.variant = share;
        yield.limits.push_back(limit);
        if (!load.motor) continue;
        const auto tolerance = motor_tolerance(s);
        Limit at_terminals = limit;
        at_terminals.reach.kind = Reach::Kind::left_at;
        at_terminals.bound = Bound::at_least;
        at_terminals.edge =
            Voltage(network::plate_voltage(s.plan, load.element) * (1.0 * unit::one - tolerance.value));
        at_terminals.caution = std::monostate{};
        at_terminals.basis = Basis::marking;
        at_terminals.ground.grade = tolerance.source.grade;
        at_terminals.variant = plate;
        yield.limits.push_back(at_terminals);
    }
    return yield;
}

/// "the saw does not get enough voltage: 6.5 % is lost, the limit is 5 %"
std::string too_little_words(const std::string& name, const Outcome& o) {
    const bool volts = std::holds_alternative<Voltage>(o.value);
    return fmt::format("{} does not get enough voltage: {}", name,
                       volts ? fmt::format("it gets {} and needs {}", value_words(o), to_text(o.edge))
                             : fmt::format("{} is lost, the limit is {}", value_words(o), to_text(o.edge)));
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    const plan::Element& element = s.plan[o.at.index];
    const network::LoadPoint& load = s.network.loads[s.network.load_of[o.at.index]];
    if (!load.known()) return ask_for_plate(s, o, o.at.index);
    Explanation e = explain_drop(s, o, *limit);
    const std::string name = element.words();
    if (o.variant == plate) e.sources.push_back(motor_tolerance(s).source);
    const Edges edges = edges_for(s, load);
    // What decided stands first: a caution oversteps the target, everything else is held to the limit.
    auto first = edges.fail, second = edges.caution;
    if (o.verdict == Verdict::caution) std::swap(first, second);
    for (const auto& edge : {first, o.verdict == Verdict::ok ? second : std::nullopt})
        if (o.variant == share && edge && !edge->source.table.empty()) e.sources.push_back(edge->source);
    if (o.verdict == Verdict::fail) {
        e.short_words = too_little_words(name, o);
        e.consequence = load.motor ? "The motor starts slowly, pulls more current and gets hot."
                                   : "It gets too little voltage.";
    } else if (o.verdict == Verdict::caution) {
        e.consequence = load.motor ? "It runs; under load it is weaker than its plate says."
                                   : "It works; a lamp may dim when a tool starts.";
    }
    return e;
}

}  // namespace

const Rule rule{.id = "volts.running-drop",
                .title = "a load does not get its voltage while it runs",
                .harm = Harm::volts,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::way, More::helps},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::running_drop
