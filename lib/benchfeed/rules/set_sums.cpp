#include <benchfeed/rules/set_sums.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/evaluate_parts.hpp>

namespace benchfeed::rules {

using network::Extent;
using plan::Conductor;

namespace {

constexpr std::size_t many = 32;  ///< smaller sets are evaluated one limit at a time
constexpr auto line = static_cast<std::size_t>(Conductor::l1),
               neutral = static_cast<std::size_t>(Conductor::n);

std::complex<double> ohms_of(const std::array<ComplexImpedance, network::live_conductors>& z) {
    return {in(unit::ohm, real_part(z[line])) + in(unit::ohm, real_part(z[neutral])),
            in(unit::ohm, imag_part(z[line])) + in(unit::ohm, imag_part(z[neutral]))};
}

}  // namespace

SetSums::SetSums(const Situation& situation, std::span<const Index> loads) : s_(situation), loads_(loads) {
    if (loads.size() < many) return;
    supply_ = s_.plan.supply_index_of(loads.front());
    const auto& conductors = s_.plan[supply_].conductors;
    one_line_ = conductors.known() && conductors->lines() == 1 && conductors->has(Conductor::l1) &&
                conductors->has(Conductor::n);
    for (const Index load : loads) {
        const network::LoadPoint& point = s_.network.loads[s_.network.load_of[load]];
        const Plane amps = ampere_plane(point, line);
        const bool out_and_back = std::abs(amps + ampere_plane(point, neutral)) <= 1e-12 * std::abs(amps);
        one_line_ = one_line_ && point.known() && out_and_back && s_.plan.supply_index_of(load) == supply_;
        if (!one_line_) return;
        if (amps == 0.0) continue;
        latest_ = std::min(latest_, std::arg(amps));
        earliest_ = std::max(earliest_, std::arg(amps));
    }
    ordered_ = std::any_of(s_.plan.together.begin(), s_.plan.together.end(),
                           [](const auto& set) { return !set.start_indices.empty(); });
    place_.assign(s_.plan.elements.size(), plan::nowhere);
    for (const Index load : loads)
        for (Index up = load; up != plan::nowhere; up = s_.plan[up].parent) {
            if (place_[up] == plan::nowhere) {
                place_[up] = static_cast<Index>(drawn_.size());
                drawn_.emplace_back();
                plain_.emplace_back();
            }
            const Plane amps = ampere_plane(s_.network.loads[s_.network.load_of[load]], line);
            drawn_[place_[up]] += amps;
            plain_[place_[up]] += std::abs(amps);
        }
}

SetSums::Plane SetSums::ohms(Index element, Extent extent) const {
    return ohms_of(network::impedance_to(s_.plan, s_.network, element, extent));
}

/// Its volts are those of one line, all that counts is known, and nothing of the set is left out.
bool SetSums::at_hand(const Limit& limit) const {
    using Kind = Reach::Kind;
    const Kind kind = limit.reach.kind;
    if (!one_line_ || (kind != Kind::lost_to && kind != Kind::left_at && kind != Kind::left_at_start))
        return false;
    const Index element = limit.reach.element;
    if (element == plan::nowhere || place_[element] == plan::nowhere) return false;
    if (kind != Kind::left_at_start) return s_.plan[element].kind == plan::Kind::load;
    const Index starter = limit.reach.starter;
    const auto pairs = pairs_at(s_, element);
    const bool across =
        pairs.size() == 1 && pairs.front().from == Conductor::l1 && pairs.front().to == Conductor::n;
    return across && !ordered_ && s_.network.loads[s_.network.load_of[starter]].start &&
           place_[starter] != plan::nowhere;
}

/// |sent - sum of what counts| where it is sure of each share whether it lies against what is left.
std::optional<double> SetSums::left(Plane sent, const std::vector<Share>& shares) const {
    constexpr double margin = 1e-9;
    Plane rest = sent;
    for (const Share& share : shares) rest -= share.ohms * share.drawn;
    for (int guess = 0; guess < 4; ++guess) {
        if (std::abs(rest) == 0) return std::nullopt;
        const double direction = std::arg(rest);
        Plane next = sent;
        for (const Share& share : shares) {
            if (share.ohms == 0.0 || share.drawn == 0.0) continue;
            const auto off = [&](double angle) {
                return std::abs(
                    std::remainder(std::arg(share.ohms) + angle - direction, 2 * std::numbers::pi));
            };
            const double nearest = std::min(off(latest_), off(earliest_)),
                         farthest = std::max(off(latest_), off(earliest_));
            if (farthest < std::numbers::pi / 2 - margin)
                next -= share.ohms * share.drawn;  // all of them lower it
            else if (nearest <= std::numbers::pi / 2 + margin)
                return std::nullopt;
        }
        if (std::abs(next - rest) <= 1e-12 * std::abs(rest)) return std::abs(next);
        rest = next;
    }
    return std::nullopt;
}

std::optional<double> SetSums::left_running(const Limit& limit, Extent extent) const {
    const Index target = limit.reach.element;
    std::vector<Share> shares;  // loads that leave the way at the same place share the same ohms
    Plane behind = 0;
    for (Index up = target; up != plan::nowhere; up = s_.plan[up].parent) {
        shares.push_back({ohms(up, extent), drawn(up) - behind});
        behind = drawn(up);
    }
    const auto nominal = network::nominal_between(s_.plan.supply_of(target),
                                                  s_.network.loads[s_.network.load_of[target]].conductors);
    return left(in(unit::volt, nominal), shares);
}

std::optional<double> SetSums::left_at_start(const Limit& limit, const std::optional<Impedance>& source,
                                             Extent extent) const {
    const Index target = limit.reach.element, starter = limit.reach.starter;
    const network::LoadPoint& motor = s_.network.loads[s_.network.load_of[starter]];
    const double before = source ? in(unit::ohm, *source) : 0.0;
    const Current amps = limit.reach.high_start ? motor.start->high : motor.start->low;
    const double cosine = limit.reach.high_start ? 1.0 : in(unit::one, motor.start->low_power_factor);
    const Plane angle{cosine, std::sqrt(std::max(0.0, 1 - cosine * cosine))};
    const double plate = in(unit::volt, network::plate_voltage(s_.plan, starter));
    const Plane loop = plate / in(unit::ampere, amps) * angle + ohms(starter, extent) + before;
    const auto& supply = s_.plan.supply_of(starter);
    const VoltagePhasor across =
        network::nominal_voltage(supply, Conductor::l1) - network::nominal_voltage(supply, Conductor::n);
    const Plane nominal{in(unit::volt, real_part(across)), in(unit::volt, imag_part(across))};
    const auto common = [&](Index other) {
        for (Index up = other; up != plan::nowhere; up = s_.plan[up].parent)
            if (s_.network.hangs_below(starter, up)) return up;
        return plan::nowhere;
    };
    const Index fork = common(target);
    if (fork == plan::nowhere) return std::nullopt;
    const Plane to_fork = ohms(fork, extent) + before;
    const Plane weakened = to_fork / loop;
    const Plane own = ampere_plane(motor, line);
    std::vector<Share> shares;
    // Up from an end to the fork, then on: what hangs at each place beside the way, the starter left out.
    const auto walk = [&](Index from, bool at_starter) {
        Plane behind = 0;
        for (Index up = from; up != fork; up = s_.plan[up].parent) {
            const Plane here = drawn(up) - (at_starter ? own : 0.0);
            const Plane z = ohms(up, extent) + before;
            const Plane seen = at_starter ? to_fork - weakened * z : z - weakened * to_fork;
            shares.push_back({seen, here - behind});
            behind = here;
        }
        return behind;
    };
    Plane behind = walk(target, false) + walk(starter, true);
    for (Index up = fork; up != plan::nowhere; up = s_.plan[up].parent) {
        const Plane here = drawn(up) - own, z = ohms(up, extent) + before;
        shares.push_back({z - weakened * z, here - behind});
        behind = here;
    }
    return left(nominal - to_fork * nominal / loop, shares);
}

/// Plain amps of what runs behind the element beside the start.
Evaluated SetSums::through_at_start(const Limit& limit) const {
    const Index element = limit.reach.element, starter = limit.reach.starter;
    if (!holds(loads_, starter)) return {};
    const std::vector<Index> alone{starter};
    Evaluated result = evaluate(s_, limit, alone);
    double beside = place_[element] == plan::nowhere ? 0.0 : plain_[place_[element]];
    if (s_.network.hangs_below(starter, element))
        beside -= std::abs(ampere_plane(s_.network.loads[s_.network.load_of[starter]], line));
    result.value = Current(std::get<Current>(result.value) + beside * unit::ampere);
    return result;
}

Evaluated SetSums::evaluated(const Limit& limit) const {
    if (one_line_ && !ordered_ && limit.reach.kind == Reach::Kind::through_at_start)
        return through_at_start(limit);
    if (!at_hand(limit)) return evaluate(s_, limit, loads_);
    const Reach& reach = limit.reach;
    const bool starts = reach.kind == Reach::Kind::left_at_start;
    if (!holds(loads_, starts ? reach.starter : reach.element)) return {};
    const auto volts = [&](Extent extent) {
        return starts ? left_at_start(limit, reach.source, extent) : left_running(limit, extent);
    };
    const Voltage nominal = network::nominal_between(
        s_.plan.supply_of(reach.element), s_.plan[reach.element].conductors.value_or(plan::Conductors{}));
    const auto measure = [&](double left) -> Measure {
        if (reach.kind == Reach::Kind::lost_to) return Ratio((nominal - left * unit::volt) / nominal);
        return left * unit::volt;
    };
    Evaluated result;
    result.loads = {reach.element};
    const auto near = volts(Extent::near_end);
    if (!near) return evaluate(s_, limit, loads_);
    result.value = measure(*near);
    const auto unknown = runs_not_known(s_, reach);
    for (const Index branch : unknown)
        if (s_.network.branches[branch].no_resistance) result.no_resistance = branch;
    if (!unknown.empty()) {
        const auto far = volts(Extent::far_end);
        if (!far) return evaluate(s_, limit, loads_);
        result.at_worst = measure(*far);
    }
    if (starts && reach.weakest_source) {
        const auto weakest = left_at_start(limit, reach.weakest_source, Extent::far_end);
        if (!weakest) return evaluate(s_, limit, loads_);
        result.at_weakest_source = measure(*weakest);
    }
    return result;
}

}  // namespace benchfeed::rules
