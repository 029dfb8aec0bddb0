// What a set amounts to while one of its motors starts.
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/evaluate_parts.hpp>

namespace benchfeed::rules {

using network::live_conductors;
using network::LoadPoint;
using plan::Conductor;

namespace {

VoltagePhasor volts(Plane number) {
    return rectangular(number.real() * unit::volt, number.imag() * unit::volt);
}

Plane plain(const VoltagePhasor& v) {
    return {in(unit::volt, real_part(v)), in(unit::volt, imag_part(v))};
}

/// By how much a running load lowers the start current of the loop.
Plane less_current(const Situation& s, const Reach& reach, const StartSeen& start, const LoadPoint& running,
                   network::Extent extent) {
    if (start.loop == 0.0) return 0;
    const auto z = shared_ohms(s, reach, reach.starter, running.element, extent);
    Plane lost = 0;
    for (std::size_t c = 0; c < live_conductors; ++c)
        lost += start.pattern[c] * z[c] * ampere_plane(running, c);
    return lost / start.loop;
}

/// Volts between two conductors of the target while the motor starts. Everything is linear in what runs: each
/// running load takes its share, less what it takes from the start.
VoltTerms terms_at_start(const Situation& s, const Reach& reach, const StartSeen& start, network::Pair pair,
                         const std::vector<const LoadPoint*>& others, network::Extent extent) {
    const plan::Supply& supply = s.plan.supply_of(reach.element);
    const auto from = line_index(pair.from), to = line_index(pair.to);
    const auto to_motor = shared_ohms(s, reach, reach.element, reach.starter, extent);
    const Plane per_ampere = to_motor[from] * start.pattern[from] - to_motor[to] * start.pattern[to];
    const Plane sent = plain(network::nominal_voltage(supply, pair.from)) -
                       plain(network::nominal_voltage(supply, pair.to)) -
                       (to_motor[from] * start.drawn[from] - to_motor[to] * start.drawn[to]);
    VoltTerms terms{pair, volts(sent), {}};
    for (const LoadPoint* load : others) {
        const auto z = shared_ohms(s, reach, reach.element, load->element, extent);
        const Plane lost = z[from] * ampere_plane(*load, from) - z[to] * ampere_plane(*load, to);
        terms.shares.push_back(volts(per_ampere * less_current(s, reach, start, *load, extent) - lost));
    }
    return terms;
}

/// What the starter draws while the loads that count run.
std::array<CurrentPhasor, live_conductors> start_draw(const Situation& s, const Reach& reach,
                                                      const std::vector<Index>& running) {
    const auto extent = network::Extent::near_end;
    const StartSeen start = start_seen(s, reach, extent);
    Plane less = 0;
    for (const Index load : running)
        less += less_current(s, reach, start, s.network.loads[s.network.load_of[load]], extent);
    std::array<CurrentPhasor, live_conductors> draw{};
    for (std::size_t c = 0; c < live_conductors; ++c) {
        const Plane drawn = start.drawn[c] - start.pattern[c] * less;
        draw[c] = rectangular(drawn.real() * unit::ampere, drawn.imag() * unit::ampere);
    }
    return draw;
}

/// Loads of a declared set that its start_order puts behind the starter: they do not run yet. Where several
/// sets have these loads, those that all of them put there.
std::vector<Index> not_running_yet(const Situation& s, std::span<const Index> set_loads, Index starter) {
    const auto& declared = s.plan.together;
    if (std::all_of(declared.begin(), declared.end(),
                    [](const auto& set) { return set.start_indices.empty(); }))
        return {};
    std::optional<std::vector<Index>> later;
    for (const plan::RunSet& set : s.plan.sets) {
        if (!std::equal(set.loads.begin(), set.loads.end(), set_loads.begin(), set_loads.end())) continue;
        std::vector<Index> behind;
        if (set.declared != plan::nowhere) {
            const auto& order = s.plan.together[set.declared].start_indices;
            const auto at = std::find(order.begin(), order.end(), starter);
            if (at != order.end()) behind.assign(at + 1, order.end());
        }
        if (later)
            std::erase_if(*later, [&](Index load) {
                return std::find(behind.begin(), behind.end(), load) == behind.end();
            });
        else
            later = std::move(behind);
    }
    return later.value_or(std::vector<Index>{});
}

/// What may run while a load of a set starts.
std::vector<const LoadPoint*> beside_a_start(const Situation& s, std::span<const Index> set_loads,
                                             Index below, Index starter) {
    auto others = members(s, set_loads, below);
    const std::vector<Index> later = not_running_yet(s, set_loads, starter);
    std::erase_if(others, [&](const LoadPoint* load) {
        return load->element == starter ||
               std::find(later.begin(), later.end(), load->element) != later.end();
    });
    return others;
}

}  // namespace

StartSeen start_seen(const Situation& s, const Reach& reach, network::Extent extent) {
    const LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    const network::Start& estimate = *motor.start;
    const double amps = in(unit::ampere, reach.high_start ? estimate.high : estimate.low);
    const double cosine = reach.high_start ? 1.0 : in(unit::one, estimate.low_power_factor);
    const Plane angle{cosine, std::sqrt(std::max(0.0, 1 - cosine * cosine))};  // of the impedance, R + jX
    const double plate = in(unit::volt, network::plate_voltage(s.plan, reach.starter));
    const auto z = shared_ohms(s, reach, reach.starter, reach.starter, extent);
    const auto nominal = [&](Conductor c) {
        return plain(network::nominal_voltage(s.plan.supply_of(reach.starter), c));
    };
    StartSeen start;
    if (const auto pair = network::pair_of(motor.conductors)) {
        const auto from = line_index(pair->from), to = line_index(pair->to);
        start.loop = plate / amps * angle + z[from] + z[to];
        start.pattern[from] = 1.0;
        start.pattern[to] = -1.0;
        const Plane current = (nominal(pair->from) - nominal(pair->to)) / start.loop;
        for (std::size_t c = 0; c < live_conductors; ++c) start.drawn[c] = current * start.pattern[c];
    } else {  // three lines: a star whose middle stays where it is
        for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
            start.drawn[line_index(line)] =
                nominal(line) / (plate / std::sqrt(3.0) / amps * angle + z[line_index(line)]);
    }
    return start;
}

std::array<Plane, live_conductors> shared_ohms(const Situation& s, const Reach& reach, Index a, Index b,
                                               network::Extent extent) {
    const auto common = network::common_impedance(s.plan, s.network, a, b, extent);
    const double source = reach.source ? in(unit::ohm, *reach.source) / 2 : 0.0;
    std::array<Plane, live_conductors> z{};
    for (std::size_t c = 0; c < live_conductors; ++c)
        z[c] = {in(unit::ohm, real_part(common[c])) + source, in(unit::ohm, imag_part(common[c]))};
    return z;
}

double start_amperes(const Situation& s, const Reach& reach, const StartSeen& start, std::size_t conductor) {
    if (std::abs(start.drawn[conductor]) == 0) return 0;
    if (!reach.high_start) return std::abs(start.drawn[conductor]);
    const LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    return in(unit::ampere, Current(motor.start->high * network::volts_above_plate(s.plan, motor.element)));
}

std::vector<VoltTerms> terms_at_start(const Situation& s, const Reach& reach,
                                      const std::vector<const LoadPoint*>& others, network::Extent extent) {
    const StartSeen start = start_seen(s, reach, extent);
    std::vector<VoltTerms> pairs;
    for (const network::Pair& pair : pairs_at(s, reach.element))
        pairs.push_back(terms_at_start(s, reach, start, pair, others, extent));
    return pairs;
}

std::vector<Index> runs_not_known(const Situation& s, const Reach& reach) {
    std::vector<Index> runs = network::unknown_branches(s.plan, s.network, reach.element);
    if (reach.starter == plan::nowhere || reach.starter == reach.element) return runs;
    for (const Index run : network::unknown_branches(s.plan, s.network, reach.starter))
        if (!holds(runs, run)) runs.push_back(run);
    return runs;
}

Evaluated left_at_start(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Reach& reach = limit.reach;
    if (!holds(set_loads, reach.starter) || !runs_behind(s, set_loads, reach.element)) return result;
    const auto others = beside_a_start(s, set_loads, s.plan.supply_index_of(reach.starter), reach.starter);
    result.arithmetic = any_factor_unknown(others);
    result.unknown = unknown_among(others, limit.weight);
    const std::vector<Index> unknown_runs = runs_not_known(s, reach);
    for (const Index branch : unknown_runs)
        if (s.network.branches[branch].no_resistance && result.no_resistance == plan::nowhere)
            result.no_resistance = branch;
    if (!unknown_runs.empty())
        result.at_worst = fewest_of(terms_at_start(s, reach, others, network::Extent::far_end)).volts;
    const FewestVolts fewest = fewest_of(terms_at_start(s, reach, others, network::Extent::near_end));
    result.value = fewest.volts;
    if (reach.weakest_source) {
        Reach weakest = reach;
        weakest.source = reach.weakest_source;
        result.at_weakest_source =
            fewest_of(terms_at_start(s, weakest, others, network::Extent::far_end)).volts;
    }
    result.between = fewest.between;
    const std::vector<Index> running = who_counts(others, fewest, reach.element);
    result.start_draw = start_draw(s, reach, running);
    result.loads.push_back(reach.starter);
    result.loads.insert(result.loads.end(), running.begin(), running.end());
    return result;
}

Evaluated through_at_start(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Reach& reach = limit.reach;
    if (!holds(set_loads, reach.starter)) return result;
    const auto others = beside_a_start(s, set_loads, reach.element, reach.starter);
    result.arithmetic = true;
    result.unknown = unknown_among(others, limit.weight);
    // The high estimate stands at the motor's terminals; the low one is what the cables let through.
    const StartSeen start = start_seen(s, reach, network::Extent::far_end);
    double worst = 0;
    std::size_t worst_line = 0;
    for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
        const auto c = line_index(line);
        double sum = start_amperes(s, reach, start, c);
        if (sum == 0) continue;
        for (const LoadPoint* load : others) sum += std::abs(ampere_plane(*load, c));
        if (sum > worst) {
            worst = sum;
            worst_line = c;
        }
    }
    result.loads.push_back(reach.starter);
    for (const LoadPoint* load : others)
        if (std::abs(ampere_plane(*load, worst_line)) > 0) result.loads.push_back(load->element);
    result.value = Current(worst * unit::ampere + limit.base);
    return result;
}

}  // namespace benchfeed::rules
