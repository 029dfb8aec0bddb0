// What the loads of a set amount to at a limit, each kind of reach in its own function.
#include <algorithm>
#include <complex>
#include <limits>

#include "network/load_current.hpp"
#include "rules/judge.hpp"
#include "rules/support.hpp"
#include "rules/worst_subset.hpp"

namespace benchfeed::rules {

using network::live_conductors;
using network::LoadPoint;
using plan::Conductor;

namespace {

using Plane = std::complex<double>;  // amperes, volts or ohms on the complex plane

VoltagePhasor volts(Plane number) {
    return rectangular(number.real() * unit::volt, number.imag() * unit::volt);
}

/// The loads of a set that hang below an element.
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

/// A load that counts and whose current nobody knows.
Index unknown_among(const std::vector<const LoadPoint*>& loads, const Weight& weight) {
    for (const LoadPoint* load : loads)
        if (!load->known() && in(unit::one, weight.of(*load)) > 0) return load->element;
    return plan::nowhere;
}

bool any_factor_unknown(const std::vector<const LoadPoint*>& loads) {
    return std::any_of(loads.begin(), loads.end(),
                       [](const LoadPoint* load) { return !load->power_factor_known; });
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

/// The pair of a load's conductors with the fewest volts left, and how many; of three lines the worst two.
struct FewestVolts {
    Voltage volts = std::numeric_limits<double>::infinity() * unit::volt;
    network::Pair between{};
    std::vector<bool> members;  ///< of the worst subset
};
FewestVolts fewest_of(const std::vector<VoltTerms>& pairs) {
    FewestVolts fewest;
    for (const VoltTerms& terms : pairs) {
        Worst worst = worst_of(terms.start, terms.shares);
        if (worst.left < fewest.volts) fewest = {worst.left, terms.between, std::move(worst.members)};
    }
    return fewest;
}

/// Between conductors of a load, at an element on the way to it or at the load itself.
std::vector<VoltTerms> terms_between(const Situation& s, Index target, plan::Conductors conductors,
                                     const std::vector<const LoadPoint*>& loads, network::Extent extent) {
    const plan::Supply& supply = s.plan.supply_of(target);
    std::vector<VoltTerms> pairs;
    for (const network::Pair& pair : network::pairs_of(conductors)) {
        const auto from = static_cast<std::size_t>(pair.from), to = static_cast<std::size_t>(pair.to);
        VoltTerms terms{
            pair,
            network::nominal_voltage(supply, pair.from) - network::nominal_voltage(supply, pair.to),
            {}};
        for (const LoadPoint* load : loads) {
            const auto z = network::common_impedance(s.plan, s.network, target, load->element, extent);
            const VoltagePhasor lost = z[from] * load->draw[from] - z[to] * load->draw[to];
            terms.shares.push_back(-lost);
        }
        pairs.push_back(std::move(terms));
    }
    return pairs;
}

std::vector<VoltTerms> terms_at(const Situation& s, Index target, const std::vector<const LoadPoint*>& loads,
                                network::Extent extent) {
    const LoadPoint& here = s.network.loads[s.network.load_of[target]];
    return terms_between(s, target, here.conductors, loads, extent);
}

/// The loads of the worst subset, the one at which the volts are measured always among them.
std::vector<Index> who_counts(const std::vector<const LoadPoint*>& loads, const FewestVolts& fewest,
                              Index target) {
    std::vector<Index> counted;
    for (std::size_t i = 0; i < loads.size(); ++i)
        if (fewest.members[i] || !loads[i]->known() || loads[i]->element == target)
            counted.push_back(loads[i]->element);
    return counted;
}

// ---- while a motor starts -------------------------------------------------------------------------

/// A start as seen from the loads: what it draws of each conductor, and how that answers to the volts.
class Starting {
public:
    Starting(const Situation& s, const Reach& reach, network::Extent extent)
        : s_(s), reach_(reach), extent_(extent), motor_(s.network.loads[s.network.load_of[reach.starter]]) {
        const network::Start& start = *motor_.start;
        const Current amps = reach.high_start ? start.high : start.low;
        const double cosine = reach.high_start ? 1.0 : in(unit::one, start.low_power_factor);
        const Plane angle{cosine, std::sqrt(std::max(0.0, 1 - cosine * cosine))};  // of the impedance, R + jX
        const double plate = in(unit::volt, network::plate_voltage(s.plan, reach.starter));
        const auto z = impedances(reach.starter);
        const auto nominal = [&](Conductor c) {
            return plain(network::nominal_voltage(s.plan.supply_of(reach.starter), c));
        };
        if (const auto pair = network::pair_of(motor_.conductors)) {
            const auto from = index(pair->from), to = index(pair->to);
            const Plane across = nominal(pair->from) - nominal(pair->to);
            loop_ = plate / in(unit::ampere, amps) * angle + z[from] + z[to];
            pattern_[from] = 1.0;
            pattern_[to] = -1.0;
            current_ = across / loop_;
            for (std::size_t c = 0; c < live_conductors; ++c) drawn_[c] = current_ * pattern_[c];
        } else {  // three lines: a star whose middle stays where it is
            for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
                drawn_[index(line)] =
                    nominal(line) /
                    (plate / std::sqrt(3.0) / in(unit::ampere, amps) * angle + z[index(line)]);
        }
    }

    /// Drawn from a conductor with no other load running.
    [[nodiscard]] Plane drawn(std::size_t conductor) const { return drawn_[conductor]; }

    /// Impedances that the feeds of a load and of the target share, the source included.
    [[nodiscard]] std::array<Plane, live_conductors> impedances(Index target) const {
        return shared(target, reach_.starter);
    }
    [[nodiscard]] std::array<Plane, live_conductors> shared(Index a, Index b) const {
        const auto common = network::common_impedance(s_.plan, s_.network, a, b, extent_);
        std::array<Plane, live_conductors> z{};
        for (std::size_t c = 0; c < live_conductors; ++c)
            z[c] = {in(unit::ohm, real_part(common[c])), in(unit::ohm, imag_part(common[c]))};
        if (reach_.source)
            for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
                z[index(line)] += in(unit::ohm, *reach_.source);
        return z;
    }

    /// By how much a running load lowers the start current, for one conductor pattern of a single-phase
    /// motor; three lines keep theirs, which is never too little.
    [[nodiscard]] Plane less_current(const LoadPoint& running) const {
        if (loop_ == 0.0) return 0;
        const auto z = shared(reach_.starter, running.element);
        Plane lost = 0;
        for (std::size_t c = 0; c < live_conductors; ++c) lost += pattern_[c] * z[c] * draw_of(running, c);
        return lost / loop_;
    }
    [[nodiscard]] Plane pattern(std::size_t conductor) const { return pattern_[conductor]; }

    static Plane draw_of(const LoadPoint& load, std::size_t conductor) {
        return {in(unit::ampere, real_part(load.draw[conductor])),
                in(unit::ampere, imag_part(load.draw[conductor]))};
    }
    static Plane plain(const VoltagePhasor& v) {
        return {in(unit::volt, real_part(v)), in(unit::volt, imag_part(v))};
    }
    static std::size_t index(Conductor c) { return static_cast<std::size_t>(c); }

private:
    const Situation& s_;
    const Reach& reach_;
    network::Extent extent_;
    const LoadPoint& motor_;
    Plane loop_ = 0, current_ = 0;
    std::array<Plane, live_conductors> pattern_{}, drawn_{};
};

/// Volts between two conductors of the target while the motor starts. Everything is linear in what runs: each
/// running load takes its share, less what it takes from the start.
VoltTerms terms_at_start(const Situation& s, const Starting& starting, Index target, network::Pair pair,
                         const std::vector<const LoadPoint*>& others) {
    const plan::Supply& supply = s.plan.supply_of(target);
    const auto from = Starting::index(pair.from), to = Starting::index(pair.to);
    const auto to_motor = starting.impedances(target);
    const Plane per_ampere = to_motor[from] * starting.pattern(from) - to_motor[to] * starting.pattern(to);
    const Plane sent = Starting::plain(network::nominal_voltage(supply, pair.from)) -
                       Starting::plain(network::nominal_voltage(supply, pair.to)) -
                       (to_motor[from] * starting.drawn(from) - to_motor[to] * starting.drawn(to));
    VoltTerms terms{pair, volts(sent), {}};
    for (const LoadPoint* load : others) {
        const auto z = starting.shared(target, load->element);
        const Plane lost = z[from] * Starting::draw_of(*load, from) - z[to] * Starting::draw_of(*load, to);
        terms.shares.push_back(volts(per_ampere * starting.less_current(*load) - lost));
    }
    return terms;
}

std::vector<VoltTerms> terms_at_start(const Situation& s, const Reach& reach,
                                      const std::vector<const LoadPoint*>& others, network::Extent extent) {
    const Starting starting(s, reach, extent);
    const LoadPoint& here = s.network.loads[s.network.load_of[reach.element]];
    std::vector<VoltTerms> pairs;
    for (const network::Pair& pair : network::pairs_of(here.conductors))
        pairs.push_back(terms_at_start(s, starting, reach.element, pair, others));
    return pairs;
}

/// What the starter draws while the loads that count run.
std::array<CurrentPhasor, live_conductors> start_draw(const Situation& s, const Reach& reach,
                                                      const std::vector<Index>& running) {
    const Starting starting(s, reach, network::Extent::near_end);
    Plane less = 0;
    for (const Index load : running) less += starting.less_current(s.network.loads[s.network.load_of[load]]);
    std::array<CurrentPhasor, live_conductors> draw{};
    for (std::size_t c = 0; c < live_conductors; ++c) {
        const Plane drawn = starting.drawn(c) - starting.pattern(c) * less;
        draw[c] = rectangular(drawn.real() * unit::ampere, drawn.imag() * unit::ampere);
    }
    return draw;
}

/// Loads of a declared set that its start_order puts behind the starter: they do not run yet. Where several
/// sets have these loads, those that all of them put there.
std::vector<Index> not_running_yet(const Situation& s, std::span<const Index> set_loads, Index starter) {
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

Evaluated left_at_start(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Reach& reach = limit.reach;
    if (!holds(set_loads, reach.starter) || !holds(set_loads, reach.element)) return result;
    const auto others = beside_a_start(s, set_loads, s.plan.supply_index_of(reach.starter), reach.starter);
    result.arithmetic = any_factor_unknown(others);
    result.unknown = unknown_among(others, limit.weight);
    for (const Index branch : network::unknown_branches(s.plan, s.network, reach.starter)) {
        if (s.network.branches[branch].no_resistance) result.no_resistance = branch;
        result.at_worst = fewest_of(terms_at_start(s, reach, others, network::Extent::far_end)).volts;
    }
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

/// The others' worst subset and the start: angles of starts are not known well, so their amps add.
Evaluated through_at_start(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Reach& reach = limit.reach;
    if (!holds(set_loads, reach.starter)) return result;
    const auto others = beside_a_start(s, set_loads, reach.element, reach.starter);
    result.arithmetic = true;
    result.unknown = unknown_among(others, limit.weight);
    // The high estimate stands at the motor's terminals; the low one is what the cables let through.
    const Starting starting(s, reach, network::Extent::far_end);
    const LoadPoint& motor = s.network.loads[s.network.load_of[reach.starter]];
    double worst = 0;
    std::size_t worst_line = 0;
    for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
        const auto c = Starting::index(line);
        if (std::abs(starting.drawn(c)) == 0) continue;
        double sum = reach.high_start
                         ? in(unit::ampere,
                              Current(motor.start->high * network::volts_above_plate(s.plan, motor.element)))
                         : std::abs(starting.drawn(c));
        for (const LoadPoint* load : others) sum += std::abs(Starting::draw_of(*load, c));
        if (sum > worst) {
            worst = sum;
            worst_line = c;
        }
    }
    result.loads.push_back(reach.starter);
    for (const LoadPoint* load : others)
        if (std::abs(Starting::draw_of(*load, worst_line)) > 0) result.loads.push_back(load->element);
    result.value = Current(worst * unit::ampere + limit.base);
    return result;
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
    const auto triplen = threshold(s, "triplen_neutral");
    std::vector<Fan> linear;
    std::array<double, live_conductors> electronic{};
    for (const LoadPoint* load : loads) {
        const Plane share = Starting::draw_of(*load, n);
        if (std::abs(share) == 0) continue;
        result.loads.push_back(load->element);
        if (!three || !load->electronic || !triplen) {
            linear.push_back(fan_on_neutral(*load, 1.0 * unit::one));
            continue;
        }
        for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3})
            electronic[Starting::index(line)] += std::abs(Starting::draw_of(*load, Starting::index(line)));
    }
    const double most = *std::max_element(electronic.begin(), electronic.end());
    // ... and no neutral carries more than the plain sum of what its loads draw.
    double plain_sum = 0;
    for (const double line : electronic) plain_sum += line;
    const double harmonics = triplen ? std::min(in(unit::one, triplen->value) * most, plain_sum) : 0.0;
    result.value = Current(largest_sum_of_fans(linear) + harmonics * unit::ampere);
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
            return terms_at(s, limit.reach.element, points, network::Extent::near_end);
        default:
            return {};
    }
}

Voltage fewest_volts_at(const Situation& s, Index element, Index load, std::span<const Index> set_loads) {
    const auto loads = members(s, set_loads, s.plan.supply_index_of(load));
    const auto conductors = s.network.loads[s.network.load_of[load]].conductors;
    return fewest_of(terms_between(s, element, conductors, loads, network::Extent::near_end)).volts;
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
    }
    return {};
}

}  // namespace benchfeed::rules
