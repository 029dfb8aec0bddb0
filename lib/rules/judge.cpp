#include "rules/judge.hpp"

#include <algorithm>
#include <complex>
#include <numbers>

namespace benchfeed::rules {

using network::live_conductors;
using network::LoadPoint;
using plan::Conductor;

namespace {

using Plane = std::complex<double>;  // amperes or volts on the complex plane, units taken off by the caller

/// Largest |sum| over all subsets of the shares. The best subset is the set of shares with a positive
/// projection on some direction, and it changes only at directions perpendicular to a share: trying both
/// sides of each is exact.
double largest_sum(const std::vector<Plane>& shares) {
    const auto sum_towards = [&](double angle) {
        const Plane direction = std::polar(1.0, angle);
        Plane sum = 0;
        for (const Plane& share : shares)
            if (share.real() * direction.real() + share.imag() * direction.imag() > 0) sum += share;
        return std::abs(sum);
    };
    double largest = 0;
    for (const Plane& share : shares) {
        const double along = std::arg(share), turn = std::numbers::pi / 2, nudge = 1e-9;
        for (const double angle :
             {along, along + turn - nudge, along + turn + nudge, along - turn - nudge, along - turn + nudge})
            largest = std::max(largest, sum_towards(angle));
    }
    return largest;
}

/// Smallest |start + sum| over all subsets: the greatest, over directions d, of start.d + sum of min(0,
/// share.d). It lets a load draw anything from nothing to all, so it is never above the best subset.
double smallest_remaining(Plane start, const std::vector<Plane>& shares) {
    const auto support = [&](double angle) {
        const Plane d = std::polar(1.0, angle);
        double sum = start.real() * d.real() + start.imag() * d.imag();
        for (const Plane& share : shares)
            sum += std::min(0.0, share.real() * d.real() + share.imag() * d.imag());
        return sum;
    };
    // The function of the angle is unimodal near the direction of what is left: golden section there.
    double low = std::arg(start) - std::numbers::pi / 3, high = std::arg(start) + std::numbers::pi / 3;
    const double golden = (std::sqrt(5.0) - 1) / 2;
    for (int step = 0; step < 60; ++step) {
        const double left = high - golden * (high - low), right = low + golden * (high - low);
        if (support(left) < support(right))
            low = left;
        else
            high = right;
    }
    return std::max(0.0, support((low + high) / 2));
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
    double worst = 0;
    for (std::size_t c = 0; c < live_conductors; ++c) {
        std::vector<Plane> shares;
        for (const LoadPoint* load : loads) {
            Plane share{in(unit::ampere, real_part(load->draw[c])),
                        in(unit::ampere, imag_part(load->draw[c]))};
            // Angles that nobody knows: on a line, magnitudes add; on a shared neutral loads of other lines
            // still relieve, so the nominal angle of the line stays.
            if (result.arithmetic && c != static_cast<std::size_t>(Conductor::n)) share = std::abs(share);
            share *= in(unit::one, limit.weight.of(*load));
            if (std::abs(share) > 0) shares.push_back(share);
        }
        worst = std::max(worst, largest_sum(shares));
    }
    for (const LoadPoint* load : loads)
        if (in(unit::one, limit.weight.of(*load)) > 0) result.loads.push_back(load->element);
    result.value = Current(worst * unit::ampere + limit.base);
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

/// Volts between the conductors of a load when those of `loads` run that hurt most.
Voltage volts_left(const Situation& s, Index target, const std::vector<const LoadPoint*>& loads,
                   network::Extent extent) {
    const LoadPoint& here = s.network.loads[s.network.load_of[target]];
    const plan::Supply& supply = s.plan.supply_of(target);
    const auto pair = network::pair_of(here.conductors).value_or(network::Pair{Conductor::l1, Conductor::l2});
    const auto from = static_cast<std::size_t>(pair.from), to = static_cast<std::size_t>(pair.to);
    const VoltagePhasor start =
        network::nominal_voltage(supply, pair.from) - network::nominal_voltage(supply, pair.to);
    std::vector<Plane> shares;
    for (const LoadPoint* load : loads) {
        const auto z = network::common_impedance(s.plan, s.network, target, load->element, extent);
        const VoltagePhasor lost = z[from] * load->draw[from] - z[to] * load->draw[to];
        shares.emplace_back(-in(unit::volt, real_part(lost)), -in(unit::volt, imag_part(lost)));
    }
    const Plane sent{in(unit::volt, real_part(start)), in(unit::volt, imag_part(start))};
    return smallest_remaining(sent, shares) * unit::volt;
}

Evaluated at_load(const Situation& s, const Limit& limit, std::span<const Index> set_loads) {
    Evaluated result;
    const Index target = limit.reach.element;
    if (std::find(set_loads.begin(), set_loads.end(), target) == set_loads.end())
        return result;  // it does not run
    const LoadPoint& here = s.network.loads[s.network.load_of[target]];
    const auto loads = members(s, set_loads, s.plan.supply_index_of(target));
    result.arithmetic = any_factor_unknown(loads);
    result.unknown = unknown_among(loads, limit.weight);
    for (const LoadPoint* load : loads) result.loads.push_back(load->element);
    const Voltage nominal = network::nominal_between(s.plan.supply_of(target), here.conductors);
    const auto measure = [&](network::Extent extent) -> Measure {
        const Voltage left = volts_left(s, target, loads, extent);
        if (limit.reach.kind == Reach::Kind::left_at) return left;
        return Ratio((nominal - left) / nominal);
    };
    for (const Index branch : network::unknown_branches(s.plan, s.network, target))
        if (s.network.branches[branch].no_resistance) result.no_resistance = branch;
    result.value = measure(network::Extent::near_end);
    if (!network::unknown_branches(s.plan, s.network, target).empty())
        result.at_worst = measure(network::Extent::far_end);
    return result;
}

/// Sums of printed figures must not fail by the last bit: 7.0 + 9.0 is not above 16.
constexpr double rounding = 1e-9;

bool beyond(const Measure& value, const Measure& edge, Bound bound) {
    if (std::holds_alternative<std::monostate>(edge)) return false;
    const double v = number(value), e = number(edge);
    return bound == Bound::at_most ? !(v <= e * (1 + rounding))
                                   : !(v >= e * (1 - rounding));  // a NaN is beyond
}

Verdict verdict_of(const Limit& limit, const Measure& value) {
    if (beyond(value, limit.edge, limit.bound)) return Verdict::fail;
    if (beyond(value, limit.caution, limit.bound)) return Verdict::caution;
    return limit.ground.carries_ok() ? Verdict::ok : Verdict::cannot_judge;
}

/// An unknown length is tried at both ends of its range: the verdict stands if both agree.
Verdict verdict_of(const Limit& limit, const Evaluated& evaluated) {
    const Verdict near = verdict_of(limit, evaluated.value);
    // Without one of its loads or cables a sum is too small: it can fail, but never be good.
    const bool incomplete = evaluated.unknown != plan::nowhere || evaluated.no_resistance != plan::nowhere;
    if (incomplete && near != Verdict::fail) return Verdict::cannot_judge;
    if (std::holds_alternative<std::monostate>(evaluated.at_worst)) return near;
    return verdict_of(limit, evaluated.at_worst) == near ? near : Verdict::cannot_judge;
}

Outcome outcome_of(const Limit& limit, Index limit_index, Index set, const Evaluated& evaluated) {
    Outcome outcome;
    outcome.rule = limit.rule;
    outcome.at = limit.at;
    outcome.part = limit.part;
    outcome.set = set;
    outcome.verdict = verdict_of(limit, evaluated);
    outcome.basis = outcome.verdict == Verdict::caution ? limit.caution_basis : limit.basis;
    outcome.bound = limit.bound;
    outcome.value = evaluated.value;
    outcome.edge = limit.edge;
    outcome.caution = limit.caution;
    outcome.ground = limit.ground;
    outcome.variant = limit.variant;
    outcome.limit = limit_index;
    return outcome;
}

/// Ties within 0.1 %: plug, inlet, outlet, cable, switch, fuse, device, then nearest the supply. Otherwise
/// a chain of 16 A parts would name another one in every build.
int tie_rank(const Situation& s, const Limit& limit) {
    switch (limit.part) {
        case Part::plug:
            return 0;
        case Part::inlet:
            return 1;
        case Part::cable:
            return 3;
        case Part::fuse:
            return 5;
        case Part::whole:
            break;
    }
    switch (s.plan[limit.at.index].kind) {
        case plan::Kind::outlet:
            return 2;
        case plan::Kind::switch_:
            return 4;
        default:
            return 6;
    }
}

bool weaker(const Situation& s, const Limit& a, double share_a, const Limit& b, double share_b) {
    if (std::abs(share_a - share_b) > 1e-3 * std::max(share_a, share_b)) return share_a > share_b;
    const int rank_a = tie_rank(s, a), rank_b = tie_rank(s, b);
    if (rank_a != rank_b) return rank_a < rank_b;
    return s.network.enter[a.at.index] < s.network.enter[b.at.index];
}

bool rates_an_element(const Limit& limit) {
    return limit.weakest && limit.at.kind == At::Kind::element && limit.bound == Bound::at_most &&
           std::holds_alternative<Current>(limit.edge) && registry()[limit.rule].harm == Harm::heat;
}

/// One outcome for each rule, place and part in a set: of two limits on the same part the worse speaks.
void keep_worse(std::vector<Outcome>& outcomes, std::size_t first, const Outcome& added) {
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        Outcome& there = outcomes[i];
        if (there.rule != added.rule || there.at != added.at || there.part != added.part) continue;
        const bool worse = added.verdict != there.verdict
                               ? added.verdict > there.verdict
                               : added.share().value_or(0) > there.share().value_or(0);
        if (worse) there = added;
        return;
    }
    outcomes.push_back(added);
}

/// Judge every limit at one set; returns the weakest element of that set.
Weakest judge_set(const Situation& s, const std::vector<Limit>& limits, Index set,
                  std::vector<Outcome>& outcomes) {
    Weakest weakest;
    const std::size_t first = outcomes.size();
    for (Index i = 0; i < limits.size(); ++i) {
        const Limit& limit = limits[i];
        const Evaluated evaluated = evaluate(s, limit, set_of(s.plan, set).loads);
        if (evaluated.loads.empty()) continue;  // nothing of this set is concerned
        keep_worse(outcomes, first, outcome_of(limit, i, set, evaluated));
        if (!rates_an_element(limit)) continue;
        const double share = number(evaluated.value) / number(limit.edge);
        if (weakest.limit == plan::nowhere || weaker(s, limit, share, limits[weakest.limit], weakest.share))
            weakest = {i, share};
    }
    // The caution of a contact is told once for a set, at its weakest contact.
    const Outcome* told = nullptr;
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        const Outcome& o = outcomes[i];
        if (o.verdict != Verdict::caution || !limits[o.limit].once_per_set) continue;
        if (!told || weaker(s, limits[o.limit], *o.share(), limits[told->limit], *told->share())) told = &o;
    }
    for (std::size_t i = first; i < outcomes.size(); ++i) {
        Outcome& o = outcomes[i];
        if (o.verdict == Verdict::caution && limits[o.limit].once_per_set && &o != told)
            o.verdict = Verdict::ok;
    }
    return weakest;
}

}  // namespace

std::optional<double> Outcome::share() const {
    if (bound != Bound::at_most || !std::holds_alternative<Current>(value) ||
        !std::holds_alternative<Current>(edge))
        return std::nullopt;
    return number(value) / number(edge);
}

const plan::RunSet& set_of(const plan::Plan& plan, Index set) {
    return set == everything_set ? plan.everything : plan.sets[set];
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
    }
    return {};
}

Judgement judge(const Situation& situation) {
    Judgement judgement;
    const auto rules = registry();
    for (Index r = 0; r < rules.size(); ++r) {
        if (rules[r].families.find(situation.nec() ? "nec" : "iec") == std::string_view::npos) continue;
        Yield yield = rules[r].look(situation);
        for (Limit& limit : yield.limits) {
            limit.rule = r;
            judgement.limits.push_back(limit);
        }
        for (Outcome& outcome : yield.outcomes) {
            outcome.rule = r;
            judgement.outcomes.push_back(outcome);
        }
    }
    for (Index set = 0; set < situation.plan.sets.size(); ++set)
        judgement.weakest.push_back(judge_set(situation, judgement.limits, set, judgement.outcomes));
    // Everything at once is information: its weakest element is told, its outcomes are not judged.
    std::vector<Outcome> information;
    judgement.weakest.push_back(judge_set(situation, judgement.limits, everything_set, information));

    for (const Outcome& outcome : judgement.outcomes) {
        judgement.verdict = std::max(judgement.verdict, outcome.verdict);
        if (outcome.verdict == Verdict::cannot_judge && rules[outcome.rule].essential)
            judgement.essential_undecided = true;
    }
    std::stable_sort(judgement.outcomes.begin(), judgement.outcomes.end(),
                     [](const Outcome& a, const Outcome& b) { return a.verdict > b.verdict; });
    return judgement;
}

}  // namespace benchfeed::rules
