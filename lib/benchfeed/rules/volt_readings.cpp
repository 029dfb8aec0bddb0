#include <benchfeed/rules/volt_readings.hpp>

#include <algorithm>

#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules {

using plan::Test;
using Of = figures::thresholds;

namespace {

VoltReading beside(const Situation& s, Test test, Voltage nominal) {
    const auto apart = Of::volt_reading(s.tables);
    const double share = in(unit::one, apart.value);
    return {
        test,          nominal, Voltage(nominal * (1 - share)), std::nullopt, Voltage(nominal * (1 + share)),
        {apart.source}};
}

}  // namespace

std::vector<VoltReading> volt_readings(const Situation& s, plan::Index outlet) {
    const auto conductors = s.plan[outlet].conductors.value_or(plan::Conductors{});
    const auto& supply = s.plan.supply_of(outlet);
    const bool neutral = conductors.has(plan::Conductor::n),
               earthed = !is_floating(s, outlet) && !supply.earthing.is(plan::Earthing::it) &&
                         !supply.earthing.is(plan::Earthing::none);
    const Voltage to_neutral = magnitude(network::nominal_voltage(supply, plan::Conductor::l1));
    std::vector<VoltReading> all;
    if (conductors.lines() > 1)
        all.push_back(beside(s, Test::lines, network::nominal_between(supply, conductors)));
    if (neutral) all.push_back(beside(s, Test::line_to_neutral, to_neutral));
    if (earthed) all.push_back(beside(s, Test::line_to_earth, to_neutral));
    if (neutral && earthed) {
        const auto doubt = Of::neutral_to_earth(s.tables), most = Of::neutral_to_earth_most(s.tables);
        all.push_back({Test::neutral_to_earth,
                       Voltage(0.0 * unit::volt),
                       std::nullopt,
                       doubt.value,
                       most.value,
                       {doubt.source, most.source}});
    }
    if (neutral && conductors.lines() > 1) {
        const auto most = Of::neutral_rise(s.tables);
        all.push_back({Test::rise, std::nullopt, std::nullopt, std::nullopt, most.value, {most.source}});
    }
    return all;
}

std::optional<VoltReading> volt_reading(const Situation& s, plan::Index outlet, Test test) {
    const auto all = volt_readings(s, outlet);
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const VoltReading& r) { return r.test == test; });
    return found == all.end() ? std::nullopt : std::optional(*found);
}

}  // namespace benchfeed::rules
