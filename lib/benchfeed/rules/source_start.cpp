#include <benchfeed/rules/source_start.hpp>

#include <fmt/format.h>

#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/starting.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

/// What a start is held against: the maker's figure, or a multiple of what a generator gives for hours.
struct Allowed {
    SourceAmps from;
    Current amps{};
    std::optional<tables::Figure<Ratio>> multiple;  ///< nothing: the maker's figure
};

std::optional<Allowed> allowed(const Situation& s, Index supply) {
    if (const auto starts = amps_for_starts(s, supply)) return Allowed{*starts, starts->amps, {}};
    const auto hours = amps_for_hours(s, supply);
    const auto multiple = figures::thresholds::source_start(s.tables);
    const bool inverter = s.plan.supply_of(supply).source.is(plan::SupplySource::inverter);
    if (inverter || !hours) return std::nullopt;
    return Allowed{*hours, Current(hours->amps * multiple.value), multiple};
}

Explanation ask_for_start_power(const Situation& s, const Outcome& o, Index motor) {
    const plan::Element& supply = s.plan[s.plan.supply_index_of(motor)];
    const auto& what = *supply.as<plan::Supply>();
    return ask_for_rating(
        s, o, place_of(what.start_power, supply), supply.path() + ".start_power",
        fmt::format("What may {} give while {} starts?", source_place(s, motor), s.plan[motor].words()),
        "its manual: motor starting, or peak power and for how many seconds");
}

Value explain_start(Working& working, const Situation& s, const Limit& limit, const Evaluated& evaluated) {
    const Value start = limit.reach.high_start ? explain_high_start(working, s, limit.reach.starter)
                                               : explain_weakened_start(working, s, limit.reach);
    const std::vector<Index> others(evaluated.loads.begin() + 1, evaluated.loads.end());
    if (others.empty()) return start;
    return working.add("I", "start + what runs", "{} + {}", {start, sum_of(working, s, others, "I_run")},
                       "A");
}

Value explain_allowed(Working& working, const Allowed& most) {
    const Value amps = explain_source_amps(working, most.from);
    if (!most.multiple) return amps;
    return working.add("I_most", "multiple * I_source", "{} * {}",
                       {working.written(to_text(most.multiple->value)), amps}, "A",
                       {network::cited(most.multiple->source)});
}

}  // namespace

void add_source_start(const Situation& s, Yield& yield, const network::LoadPoint& motor) {
    const Index supply = s.plan.supply_index_of(motor.element);
    const auto most = allowed(s, supply);
    if (!most) {
        yield.outcomes.push_back(undecided(at_element(motor.element), Part::whole, source_start));
        return;
    }
    Limit limit;
    limit.at = at_element(motor.element);
    limit.reach.kind = Reach::Kind::through_at_start;
    limit.reach.element = supply;
    limit.reach.starter = motor.element;
    limit.basis = most->multiple ? Basis::practice : Basis::marking;
    limit.caution_basis = limit.basis;
    limit.weakest = false;
    limit.variant = source_start;
    if (most->multiple) limit.ground.grade = most->multiple->source.grade;
    limit.caution = most->amps;
    yield.limits.push_back(limit);
    // The low end is certain. W count at the power factor of a start, which nobody prints.
    if (most->multiple || most->from.active()) return;
    limit.reach.high_start = false;
    limit.caution = std::monostate{};
    limit.edge = most->amps;
    yield.limits.push_back(limit);
}

Explanation explain_source_start(const Situation& s, const Outcome& o, const Limit* limit) {
    const Index motor = o.at.index, supply = s.plan.supply_index_of(motor);
    if (!limit) return ask_for_start_power(s, o, motor);
    const Evaluated evaluated = evaluate(s, *limit, set_of(s.plan, o.set).loads);
    if (o.verdict == Verdict::cannot_judge)
        return evaluated.unknown != plan::nowhere ? ask_for_plate(s, o, evaluated.unknown)
                                                  : ask_for_start_power(s, o, motor);
    const Allowed most = *allowed(s, supply);
    const std::string name = s.plan[motor].words(), source = source_place(s, motor);
    Explanation e;
    e.place = {s.plan[motor].header, ""};
    e.related.push_back({s.plan[supply].header, capital(source) + " gives " + plate_words(most.from)});
    if (most.multiple) e.sources.push_back(most.multiple->source);
    Working working;
    const Value start = explain_start(working, s, *limit, evaluated);
    working.compare(
        start, above(std::get<Current>(o.value), most.amps) ? ">" : "<=", explain_allowed(working, most));
    e.steps = working.finish();
    e.headline = fmt::format(
        "{}: {} from {} while {} starts; {} {}", set_words(s, o.set), to_text(o.value), source, name,
        most.multiple ? "an alternator seldom starts more than" : "its maker allows", to_text(most.amps));
    if (o.verdict == Verdict::ok) return e;
    e.short_words = fmt::format("{} may not start on {}", name, source);
    e.consequence = "The volts sag, the motor hums and does not run up, and whatever else runs suffers.";
    if (auto first = start_first(s, o, *limit)) e.remedies.push_back(std::move(*first));
    if (!s.plan[motor].as<plan::Load>()->soft_start.is(true))
        e.remedies.push_back({Cost::moderate, "a soft-start module for it, or a tool that has one"});
    return e;
}

}  // namespace benchfeed::rules
