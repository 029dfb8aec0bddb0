#include <benchfeed/advice/conditions.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>

#include <benchfeed/advice/family_search.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/worst_subset.hpp>

namespace benchfeed::advice {

using network::live_conductors;
using network::LoadPoint;
using plan::Conductor;
using rules::Limit;
using rules::Reach;
using rules::Situation;

namespace {

using Plane = std::complex<double>;

/// Beyond any sum of loads: the condition is broken as soon as it counts.
constexpr double no_room = 2;
/// Directions in which currents are added that lie within a quarter turn, so that few of them are looked at.
constexpr std::size_t fine_directions = 48;

enum Law : int { none, line, neutral, neutral_with_harmonics };

/// The angles between which phasors lie, seen from the direction of their sum.
struct Sector {
    double ahead = 0, first = 0, last = 0;
    /// No two of them are more than a quarter turn apart: none ever relieves another.
    [[nodiscard]] bool narrow() const { return last - first <= std::numbers::pi / 2; }
};
Sector sector_of(const std::vector<Plane>& phasors) {
    Plane sum = 0;
    for (const Plane& one : phasors) sum += one;
    Sector sector{std::arg(sum)};
    for (const Plane& one : phasors) {
        if (one == 0.0) continue;
        const double off = std::remainder(std::arg(one) - sector.ahead, 2 * std::numbers::pi);
        sector.first = std::min(sector.first, off);
        sector.last = std::max(sector.last, off);
    }
    return sector;
}

struct Maker {
    Maker(const Situation& situation, const Company& of, std::vector<Condition>& into)
        : s(situation), company(of), made(into) {
        for (std::size_t i = 0; i < company.loads.size(); ++i) by_enter.push_back(i);
        std::sort(by_enter.begin(), by_enter.end(),
                  [&](std::size_t a, std::size_t b) { return enter(a) < enter(b); });
    }

    const Situation s;  // by value: what it refers to outlives the conditions, the caller's copy may not
    const Company& company;
    std::vector<Condition>& made;
    std::vector<std::size_t> by_enter;  // positions of loads, those behind one element beside each other

    [[nodiscard]] Index enter(std::size_t position) const { return s.network.enter[company.loads[position]]; }
    /// Positions of the loads behind an element, rising.
    [[nodiscard]] std::vector<std::size_t> below(Index element) const {
        std::vector<std::size_t> found;
        auto at = std::lower_bound(by_enter.begin(), by_enter.end(), s.network.enter[element],
                                   [&](std::size_t i, Index wanted) { return enter(i) < wanted; });
        for (; at != by_enter.end() && s.network.hangs_below(company.loads[*at], element); ++at)
            found.push_back(*at);
        std::sort(found.begin(), found.end());
        return found;
    }
    [[nodiscard]] const LoadPoint& point(std::size_t position) const {
        return s.network.loads[s.network.load_of[company.loads[position]]];
    }
    [[nodiscard]] std::size_t position_of(Index element) const {
        const auto it = std::lower_bound(company.loads.begin(), company.loads.end(), element);
        return static_cast<std::size_t>(it - company.loads.begin());
    }
    /// The limit itself decides.
    [[nodiscard]] std::function<bool(std::span<const std::size_t>)> by_evaluation(const Limit& limit) const {
        return [s = s, loads = company.loads, limit](std::span<const std::size_t> running) {
            std::vector<Index> elements;
            for (const std::size_t position : running) elements.push_back(loads[position]);
            return rules::verdict_at(limit, rules::evaluate(s, limit, elements)) != rules::Verdict::fail;
        };
    }

    /// Shares of the room. Without room it is broken as soon as it counts: what needs a load, when that runs;
    /// a feed, when any of its loads does.
    static void scale(Condition& c, double room) {
        if (room <= 0) {
            const bool by_need = !c.needs.empty();
            for (double& share : c.most) share = !by_need && share > 0 ? no_room : 0.0;
            c.base = by_need ? no_room : 0.0;
            c.exact = true;
            c.least = {c.most};
            c.law = none;
            c.phasors.clear();
            c.spread.clear();
            c.unsure.clear();
            c.triplen = 0;
            return;
        }
        for (double& share : c.most) share /= room;
        for (auto& row : c.least)
            for (double& share : row) share /= room;
        for (Plane& share : c.phasors) share /= room;
        for (Sway& share : c.spread) share.size /= room;
        for (auto& line : c.harmonics)
            for (double& share : line) share /= room;
        c.sent /= room;
    }

    /// Amps through one conductor of a feed.
    void add_current(const Limit& limit, std::size_t mark, std::size_t conductor,
                     const std::vector<std::size_t>& loads) const {
        const double room = number(limit.edge) * (1 + rules::rounding) - in(unit::ampere, limit.base);
        const bool neutral = conductor == static_cast<std::size_t>(Conductor::n);
        std::vector<Plane> drawn(company.loads.size());
        double all = 0;
        bool sure = true, unsure = true;
        for (const std::size_t i : loads) {
            const double weight = in(unit::one, limit.weight.of(point(i)));
            drawn[i] = weight * Plane(in(unit::ampere, real_part(point(i).draw[conductor])),
                                      in(unit::ampere, imag_part(point(i).draw[conductor])));
            (point(i).power_factor_known ? unsure : sure) = false;
            all += std::abs(drawn[i]);
        }
        if (all == 0 || (room > 0 && all <= room)) return;  // it holds whatever runs
        Condition c;
        c.mark = mark;
        for (const Plane share : drawn) c.most.push_back(std::abs(share));
        const Sector sector = sector_of(drawn);
        const bool in_line = std::max(-sector.first, sector.last) < 1e-6;
        // In one line, or added as plain amps because no lag is known: the sum is the value. On a neutral
        // unknown lags spread, so there only the first holds; in one direction no lag makes more of it.
        c.exact = in_line || (!neutral && unsure);
        if (c.exact)
            c.least = {c.most};
        else if (neutral || !sector.narrow())
            spread(c, drawn, neutral);
        else
            add_up(c, drawn, sector);
        if (!neutral && !sure && !c.exact) {
            c.unsure.assign(drawn.size(), false);
            for (const std::size_t i : loads) c.unsure[i] = !point(i).power_factor_known;
        }
        c.holds = by_evaluation(limit);
        scale(c, room);
        made.push_back(std::move(c));
    }

    /// Phasors of which none relieves another.
    static void add_up(Condition& c, const std::vector<Plane>& drawn, const Sector& sector) {
        c.phasors = drawn;
        // From just before the first of them to just behind the last, one beside the other.
        const double step = 2 * std::numbers::pi / static_cast<double>(fine_directions);
        const double from = std::floor((sector.ahead + sector.first) / step),
                     to = std::ceil((sector.ahead + sector.last) / step);
        for (double k = from; k <= std::max(to, from + 1); ++k) {
            auto& row = c.least.emplace_back();
            for (const Plane share : drawn)
                row.push_back(std::max(0.0, (share * std::polar(1.0, -k * step)).real()));
        }
        c.step = step;
        c.law = Law::line;
    }
    /// Phasors that may relieve each other; on a neutral each with the lag that suits best.
    void spread(Condition& c, const std::vector<Plane>& drawn, bool on_neutral) const {
        std::size_t count = 0;
        for (std::size_t i = 0; i < drawn.size(); ++i) {
            const bool sways = on_neutral && !point(i).power_factor_known;
            const double lag =
                sways ? std::acos(std::clamp(in(unit::one, point(i).least_power_factor), 0.0, 1.0)) : 0.0;
            c.spread.push_back({std::abs(drawn[i]), std::arg(drawn[i]) - lag / 2, lag / 2});
            count += drawn[i] != 0.0;
        }
        for (std::size_t k = 0; k < directions; ++k) {
            auto& row = c.least.emplace_back();
            for (const Sway& share : c.spread) row.push_back(share.towards(direction_of(k)));
        }
        c.step = 2 * std::numbers::pi / static_cast<double>(directions);
        c.law = on_neutral ? Law::neutral : Law::line;
        c.cost = 40 * count * count + 10;
    }

    void add_through(const Limit& limit, std::size_t mark) const {
        const auto loads = below(limit.reach.element);
        // With one line the neutral carries what the line does, and the lags of both are the same.
        const bool one_line = s.plan[s.plan.supply_index_of(limit.reach.element)].conductors->lines() == 1;
        for (std::size_t c = 0; c < (one_line ? 1 : live_conductors); ++c) add_current(limit, mark, c, loads);
    }

    void add_largest_way(const Limit& limit, std::size_t mark) const {
        for (const Index child : s.plan[limit.reach.element].children) {
            if (!s.plan[child].plug.known() && !s.plan[child].plug.stated_unknown) continue;
            Limit way = limit;
            way.reach = {Reach::Kind::through, child};
            add_through(way, mark);
        }
    }

    /// Third harmonics of three lines add to what the other loads give; they never cancel.
    void add_neutral(const Limit& limit, std::size_t mark) const {
        const auto n = static_cast<std::size_t>(Conductor::n);
        const double room = number(limit.edge) * (1 + rules::rounding);
        const auto loads = below(limit.reach.element);
        const auto& system = s.plan.supply_of(limit.reach.element).system;
        const bool three = system.is(plan::System::v230_400) || system.is(plan::System::v120_208);
        const auto triplen = rules::threshold(s, "triplen_neutral");
        Condition c;
        c.mark = mark;
        c.most.assign(company.loads.size(), 0.0);
        for (auto& line : c.harmonics) line.assign(company.loads.size(), 0.0);
        std::vector<Plane> linear(company.loads.size());
        for (const std::size_t i : loads) {
            const auto& draw = point(i).draw;
            if (magnitude(draw[n]) == Current{}) continue;
            c.most[i] = in(unit::ampere, magnitude(draw[n]));
            if (!three || !point(i).electronic || !triplen) {
                linear[i] = {in(unit::ampere, real_part(draw[n])), in(unit::ampere, imag_part(draw[n]))};
                continue;
            }
            c.triplen = in(unit::one, triplen->value);
            for (std::size_t l = 0; l < c.harmonics.size(); ++l)
                c.harmonics[l][i] = in(unit::ampere, magnitude(draw[l]));
            c.most[i] = std::max(c.most[i], c.harmonics[0][i] + c.harmonics[1][i] + c.harmonics[2][i]);
        }
        if (room > 0 && std::accumulate(c.most.begin(), c.most.end(), 0.0) <= room) return;
        spread(c, linear, true);
        if (c.triplen > 0) {
            c.law = Law::neutral_with_harmonics;
            const auto towards = std::move(c.least);  // and no less than what one line's harmonics add
            c.least.clear();
            for (const auto& row : towards)
                for (const auto& line : c.harmonics) {
                    auto& with = c.least.emplace_back(row);
                    for (std::size_t i = 0; i < with.size(); ++i) with[i] += line[i];
                }
        }
        c.holds = by_evaluation(limit);
        scale(c, room);
        made.push_back(std::move(c));
    }

    /// The start of a motor beside what runs: plain amps.
    void add_start(const Limit& limit, std::size_t mark) const {
        const LoadPoint& motor = s.network.loads[s.network.load_of[limit.reach.starter]];
        const std::vector<Index> alone{limit.reach.starter};
        const double started = number(rules::evaluate(s, limit, alone).value);  // its base is in it
        const double room = number(limit.edge) * (1 + rules::rounding) - started;
        const auto loads = below(limit.reach.element);
        for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
            if (!motor.conductors.has(line)) continue;
            Condition c;
            c.mark = mark;
            c.needs = {position_of(limit.reach.starter)};
            c.most.assign(company.loads.size(), 0.0);
            double all = 0;
            for (const std::size_t i : loads)
                if (i != c.needs.front())
                    all += c.most[i] =
                        in(unit::ampere, magnitude(point(i).draw[static_cast<std::size_t>(line)]));
            if (room > 0 && all <= room) continue;
            c.exact = network::pair_of(motor.conductors).has_value();  // three lines start with unlike amps
            if (c.exact) c.least = {c.most};
            c.holds = by_evaluation(limit);
            c.cost = company.loads.size() * 2 + 10;
            scale(c, room);
            made.push_back(std::move(c));
        }
    }

    /// Volts between two conductors of a load.
    void add_volts(const Limit& limit, std::size_t mark) const {
        const Index target = limit.reach.element;
        std::vector<Index> others = company.loads;
        const bool at_start = limit.reach.kind == Reach::Kind::left_at_start;
        if (at_start) std::erase(others, limit.reach.starter);
        std::erase_if(others, [&](Index load) {
            return s.plan.supply_index_of(load) != s.plan.supply_index_of(target);
        });
        Voltage least = limit.reach.kind == Reach::Kind::lost_to ? Voltage{} : std::get<Voltage>(limit.edge);
        if (limit.reach.kind == Reach::Kind::lost_to) {
            const Voltage nominal = network::nominal_between(
                s.plan.supply_of(target), s.network.loads[s.network.load_of[target]].conductors);
            least = nominal * Ratio(1.0 * unit::one - std::get<Ratio>(limit.edge) * (1 + rules::rounding));
        } else {
            least = Voltage(least * (1 - rules::rounding));
        }
        for (rules::VoltTerms& terms : rules::volt_terms(s, limit, others)) {
            Condition c;
            c.mark = mark;
            c.needs = {position_of(target)};
            if (at_start && limit.reach.starter != target)
                c.needs.push_back(position_of(limit.reach.starter));
            const Plane start = plain(terms.start);
            const Plane direction = start / std::abs(start);
            const double room = std::abs(start) - in(unit::volt, least);
            c.most.assign(company.loads.size(), 0.0);
            c.phasors.assign(company.loads.size(), 0.0);
            double all = 0, widest = 0;
            for (std::size_t k = 0; k < others.size(); ++k) {
                const Plane lost = -plain(terms.shares[k]) * std::conj(direction);  // 1: straight against
                if (lost == 0.0) continue;
                c.phasors[position_of(others[k])] = lost;
                all += c.most[position_of(others[k])] = std::max(0.0, lost.real());
                widest = std::max(widest, std::abs(std::arg(lost)));
            }
            if (room > 0 && all <= room) continue;  // it holds whatever runs
            // What is left is least with all of them, as long as each of them lies against it.
            c.sent = std::abs(start);
            c.turn = std::numbers::pi / 2 - widest;
            c.cost = 8 * others.size() + 10;
            c.holds = by_volts(std::move(terms), others, least);
            scale(c, room);
            made.push_back(std::move(c));
        }
    }
    static Plane plain(const VoltagePhasor& v) {
        return {in(unit::volt, real_part(v)), in(unit::volt, imag_part(v))};
    }
    [[nodiscard]] std::function<bool(std::span<const std::size_t>)> by_volts(rules::VoltTerms terms,
                                                                             const std::vector<Index>& others,
                                                                             Voltage least) const {
        std::vector<std::size_t> share_of(company.loads.size(), others.size());
        for (std::size_t k = 0; k < others.size(); ++k) share_of[position_of(others[k])] = k;
        return [terms = std::move(terms), share_of, least](std::span<const std::size_t> running) {
            std::vector<VoltagePhasor> shares;
            for (const std::size_t load : running)
                if (share_of[load] < terms.shares.size()) shares.push_back(terms.shares[share_of[load]]);
            return rules::smallest_remaining(terms.start, shares) >= least;
        };
    }

    void add(const Limit& limit, std::size_t mark) const {
        switch (limit.reach.kind) {
            case Reach::Kind::through:
                return add_through(limit, mark);
            case Reach::Kind::largest_way:
                return add_largest_way(limit, mark);
            case Reach::Kind::lost_to:
            case Reach::Kind::left_at:
            case Reach::Kind::left_at_start:
                return add_volts(limit, mark);
            case Reach::Kind::left_at_pick_up:
                return;  // what it warns of forbids no set
            case Reach::Kind::neutral:
                return add_neutral(limit, mark);
            case Reach::Kind::through_at_start:
                return add_start(limit, mark);
        }
    }

    void add_turns() const {
        for (const Turns& turns : company.turns) {
            Condition c;
            c.turns = c.exact = true;
            c.most.assign(company.loads.size(), 0.0);
            for (const Index load : turns.loads)
                c.most[position_of(load)] = turns.ways > 0 ? 1.0 / (turns.ways + 0.5) : no_room;
            made.push_back(std::move(c));
        }
        for (const Positions& positions : company.changeovers) {
            Condition c;
            c.turns = true;
            c.most.assign(company.loads.size(), 0.0);
            std::vector<std::size_t> position(company.loads.size(), positions.loads.size());
            for (std::size_t k = 0; k < positions.loads.size(); ++k)
                for (const Index load : positions.loads[k]) {
                    c.most[position_of(load)] = 1;
                    position[position_of(load)] = k;
                }
            c.holds = [position, none = positions.loads.size()](std::span<const std::size_t> running) {
                std::size_t in_use = none;
                for (const std::size_t load : running) {
                    if (position[load] == none) continue;
                    if (in_use != none && in_use != position[load]) return false;
                    in_use = position[load];
                }
                return true;
            };
            made.push_back(std::move(c));
        }
    }
};

}  // namespace

std::vector<Condition> conditions_of(const Situation& s, const rules::Judgement& judgement,
                                     const Company& company) {
    std::vector<Condition> made;
    const Maker maker(s, company, made);
    for (std::size_t i = 0; i < judgement.limits.size(); ++i)
        if (!std::holds_alternative<std::monostate>(judgement.limits[i].edge))
            maker.add(judgement.limits[i], i);
    maker.add_turns();
    return made;
}

}  // namespace benchfeed::advice
