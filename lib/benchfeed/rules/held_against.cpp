// What a reading of the plan is held against.
#include <benchfeed/rules/readings.hpp>

namespace benchfeed::rules {

using plan::Test;

namespace {

template <class Q>
Measure known(const std::optional<Q>& value) {
    return value ? Measure(*value) : Measure{};
}

Held held_at_outlet(const Readings& all, const OutletReadings& r, Test test) {
    const auto with_excess = [&](const std::optional<Impedance>& expected) {
        return expected && all.loop_excess ? Measure(Impedance(*expected + all.loop_excess->value))
                                           : Measure{};
    };
    switch (test) {
        case Test::loop:
            return {known(r.loop), known(r.loop_stop), known(r.loop_doubt)};
        case Test::protective:
            return {known(r.protective.expected), known(r.protective.stop), {}};
        case Test::link:
            return {known(r.round), with_excess(r.round), {}};
        case Test::neutral:
            return {known(r.neutral), with_excess(r.neutral), {}};
        case Test::fall:
            return r.fall ? Held{known(r.fall->expected), known(r.fall->stop), {}} : Held{};
        case Test::insulation:
        case Test::residual:
            break;
    }
    return {};
}

}  // namespace

Held held_against(const Situation& s, const Readings& all, const plan::MeterReading& reading) {
    const Test test = reading.test.get();
    if (test == Test::insulation)
        return {{}, all.insulation_least ? Measure(all.insulation_least->value) : Measure{}, {}, true};
    for (const OutletReadings& r : all.outlets)
        if (s.plan[r.outlet].path() == *reading.at) return held_at_outlet(all, r, test);
    for (const ResidualReading& r : all.residuals)
        if (s.plan[r.device].path() == *reading.at)
            return {{}, r.most ? Measure(r.most->value) : Measure{}, {}};
    for (const MetalReading& r : all.metals)
        if ("metal." + s.plan.metals[r.metal].name == *reading.at)
            return {known(r.protective.expected), known(r.protective.stop), {}};
    return {};
}

std::string_view words(plan::Test test) {
    switch (test) {
        case Test::loop:
            return "fault loop";
        case Test::protective:
            return "protective conductor";
        case Test::link:
            return "line and neutral, linked";
        case Test::neutral:
            return "neutral";
        case Test::insulation:
            return "insulation";
        case Test::fall:
            return "fall of volts under load";
        case Test::residual:
            return "residual device";
    }
    return "";
}

}  // namespace benchfeed::rules
