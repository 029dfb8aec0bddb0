// What the loads of a set amount to at a limit, each kind of reach in its own function.
#include <algorithm>
#include <complex>
#include <limits>

#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/evaluate_parts.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/worst_subset.hpp>

namespace benchfeed::rules {

using network::live_conductors;
using network::LoadPoint;
using plan::Conductor;

std::vector<const LoadPoint*> members(const Situation& s, std::span<const Index> set_loads, Index below) {
    std::vector<const LoadPoint*> found;
    for (const Index element : set_loads) {
        const Index position = s.network.load_of[element];
        if (position != plan::nowhere && s.network.hangs_below(element, below))
            found.push_back(&s.network.loads[position]);
    }
    return found;
}

bool holds(std::span<const Index> set_loads, Index load) {
    return std::find(set_loads.begin(), set_loads.end(), load) != set_loads.end();
}

bool runs_behind(const Situation& s, std::span<const Index> set_loads, Index element) {
    return std::any_of(set_loads.begin(), set_loads.end(),
                       [&](Index load) { return s.network.hangs_below(load, element); });
}

std::vector<network::Pair> pairs_at(const Situation& s, Index element) {
    if (const auto coil = coil_of(s, element)) return coil->pairs;
    const network::Pairs pairs = network::pairs_of(s.plan[element].conductors.value_or(plan::Conductors{}));
    return {pairs.begin(), pairs.end()};
}

Index unknown_among(const std::vector<const LoadPoint*>& loads, const Weight& weight) {
    for (const LoadPoint* load : loads)
        if (!load->known() && in(unit::one, weight.of(*load)) > 0) return load->element;
    return plan::nowhere;
}

bool any_factor_unknown(const std::vector<const LoadPoint*>& loads) {
    return std::any_of(loads.begin(), loads.end(),
                       [](const LoadPoint* load) { return !load->power_factor_known; });
}

FewestVolts fewest_of(const std::vector<VoltTerms>& pairs) {
    FewestVolts fewest;
    for (const VoltTerms& terms : pairs) {
        Worst worst = worst_of(terms.start, terms.shares);
        if (worst.left < fewest.volts) fewest = {worst.left, terms.between, std::move(worst.members)};
    }
    return fewest;
}

std::vector<Index> who_counts(const std::vector<const LoadPoint*>& loads, const FewestVolts& fewest,
                              Index target) {
    std::vector<Index> counted;
    for (std::size_t i = 0; i < loads.size(); ++i)
        if (fewest.members[i] || !loads[i]->known() || loads[i]->element == target)
            counted.push_back(loads[i]->element);
    return counted;
}

namespace {

/// What a load puts on a neutral. Where its power factor is not known it may lag by as much as its kind does.
Fan fan_on_neutral(const LoadPoint& load, Ratio weight) {
    const CurrentPhasor drawn = load.draw[static_cast<std::size_t>(Conductor::n)];
    return {CurrentPhasor(weight * drawn),
            load.power_factor_known ? 1.0 * unit::one : load.least_power_factor};
}

/// Loads of several lines relieve each other on a neutral, as far as their angles are sure.
Current worst_on_neutral(const std::vector<const LoadPoint*>& loads, const Weight& weight) {
    std::vector<Fan> fans;
    for (const LoadPoint* load : loads) {
        const Fan fan = fan_on_neutral(*load, weight.of(*load));
        if (magnitude(fan.in_phase) > Current{}) fans.push_back(fan);
    }
    return largest_sum_of_fans(fans);
}

/// On a line magnitudes add where an angle is not known.
Current worst_on_line(const std::vector<const LoadPoint*>& loads, const Weight& weight, std::size_t line,
                      bool arithmetic) {
    std::vector<CurrentPhasor> shares;
    for (const LoadPoint* load : loads) {
        const CurrentPhasor drawn = Ratio(weight.of(*load)) * load->draw[line];
        if (magnitude(drawn) > Current{})
            shares.push_back(arithmetic ? rectangular(magnitude(drawn), Current{}) : drawn);
    }
    return largest_sum(shares);
}

Evaluated through(const Situation& s, const Limit& limit, Index element, std::span<const Index> set_loads) {
    Evaluated result;
    const auto loads = members(s, set_loads, element);
    result.arithmetic = any_factor_unknown(loads);
    result.unknown = unknown_among(loads, limit.weight);
    Current worst{};
    std::size_t worst_conductor = 0;
    // With one line the neutral carries what the line does.
    const bool one_line = s.plan[s.plan.supply_index_of(element)].conductors->lines() == 1;
    for (std::size_t c = 0; c < (one_line ? 1 : live_conductors); ++c) {
        const Current here = c == static_cast<std::size_t>(Conductor::n)
                                 ? worst_on_neutral(loads, limit.weight)
                                 : worst_on_line(loads, limit.weight, c, result.arithmetic);
        if (here > worst) {
            worst = here;
            worst_conductor = c;
        }
    }
    // The loads of the conductor that carries most; all of them while nobody knows what they draw.
    for (const LoadPoint* load : loads) {
        const bool counts = in(unit::one, limit.weight.of(*load)) > 0;
        const bool there =
            !(worst > Current{}) || magnitude(load->draw[worst_conductor]) > Current{} || !load->known();
        if (counts && there) result.loads.push_back(load->element);
    }
    result.value = Current(worst + limit.base);
    return result;
}

/// The child that loads its way of the outlet most.
Evaluated largest_way(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated largest;
    largest.value = Current(0.0 * unit::ampere);
    for (const Index child : s.plan[limit.reach.element].children) {
        if (!s.plan[child].plug.known() && !s.plan[child].plug.stated_unknown)
            continue;  // wired on behind the terminals
        Evaluated way = through(s, limit, child, set_loads);
        if (way.unknown != plan::nowhere) largest.unknown = way.unknown;
        if (number(way.value) <= number(largest.value) && !largest.loads.empty()) continue;
        way.unknown = largest.unknown;
        largest = std::move(way);
    }
    return largest;
}

/// Between pairs of conductors at an element; the source, where it is counted, has half its ohms in each.
template <class SomePairs>
std::vector<VoltTerms> terms_between(const Situation& s, Index target, const SomePairs& between,
                                     const std::vector<const LoadPoint*>& loads, network::Extent extent,
                                     std::optional<Impedance> source = {}) {
    const plan::Supply& supply = s.plan.supply_of(target);
    const auto before = rectangular(Impedance(source.value_or(0.0 * unit::ohm) * 0.5), 0.0 * unit::ohm);
    std::vector<VoltTerms> pairs;
    for (const network::Pair& pair : between) {
        const auto from = static_cast<std::size_t>(pair.from), to = static_cast<std::size_t>(pair.to);
        VoltTerms terms{
            pair,
            network::nominal_voltage(supply, pair.from) - network::nominal_voltage(supply, pair.to),
            {}};
        for (const LoadPoint* load : loads) {
            const auto z = network::common_impedance(s.plan, s.network, target, load->element, extent);
            const VoltagePhasor lost = ComplexImpedance(z[from] + before) * load->draw[from] -
                                       ComplexImpedance(z[to] + before) * load->draw[to];
            terms.shares.push_back(-lost);
        }
        pairs.push_back(std::move(terms));
    }
    return pairs;
}

std::vector<VoltTerms> terms_at(const Situation& s, Index target, const std::vector<const LoadPoint*>& loads,
                                network::Extent extent, std::optional<Impedance> source = {}) {
    return terms_between(s, target, pairs_at(s, target), loads, extent, source);
}

// ---- neutral ----------------------------------------------------------------------------------------

/// Linear loads at their worst subset; electronic ones on three lines do not cancel: their third harmonics
/// add, a factor of practice times the largest line's share. On two lines of opposite sign they do cancel.
Evaluated through_neutral(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const auto loads = members(s, set_loads, limit.reach.element);
    result.arithmetic = any_factor_unknown(loads);
    result.unknown = unknown_among(loads, limit.weight);
    const auto n = static_cast<std::size_t>(Conductor::n);
    const bool three = s.plan.supply_of(limit.reach.element).system.is(plan::System::v230_400) ||
                       s.plan.supply_of(limit.reach.element).system.is(plan::System::v120_208);
    const Ratio triplen = figures::thresholds::triplen_neutral(s.tables).value;
    std::vector<Fan> linear;
    std::array<double, live_conductors> electronic{};
    for (const LoadPoint* load : loads) {
        const Plane share = ampere_plane(*load, n);
        if (std::abs(share) == 0) continue;
        result.loads.push_back(load->element);
        if (!three || !load->electronic) {
            linear.push_back(fan_on_neutral(*load, 1.0 * unit::one));
            continue;
        }
        for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
            electronic[line_index(line)] += std::abs(ampere_plane(*load, line_index(line)));
    }
    const double most = *std::max_element(electronic.begin(), electronic.end());
    // ... and no neutral carries more than the plain sum of what its loads draw.
    double plain_sum = 0;
    for (const double line : electronic) plain_sum += line;
    const double harmonics = std::min(in(unit::one, triplen) * most, plain_sum);
    result.value = Current(largest_sum_of_fans(linear) + harmonics * unit::ampere);
    return result;
}

/// Volts at a coil that is about to pull in: the set runs, but for what hangs behind the coil's own contacts.
Evaluated at_coil(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Index target = limit.reach.element;
    if (!runs_behind(s, set_loads, target)) return result;  // nobody switches it on
    auto loads = members(s, set_loads, s.plan.supply_index_of(target));
    std::erase_if(loads, [&](const LoadPoint* load) { return s.network.hangs_below(load->element, target); });
    result.arithmetic = any_factor_unknown(loads);
    result.unknown = unknown_among(loads, limit.weight);
    const auto terms = [&](network::Extent extent) {
        return terms_at(s, target, loads, extent, limit.reach.source);
    };
    const FewestVolts fewest = fewest_of(terms(network::Extent::near_end));
    result.value = fewest.volts;
    result.between = fewest.between;
    result.loads = who_counts(loads, fewest, target);
    const auto unknown_runs = network::unknown_branches(s.plan, s.network, target);
    for (const Index branch : unknown_runs)
        if (s.network.branches[branch].no_resistance) result.no_resistance = branch;
    if (!unknown_runs.empty()) result.at_worst = fewest_of(terms(network::Extent::far_end)).volts;
    return result;
}

Evaluated at_load(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Index target = limit.reach.element;
    if (!holds(set_loads, target)) return result;  // it does not run
    const LoadPoint& here = s.network.loads[s.network.load_of[target]];
    const auto loads = members(s, set_loads, s.plan.supply_index_of(target));
    result.arithmetic = any_factor_unknown(loads);
    result.unknown = unknown_among(loads, limit.weight);
    const Voltage nominal = network::nominal_between(s.plan.supply_of(target), here.conductors);
    const auto measure = [&](Voltage left) -> Measure {
        if (limit.reach.kind == Reach::Kind::left_at) return left;
        return Ratio((nominal - left) / nominal);
    };
    const FewestVolts fewest = fewest_of(terms_at(s, target, loads, network::Extent::near_end));
    result.value = measure(fewest.volts);
    result.between = fewest.between;
    result.loads = who_counts(loads, fewest, target);
    const auto unknown_runs = network::unknown_branches(s.plan, s.network, target);
    for (const Index branch : unknown_runs)
        if (s.network.branches[branch].no_resistance) result.no_resistance = branch;
    if (!unknown_runs.empty())
        result.at_worst = measure(fewest_of(terms_at(s, target, loads, network::Extent::far_end)).volts);
    return result;
}

}  // namespace

std::vector<VoltTerms> volt_terms(const Situation& s, const Limit& limit, std::span<const Index> loads) {
    std::vector<const LoadPoint*> points;
    for (const Index load : loads) points.push_back(&s.network.loads[s.network.load_of[load]]);
    switch (limit.reach.kind) {
        case Reach::Kind::left_at_start:
            return terms_at_start(s, limit.reach, points, network::Extent::near_end);
        case Reach::Kind::lost_to:
        case Reach::Kind::left_at:
        case Reach::Kind::left_at_pick_up:
            return terms_at(s, limit.reach.element, points, network::Extent::near_end, limit.reach.source);
        default:
            return {};
    }
}

Voltage fewest_volts_at(const Situation& s, Index element, Index load, std::span<const Index> set_loads) {
    const auto loads = members(s, set_loads, s.plan.supply_index_of(load));
    const auto conductors = s.network.loads[s.network.load_of[load]].conductors;
    return fewest_of(
               terms_between(s, element, network::pairs_of(conductors), loads, network::Extent::near_end))
        .volts;
}

Evaluated evaluate(const Situation& situation, const Limit& limit, std::span<const Index> set_loads) {
    switch (limit.reach.kind) {
        case Reach::Kind::through:
            return through(situation, limit, limit.reach.element, set_loads);
        case Reach::Kind::largest_way:
            return largest_way(situation, limit, set_loads);
        case Reach::Kind::lost_to:
        case Reach::Kind::left_at:
            return at_load(situation, limit, set_loads);
        case Reach::Kind::neutral:
            return through_neutral(situation, limit, set_loads);
        case Reach::Kind::through_at_start:
            return through_at_start(situation, limit, set_loads);
        case Reach::Kind::left_at_start:
            return left_at_start(situation, limit, set_loads);
        case Reach::Kind::left_at_pick_up:
            return at_coil(situation, limit, set_loads);
    }
    return {};
}

}  // namespace benchfeed::rules
