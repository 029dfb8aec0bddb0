// trip.start-surge: a breaker trips at once when a motor starts, or during a long start.
#include <fmt/format.h>

#include <set>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/network/start.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/starting.hpp>

namespace benchfeed::rules::start_surge {
namespace {

constexpr std::uint8_t low_estimate = 0, high_estimate = 1, long_start = 2, no_band = 3;

using network::Guard;

/// Limits of one device for the start of one motor; false when its band is not published or not known.
bool add_limits(const Situation& s, Yield& yield, const network::LoadPoint& motor, const Guard& guard) {
    const auto margin = threshold(s, "surge_margin");
    const auto carries = network::start_withstand(s.plan, s.tables, guard, false);
    if (!margin || !carries) return false;
    Limit limit;
    limit.at = at_element(guard.element);
    limit.part = part_of(guard);
    limit.reach.kind = Reach::Kind::through_at_start;
    limit.reach.element = guard.element;
    limit.reach.starter = motor.element;
    limit.reach.source = source_seen(s, motor.element).impedance;
    limit.weakest = false;
    if (const auto* device = s.plan[guard.element].as<plan::Device>())
        limit.base = device->other_load.value_or(Current{});
    if (const auto band = network::trip_band(s.plan, s.tables, guard)) {
        limit.reach.high_start = false;
        limit.edge = band->upper;
        limit.ground.grade = band->upper_multiple.source.grade;
        limit.variant = low_estimate;
        yield.limits.push_back(limit);
    }
    limit.reach.high_start = true;
    limit.edge = std::monostate{};
    limit.caution = Current(carries->current * margin->value);
    limit.ground.grade = carries->source.grade;
    limit.variant = high_estimate;
    yield.limits.push_back(limit);
    if (!motor.start->longer_than_a_second) return true;
    if (const auto lasting = network::start_withstand(s.plan, s.tables, guard, true)) {
        limit.caution = lasting->current;
        limit.ground.grade = lasting->source.grade;
        limit.variant = long_start;
        yield.limits.push_back(limit);
    }
    return true;
}

Yield look(const Situation& s) {
    Yield yield;
    std::set<Index> asked;  // one line for each device, however many motors start behind it
    for (const network::LoadPoint& motor : s.network.loads) {
        if (!motor.start) continue;
        for (const Guard& guard :
             network::guards_above(s.plan, s.tables, motor.element, network::Place::whole)) {
            if (guard.known && !guard.overload && !guard.short_circuit) continue;  // no overcurrent part
            if (as_sold(s, guard.element) && guard.plug_fuse)
                continue;  // the tool's own fuse carries its start
            if (add_limits(s, yield, motor, guard)) continue;
            if (!asked.insert(guard.element).second) continue;
            yield.outcomes.push_back(undecided(at_element(guard.element), part_of(guard), no_band));
        }
    }
    return yield;
}

Explanation ask_for_band(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto* device = element.as<plan::Device>();
    const std::string name = words(s, o.at, o.part);
    if (device && !device->rating.known())
        return ask_for_rating(s, o, place_of(device->rating, element), element.path() + ".rating",
                              "What is the rating of " + name + "?", "printed on its handle");
    const bool lettered = device && (device->standard.is(plan::DeviceStandard::iec_60898) ||
                                     device->standard.is(plan::DeviceStandard::iec_61009));
    if (lettered)
        return ask_for_rating(s, o, place_of(device->curve, element), element.path() + ".curve",
                              "Which letter is before the amps of " + name + "?",
                              "printed on its front: B16, C16 ...");
    return ask_for_rating(
        s, o, element.header, "",
        "At how many amps does " + name + " trip at once? No standard prints it for this type of device",
        "the maker's time-current curve; if it trips at starts, that is the answer");
}

void explain_cures(const Situation& s, Explanation& e, const Outcome& o, const Limit& limit) {
    const Index motor = limit.reach.starter;
    const auto& load = *s.plan[motor].as<plan::Load>();
    const std::string name = s.plan[motor].words();
    if (auto first = start_first(s, o, limit)) e.remedies.push_back(std::move(*first));
    // A slower breaker is no cure to print: it opens later in a fault, and nothing here has judged that.
    if (!load.soft_start.is(true))
        e.remedies.push_back(
            {Cost::moderate, "a soft-start module for " + name + ", or a tool that has one"});
}

/// The current from which the device surely trips, or up to which it is sure to carry a start.
Value explain_edge(Working& working, const Situation& s, const Guard& guard, std::uint8_t variant) {
    if (variant == low_estimate)
        return explain_multiple(working, "I_trip", guard,
                                network::trip_band(s.plan, s.tables, guard)->upper_multiple);
    const Value carried = explain_carried(working, s, guard, variant == long_start);
    return variant == long_start ? carried : explain_margin(working, s, carried);
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    if (o.variant == no_band) return ask_for_band(s, o);
    const Evaluated evaluated = evaluate(s, *limit, set_of(s.plan, o.set).loads);
    if (o.verdict == Verdict::cannot_judge) {
        if (evaluated.unknown != plan::nowhere) return ask_for_plate(s, o, evaluated.unknown);
        return rests_on_memory_words(s, o, s.plan[o.at.index].header, {});
    }
    const Index motor = limit->reach.starter;
    const std::string device = words(s, o.at, o.part), name = s.plan[motor].words();
    const auto guard = guard_at(s, motor, o.at.index, o.part);
    const Measure bound = std::holds_alternative<std::monostate>(o.caution) ? o.edge : o.caution;
    Explanation e;
    e.place = {s.plan[o.at.index].header, ""};
    e.related.push_back({s.plan[motor].header, capital(name) + " starts here"});
    if (const auto band = network::trip_band(s.plan, s.tables, *guard)) {
        e.sources.push_back(o.variant == low_estimate ? band->upper_multiple.source
                                                      : band->lower_multiple.source);
    }
    if (const auto carries = network::start_withstand(s.plan, s.tables, *guard, o.variant == long_start))
        if (o.variant != low_estimate) e.sources.push_back(carries->source);
    if (o.variant == high_estimate) e.sources.push_back(threshold(s, "surge_margin")->source);

    Working working;
    const Value start = limit->reach.high_start ? explain_high_start(working, s, motor)
                                                : explain_weakened_start(working, s, limit->reach);
    const std::vector<Index> others(evaluated.loads.begin() + 1, evaluated.loads.end());
    std::vector<Value> amps{start};
    if (!others.empty()) amps.push_back(sum_of(working, s, others, "I_run"));
    if (limit->base > Current{}) amps.push_back(working.written(to_text(limit->base, 6)));
    Value total = start;
    if (amps.size() > 1)
        total =
            working.add("I", "start + what runs", amps.size() == 2 ? "{} + {}" : "{} + {} + {}", amps, "A");
    working.compare(total, number(o.value) > number(bound) * (1 + 1e-9) ? ">" : "<=",
                    explain_edge(working, s, *guard, o.variant));
    e.steps = working.finish();

    e.headline =
        fmt::format("{}: {} through {} while {} starts", set_words(s, o.set), to_text(o.value), device, name);
    if (o.verdict == Verdict::ok) {
        e.headline += "; it carries that";
        return e;
    }
    switch (o.variant) {
        case low_estimate:
            e.headline += fmt::format("; from {} on it trips at once", to_text(bound));
            e.short_words = device + " trips whenever " + name + " starts";
            e.consequence = "It trips at every start, and the bench is in the dark.";
            break;
        case high_estimate:
            e.headline += fmt::format("; above {} it may trip", to_text(bound));
            e.consequence = "It may trip at some starts, most of all when the motor is cold or loaded.";
            break;
        default:
            e.headline += fmt::format("; above {} it may trip when the start lasts", to_text(bound));
            e.consequence = "A start that lasts for seconds may trip its thermal part.";
    }
    explain_cures(s, e, o, *limit);
    return e;
}

}  // namespace

const Rule rule{.id = "trip.start-surge",
                .title = "a device trips when a motor starts",
                .harm = Harm::trip,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::all, More::hurts},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::start_surge
