// volts.start-dip: what a motor gets while it starts, the rest of its set running and the source counted in.
#include <fmt/format.h>

#include <utility>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/conductor_lines.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/drop.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/source_start.hpp>
#include <benchfeed/rules/starting.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::start_dip {
namespace {

constexpr std::uint8_t low_estimate = 0, high_estimate = 1, own_coil = 2, other_coil = 3, pick_up = 4;

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
    const auto least = threshold(s, "start_dip_least"), enough = threshold(s, "start_dip_enough");
    if (!least || !enough) return;
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
    if (!source.known) {
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

/// A coil whose volts are judged, and the element that has it.
struct Release {
    Index element = plan::nowhere;
    Coil coil;
};

/// Releases that fit the volts of the plan; of the others volts.wrong-voltage speaks.
std::vector<Release> releases(const Situation& s) {
    std::vector<Release> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (auto coil = coil_of(s, i);
            coil && (coil->seat == Seat::line_to_neutral || coil->seat == Seat::line_to_line))
            found.push_back({i, std::move(*coil)});
    return found;
}

/// Where a coil surely holds: where it lets go, or as long as that is only remembered, where it pulls in.
std::string_view surely_holds(const Situation& s, std::string_view hold) {
    const auto lets_go = threshold(s, hold);
    return lets_go && lets_go->source.grade == tables::Grade::memory ? std::string_view("coil_pick_up")
                                                                     : hold;
}

std::optional<Limit> limit_of_coil(const Situation& s, const Release& release, std::string_view share) {
    const auto least = threshold(s, share);
    if (!least) return std::nullopt;
    Limit limit;
    limit.at = at_element(release.element);
    limit.reach.element = release.element;
    limit.bound = Bound::at_least;
    limit.caution = Voltage(release.coil.made_for * least->value);
    limit.ground.grade = least->source.grade;
    return limit;
}

/// A release lets go at the bottom of the dip: the motor's own, or that of something else that runs.
void add_holds(const Situation& s, Yield& yield, const network::LoadPoint& motor,
               const std::vector<Release>& all) {
    for (const Release& release : all) {
        if (s.plan.supply_index_of(release.element) != s.plan.supply_index_of(motor.element)) continue;
        auto limit = limit_of_coil(s, release, surely_holds(s, release.coil.hold));
        if (!limit) continue;
        limit->reach.kind = Reach::Kind::left_at_start;
        limit->reach.starter = motor.element;
        limit->reach.source = source_seen(s, motor.element).impedance;
        limit->variant = s.network.hangs_below(motor.element, release.element) ? own_coil : other_coil;
        yield.limits.push_back(*limit);
    }
}

/// It pulls in before what hangs behind it draws anything, while the others run.
void add_pick_ups(const Situation& s, Yield& yield, const std::vector<Release>& all) {
    for (const Release& release : all) {
        auto limit = limit_of_coil(s, release, "coil_pick_up");
        if (!limit || loads_below(s, release.element).empty()) continue;
        limit->reach.kind = Reach::Kind::left_at_pick_up;
        limit->reach.source = source_seen(s, release.element).impedance;
        limit->variant = pick_up;
        yield.limits.push_back(*limit);
    }
}

Yield look(const Situation& s) {
    Yield yield;
    const std::vector<Release> all = releases(s);
    for (const network::LoadPoint& load : s.network.loads) {
        if (load.start && is_own_source(s, load.element)) {
            add_source_start(s, yield, load);
        } else if (load.start) {
            add_limits(s, yield, load);
            add_holds(s, yield, load, all);
        } else if (load.motor && !load.known()) {
            yield.outcomes.push_back(undecided(at_element(load.element), Part::whole));
        }
    }
    add_pick_ups(s, yield, all);
    return yield;
}

Explanation ask_for_source(const Situation& s, const Outcome& o) {
    const plan::Element& supply = s.plan[s.plan.supply_index_of(o.at.index)];
    const auto& what = *supply.as<plan::Supply>();
    Explanation e =
        ask_for_rating(s, o, place_of(what.line_impedance, supply), supply.path() + ".line_impedance",
                       "What is the line impedance at the panel? Without it, " + to_text(o.value) +
                           " would be left at the start",
                       "a meter's line impedance at the outlet, which an electrician reads in a minute");
    return e;
}

/// The run in the wall decides: what is left with none of it, and with as much as a house has.
Explanation ask_for_run(const Situation& s, const Outcome& o, const Limit& limit,
                        const Evaluated& evaluated) {
    const plan::Element& motor = s.plan[limit.reach.starter];
    const auto unknown = network::unknown_branches(s.plan, s.network, limit.reach.starter);
    const Measure& wanted = std::holds_alternative<std::monostate>(o.edge) ? o.caution : o.edge;
    Explanation e;
    e.place = {motor.header, ""};
    e.headline = fmt::format(
        "{}: {} gets {} while it starts, the house run left out; with a run of up to {} it would be {}, and "
        "it "
        "needs {}",
        set_words(s, o.set), motor.words(), to_text(o.value),
        to_text(s.tables.table("thresholds")->length("unknown_run_most")->value), to_text(evaluated.at_worst),
        to_text(wanted));
    e.short_words = "the start of " + motor.words() + " depends on the house run";
    e.consequence = "Whether that is too little depends on the run that is not known.";
    e.questions.push_back({unknown.empty() ? "" : s.plan[unknown.front()].path() + ".cable.length",
                           "How long is the run from " + source_place(s, limit.reach.starter) +
                               " to the wall outlet, and of what section?",
                           "a tape measure along its way, the plan of the house, or a meter's line impedance "
                           "at the outlet"});
    Working working;
    const Value left = explain_volts_at_start(working, s, limit.reach, evaluated);
    working.compare(left, number(o.value) < number(wanted) * (1 - 1e-9) ? "<" : ">=",
                    working.computed(number(wanted), "V"));
    e.steps = working.finish();
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

/// The fact by which a coil is judged.
std::string_view coil_fact(const Situation& s, const Outcome& o) {
    return o.variant == pick_up ? std::string_view("coil_pick_up")
                                : surely_holds(s, coil_of(s, o.at.index)->hold);
}

/// The volts down to which it holds as far as anybody remembers, where what is left lies between them and
/// those at which it surely does.
std::optional<Voltage> remembered_hold(const Situation& s, const Outcome& o) {
    const Coil coil = *coil_of(s, o.at.index);
    if (o.variant == pick_up || coil_fact(s, o) == coil.hold) return std::nullopt;
    const Voltage hold = coil.made_for * threshold(s, coil.hold)->value;
    return number(o.value) < in(unit::volt, hold) ? std::nullopt : std::optional(hold);
}

/// What a coil wants of the volts for which it is made.
Value explain_coil_edge(Working& working, const Situation& s, const Outcome& o) {
    const auto share = *threshold(s, coil_fact(s, o));
    return working.add("U_least", "share * U_coil", "{} * {}",
                       {working.written(to_text(share.value)),
                        working.written(to_text(coil_of(s, o.at.index)->made_for, 6))},
                       "V", {network::cited(share.source)});
}

std::string coil_headline(const Situation& s, const Outcome& o, const Limit& limit) {
    const std::string here = s.plan[o.at.index].words(), set = set_words(s, o.set);
    if (o.variant == pick_up)
        return fmt::format("{}: {} are left at the coil of {} before what it feeds is on; it pulls in at {}",
                           set, to_text(o.value), here, to_text(o.caution));
    if (o.verdict == Verdict::ok)
        return fmt::format("{}: {} are left at the coil of {} while {} starts: it holds", set,
                           to_text(o.value), here, s.plan[limit.reach.starter].words());
    if (const auto hold = remembered_hold(s, o))
        return fmt::format(
            "{}: {} are left at the coil of {} while {} starts; it holds down to {}; that it "
            "holds down to {} is from memory",
            set, to_text(o.value), here, s.plan[limit.reach.starter].words(), to_text(o.caution),
            to_text(*hold));
    return fmt::format("{}: {} are left at the coil of {} while {} starts; it may let go below {}", set,
                       to_text(o.value), here, s.plan[limit.reach.starter].words(), to_text(o.caution));
}

std::string coil_consequence(const Situation& s, const Outcome& o) {
    if (o.variant == pick_up) return "It hums, closes badly or not at all, and its coil gets hot.";
    if (o.variant == other_coil) return "It may drop out: what it feeds stops whenever the other one starts.";
    return std::string(remembered_hold(s, o) ? "It may chatter" : "It chatters") +
           " while its own motor starts: its contacts burn and can weld, and then nothing opens them.";
}

/// What a coil gets, and from which volts on it holds or pulls in.
Explanation explain_coil(const Situation& s, const Outcome& o, const Limit& limit,
                         const Evaluated& evaluated) {
    Explanation e;
    e.place = {s.plan[o.at.index].header, ""};
    if (limit.reach.starter != plan::nowhere)
        e.related.push_back({s.plan[limit.reach.starter].header, "starts"});
    e.sources.push_back(threshold(s, coil_fact(s, o))->source);
    e.headline = coil_headline(s, o, limit);
    Working working;
    const Value left = o.variant == pick_up
                           ? explain_pair(working, s, o.at.index, *evaluated.between,
                                          running_flows(working, s, evaluated.loads), limit.reach.source)
                           : explain_volts_at_start(working, s, limit.reach, evaluated);
    working.compare(left, number(o.value) < number(o.caution) * (1 - 1e-9) ? "<" : ">=",
                    explain_coil_edge(working, s, o));
    e.steps = working.finish();
    if (o.verdict == Verdict::ok) return e;
    e.consequence = coil_consequence(s, o);
    if (o.variant == pick_up) {
        e.remedies = {{Cost::free, "switch it on before the others run"}};
        const Index worst = worst_cable(s, o.at.index);
        if (worst != plan::nowhere && !s.network.house[worst] && s.plan[worst].cable)
            e.remedies.push_back(larger_section(s, worst, "a cord of larger section that its plug takes"));
    } else {
        explain_cure(s, e, o, limit);
    }
    return e;
}

/// A cable before the coil, or before the motor that starts, of which nobody knows the length. Pre: there is
/// one.
Explanation ask_for_coil_run(const Situation& s, const Outcome& o, Index unknown) {
    const plan::Element& run = s.plan[unknown];
    return ask_for_rating(s, o, run.cable ? place_of(run.cable->length, run) : run.header,
                          run.path() + (run.cable ? ".cable.length" : ".cable"),
                          "How long is " + words(s, at_element(unknown), Part::cable) +
                              "? The volts at the coil of " + s.plan[o.at.index].words() + " depend on it",
                          "a tape measure along its way; or a meter's line impedance at the outlet");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    if (o.variant == source_start) return explain_source_start(s, o, limit);
    if (!limit) return ask_for_plate(s, o, o.at.index);
    const Evaluated evaluated = evaluate(s, *limit, set_of(s.plan, o.set).loads);
    if (o.verdict == Verdict::cannot_judge || depends_on_a_run(o, evaluated)) {
        if (evaluated.unknown != plan::nowhere) return ask_for_plate(s, o, evaluated.unknown);
        const std::vector<Index> runs = runs_not_known(s, limit->reach);
        if (o.variant >= own_coil && evaluated.no_resistance == plan::nowhere && !runs.empty())
            return ask_for_coil_run(s, o, runs.front());
        if (evaluated.no_resistance != plan::nowhere) return explain_drop(s, o, *limit);
        if (!std::holds_alternative<std::monostate>(evaluated.at_worst))
            return ask_for_run(s, o, *limit, evaluated);
        return ask_for_source(s, o);
    }
    if (o.variant >= own_coil) return explain_coil(s, o, *limit, evaluated);
    const plan::Element& motor = s.plan[limit->reach.starter];
    const std::string name = motor.words();
    Explanation e;
    e.place = {motor.header, ""};
    e.sources.push_back(threshold(s, "start_dip_least")->source);
    const Measure bound =
        o.verdict == Verdict::fail || std::holds_alternative<std::monostate>(o.caution) ? o.edge : o.caution;
    e.headline = fmt::format(
        "{}: {} gets {} at its start{}; it needs {}", set_words(s, o.set), name, to_text(o.value),
        o.variant == high_estimate ? " if it draws the most that is usual for its kind" : "", to_text(bound));
    Working working;
    const Value left = explain_volts_at_start(working, s, limit->reach, evaluated);
    working.compare(
        left, number(o.value) < number(bound) * (1 - 1e-9) ? "<" : ">=", explain_edge(working, s, o, bound));
    if (!std::holds_alternative<std::monostate>(evaluated.at_weakest_source))
        working.note("What lies before the panel is not known. With as much as " +
                     to_text(*limit->reach.weakest_source) + " there, " +
                     to_text(evaluated.at_weakest_source) + " would be left" +
                     (number(o.value) < number(limit->doubt) ? ": the verdict is the same." : "."));
    e.steps = working.finish();
    if (o.verdict == Verdict::ok) return e;
    if (o.verdict == Verdict::fail) {
        e.short_words =
            fmt::format("{} may not start: it gets {} and needs {}", name, value_words(o), to_text(bound));
        e.consequence = "It hums, pulls its start current for seconds, heats and trips the breaker.";
    } else {
        e.consequence = "It starts slowly under load; lamps dim.";
    }
    explain_cure(s, e, o, *limit);
    return e;
}

}  // namespace

const Rule rule{.id = "volts.start-dip",
                .title = "a motor does not get enough voltage to start",
                .harm = Harm::volts,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::way, More::helps},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::start_dip
