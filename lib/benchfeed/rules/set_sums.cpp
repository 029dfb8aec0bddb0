#include <benchfeed/rules/set_sums.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/evaluate_parts.hpp>
#include <benchfeed/rules/nearest.hpp>

namespace benchfeed::rules {

using network::Extent;
using network::live_conductors;
using plan::Conductor;

namespace {

constexpr std::size_t many = 32;       ///< smaller sets are evaluated one limit at a time
constexpr std::size_t most_kinds = 9;  ///< single loads between four conductors, and on all three lines
constexpr double pi = std::numbers::pi;

Plane volt_plane(const VoltagePhasor& volts) {
    return {in(unit::volt, real_part(volts)), in(unit::volt, imag_part(volts))};
}

Reach with_source(Reach reach, std::optional<Impedance> source) {
    reach.source = source;
    return reach;
}

}  // namespace

SetSums::SetSums(const Situation& situation, std::span<const Index> loads) : s_(situation), loads_(loads) {
    if (loads.size() < many) return;
    supply_ = s_.plan.supply_index_of(loads.front());
    for (const Index load : loads)
        if (!s_.network.loads[s_.network.load_of[load]].known() || s_.plan.supply_index_of(load) != supply_)
            return;
    ordered_ = std::any_of(s_.plan.together.begin(), s_.plan.together.end(),
                           [](const auto& set) { return !set.start_indices.empty(); });
    place_.assign(s_.plan.elements.size(), plan::nowhere);
    for (const Index load : loads) add(load);
    for (Feed& feed : feeds_)
        for (std::vector<Running>& list : feed.of_kind) {
            std::stable_sort(list.begin(), list.end(),
                             [](const Running& a, const Running& b) { return a.angle < b.angle; });
            for (std::size_t i = 1; i < list.size(); ++i) list[i].sum += list[i - 1].sum;
        }
    added_ = kinds_.size() <= most_kinds;
}

/// A load, at every element on the way to it.
void SetSums::add(Index load) {
    const network::LoadPoint& point = s_.network.loads[s_.network.load_of[load]];
    OfEach drawn{};
    for (std::size_t c = 0; c < live_conductors; ++c) drawn[c] = ampere_plane(point, c);
    const auto first = std::find_if(drawn.begin(), drawn.end(), [](Plane amps) { return amps != 0.0; });
    const Plane own = first == drawn.end() ? 0.0 : *first;
    OfEach proportion = drawn;
    for (Plane& amps : proportion) amps = own == 0.0 ? 0.0 : amps / own;
    const std::size_t kind = own == 0.0 ? 0 : kind_of(proportion);
    for (Index up = load; up != plan::nowhere; up = s_.plan[up].parent) {
        if (place_[up] == plan::nowhere) {
            place_[up] = static_cast<Index>(feeds_.size());
            feeds_.emplace_back();
        }
        Feed& feed = feeds_[place_[up]];
        ++feed.loads;
        if (own == 0.0) continue;
        if (feed.of_kind.size() <= kind) feed.of_kind.resize(kind + 1);
        auto& list = feed.of_kind[kind];
        // Loads of like angle are one: of those without a printed factor all are.
        if (list.empty() || list.back().angle != std::arg(own)) list.push_back({std::arg(own), 0});
        list.back().sum += own;
        for (std::size_t c = 0; c < live_conductors; ++c) feed.plain[c] += std::abs(drawn[c]);
    }
}

std::size_t SetSums::kind_of(const OfEach& proportion) {
    const auto same = [&](const OfEach& kind) {
        return std::equal(kind.begin(), kind.end(), proportion.begin(),
                          [](Plane a, Plane b) { return std::abs(a - b) < 1e-12; });
    };
    const auto known = std::find_if(kinds_.begin(), kinds_.end(), same);
    if (known != kinds_.end()) return static_cast<std::size_t>(known - kinds_.begin());
    kinds_.push_back(proportion);
    return kinds_.size() - 1;
}

const SetSums::Feed* SetSums::feed(Index element) const {
    return place_[element] == plan::nowhere ? nullptr : &feeds_[place_[element]];
}

/// All that counts is known, and nothing of the set is left out.
bool SetSums::at_hand(const Limit& limit) const {
    using Kind = Reach::Kind;
    const Reach& reach = limit.reach;
    if (!added_ || reach.element == plan::nowhere || !feed(reach.element) ||
        s_.plan.supply_index_of(reach.element) != supply_)
        return false;
    if (reach.kind == Kind::lost_to || reach.kind == Kind::left_at)
        return s_.plan[reach.element].kind == plan::Kind::load;
    return reach.kind == Kind::left_at_start && !ordered_ && feed(reach.starter) &&
           s_.network.loads[s_.network.load_of[reach.starter]].start;
}

/// Of the loads whose angle comes before this one.
SetSums::Plane SetSums::before(const std::vector<Running>& list, double angle) {
    Plane turns = 0;
    if (angle > pi) {
        turns = list.back().sum;
        angle -= 2 * pi;
    } else if (angle < -pi) {
        turns = -list.back().sum;
        angle += 2 * pi;
    }
    const auto behind = std::lower_bound(list.begin(), list.end(), angle,
                                         [](const Running& r, double wanted) { return r.angle < wanted; });
    return behind == list.begin() ? turns : turns + std::prev(behind)->sum;
}

/// Of the loads within a right angle of a direction; of those that lie across it some.
SetSums::Plane SetSums::towards(const std::vector<Running>& list, double direction) {
    if (list.empty()) return 0;
    const double middle = std::remainder(direction, 2 * pi);
    return before(list, middle + pi / 2) - before(list, middle - pi / 2);
}

/// What those of the shares take that take it in a direction: together the most in that direction.
SetSums::Plane SetSums::taken(const std::vector<Share>& shares, double direction) {
    Plane sum = 0;
    for (const Share& share : shares)
        for (std::size_t k = 0; k < share.at->of_kind.size(); ++k) {
            if (share.ohms[k] == 0.0) continue;
            const double wanted = direction - std::arg(share.ohms[k]);
            Plane amps = towards(share.at->of_kind[k], wanted);
            for (const Feed* beyond : share.beyond)
                if (beyond && k < beyond->of_kind.size()) amps -= towards(beyond->of_kind[k], wanted);
            sum += share.ohms[k] * amps;
        }
    return sum;
}

/// The loads of the set by where they leave the way to the reach's element, or to its starter, which is none
/// of them. `answer`: volts at the element for each volt that the starter loses on a conductor.
std::vector<SetSums::Share> SetSums::shares(const Reach& reach, network::Pair pair, const OfEach& answer,
                                            Extent extent) const {
    std::vector<Share> all;
    const auto from = line_index(pair.from), to = line_index(pair.to);
    const bool starts = reach.kind == Reach::Kind::left_at_start;
    const auto on_way_to = [&](Index end, Index element) {
        return end != plan::nowhere && s_.network.hangs_below(end, element);
    };
    const auto add_share = [&](Index up, Index beyond, Index beyond_too) {
        Share share{feed(up), {beyond == plan::nowhere ? nullptr : feed(beyond)}, {}};
        if (beyond_too != plan::nowhere) share.beyond[1] = feed(beyond_too);
        std::size_t further = 0;
        for (const Feed* on : share.beyond) further += on ? on->loads : 0;
        if (share.at->loads == further) return;  // none leaves here
        const auto z = shared_ohms(s_, reach, reach.element, up, extent);
        const auto at_starter = starts ? shared_ohms(s_, reach, reach.starter, up, extent) : OfEach{};
        for (const OfEach& kind : kinds_) {
            Plane ohms = z[from] * kind[from] - z[to] * kind[to];
            for (std::size_t c = 0; c < live_conductors; ++c) ohms -= answer[c] * at_starter[c] * kind[c];
            share.ohms.push_back(ohms);
        }
        all.push_back(std::move(share));
    };
    // Up from the element; where the starter's way joins, what hangs on that is left to the second walk.
    Index beyond = plan::nowhere, fork = plan::nowhere;
    for (Index up = reach.element; up != plan::nowhere; beyond = up, up = s_.plan[up].parent) {
        Index other = plan::nowhere;
        if (fork == plan::nowhere && on_way_to(reach.starter, up)) {
            fork = up;
            for (Index down = reach.starter; down != up; down = s_.plan[down].parent) other = down;
        }
        if (up != reach.starter) add_share(up, beyond, other);
    }
    beyond = plan::nowhere;
    for (Index up = reach.starter; up != fork; beyond = up, up = s_.plan[up].parent)
        if (up != reach.starter) add_share(up, beyond, plan::nowhere);
    return all;
}

/// Volts that are left between the pair of the element's conductors with the fewest.
double SetSums::left(const Reach& reach, Extent extent) const {
    const plan::Supply& supply = s_.plan.supply_of(reach.element);
    double fewest = std::numeric_limits<double>::infinity();
    const bool starts = reach.kind == Reach::Kind::left_at_start;
    const StartSeen start = starts ? start_seen(s_, reach, extent) : StartSeen{};
    const auto to_motor = starts ? shared_ohms(s_, reach, reach.element, reach.starter, extent) : OfEach{};
    for (const network::Pair& pair : pairs_at(s_, reach.element)) {
        const auto from = line_index(pair.from), to = line_index(pair.to);
        const Plane per_ampere = to_motor[from] * start.pattern[from] - to_motor[to] * start.pattern[to];
        OfEach answer{};
        if (start.loop != 0.0)
            for (std::size_t c = 0; c < live_conductors; ++c)
                answer[c] = per_ampere * start.pattern[c] / start.loop;
        const Plane sent = volt_plane(network::nominal_voltage(supply, pair.from)) -
                           volt_plane(network::nominal_voltage(supply, pair.to)) -
                           (to_motor[from] * start.drawn[from] - to_motor[to] * start.drawn[to]);
        const std::vector<Share> all = shares(reach, pair, answer, extent);
        const Nearest rest = nearest(sent, [&](double direction) { return taken(all, direction); });
        fewest = std::min(fewest, rest.distance);
    }
    return fewest;
}

/// Plain amps of what runs behind the element beside the start.
Evaluated SetSums::through_at_start(const Limit& limit) const {
    const Reach& reach = limit.reach;
    Evaluated result;
    if (!feed(reach.starter)) return result;
    const StartSeen start = start_seen(s_, reach, Extent::far_end);
    const Feed* below = feed(reach.element);
    const bool itself = s_.network.hangs_below(reach.starter, reach.element);
    double worst = 0;
    for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
        const auto c = line_index(line);
        const double own = start_amperes(s_, reach, start, c);
        if (own == 0) continue;
        const double beside =
            (below ? below->plain[c] : 0.0) - (itself ? feed(reach.starter)->plain[c] : 0.0);
        worst = std::max(worst, own + beside);
    }
    result.arithmetic = true;
    result.loads = {reach.starter};
    result.value = Current(worst * unit::ampere + limit.base);
    return result;
}

Evaluated SetSums::evaluated(const Limit& limit) const {
    const Reach& reach = limit.reach;
    if (added_ && !ordered_ && reach.kind == Reach::Kind::through_at_start) return through_at_start(limit);
    if (!at_hand(limit)) return evaluate(s_, limit, loads_);
    const Voltage nominal = network::nominal_between(
        s_.plan.supply_of(reach.element), s_.plan[reach.element].conductors.value_or(plan::Conductors{}));
    const auto measure = [&](double left) -> Measure {
        if (reach.kind == Reach::Kind::lost_to) return Ratio((nominal - left * unit::volt) / nominal);
        return left * unit::volt;
    };
    const bool starts = reach.kind == Reach::Kind::left_at_start;
    const Reach here = with_source(reach, starts ? reach.source : std::nullopt);
    Evaluated result;
    result.loads = {reach.element};
    result.value = measure(left(here, Extent::near_end));
    const auto unknown = runs_not_known(s_, reach);
    for (const Index branch : unknown)
        if (s_.network.branches[branch].no_resistance) result.no_resistance = branch;
    if (!unknown.empty()) result.at_worst = measure(left(here, Extent::far_end));
    if (starts && reach.weakest_source)
        result.at_weakest_source = measure(left(with_source(reach, reach.weakest_source), Extent::far_end));
    return result;
}

}  // namespace benchfeed::rules
