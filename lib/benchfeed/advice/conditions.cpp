#include <benchfeed/advice/conditions.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/summary.hpp>
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

/// Edges are compared as rules compare them: 7.0 + 9.0 is not above 16.
constexpr double rounding = 1e-9;
/// Beyond any sum of loads: the condition is broken as soon as it counts.
constexpr double no_room = 2;
/// Directions in which currents are added: a sum of any angle is seen by one of them to within the cosine of
/// half the step.
constexpr int directions = 24;

enum Law : int { none, line, neutral, neutral_with_harmonics };

/// What a current can give towards a direction: its lag may lie anywhere up to the largest.
double towards(Plane in_phase, double most_lag, double direction) {
    const double early = std::arg(in_phase), size = std::abs(in_phase);
    const double off = std::remainder(direction - (early - most_lag / 2), 2 * std::numbers::pi);
    const double beyond = std::abs(off) - most_lag / 2;
    return beyond <= 0 ? size : size * std::max(0.0, std::cos(std::min(beyond, std::numbers::pi)));
}

double direction_of(int k) {
    return 2 * std::numbers::pi * k / directions;
}

struct Maker {
    const Situation s;  // by value: what it refers to outlives the conditions, the caller's copy may not
    const Company& company;
    std::vector<Condition>& made;

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
            return;
        }
        for (double& share : c.most) share /= room;
        for (auto& row : c.least)
            for (double& share : row) share /= room;
    }

    /// Amps through one conductor of a feed.
    void add_current(const Limit& limit, std::size_t mark, std::size_t conductor) const {
        const double room = number(limit.edge) * (1 + rounding) - in(unit::ampere, limit.base);
        const bool neutral = conductor == static_cast<std::size_t>(Conductor::n);
        Condition c;
        c.mark = mark;
        c.law = neutral ? Law::neutral : Law::line;
        std::vector<Plane> drawn(company.loads.size());
        Plane sum = 0;
        std::size_t known = 0, unknown = 0;
        for (std::size_t i = 0; i < company.loads.size(); ++i) {
            if (!s.network.hangs_below(company.loads[i], limit.reach.element)) continue;
            const double weight = in(unit::one, limit.weight.of(point(i)));
            drawn[i] = weight * Plane(in(unit::ampere, real_part(point(i).draw[conductor])),
                                      in(unit::ampere, imag_part(point(i).draw[conductor])));
            ++(point(i).power_factor_known ? known : unknown);
            sum += drawn[i];
        }
        if (std::all_of(drawn.begin(), drawn.end(), [](Plane p) { return p == 0.0; })) return;
        const Plane direction = std::abs(sum) > 0 ? sum / std::abs(sum) : Plane(1);
        bool in_line = true;
        for (const Plane share : drawn) {
            c.most.push_back(std::abs(share));
            if ((share * std::conj(direction)).real() < std::abs(share) * (1 - 1e-12)) in_line = false;
        }
        // In one line, or added as plain amps because no lag is known: the sum is the value. On a neutral
        // unknown lags spread, so there only the first holds; in one direction no lag makes more of it.
        c.exact = in_line || (!neutral && known == 0);
        if (c.exact) {
            c.least = {c.most};
            c.law = none;  // its one row says all
        } else {
            for (int k = 0; k < directions; ++k) c.least.push_back(row_of(drawn, neutral, direction_of(k)));
            // Amps of a line add plainly as soon as one lag below is not known: then angles prove nothing.
            if (neutral || unknown == 0)
                c.surely = std::cos(std::numbers::pi / directions);
            else
                c.law = none;
        }
        c.holds = by_evaluation(limit);
        scale(c, room);
        made.push_back(std::move(c));
    }

    /// What each load gives towards a direction; on a neutral with the lag that suits best.
    [[nodiscard]] std::vector<double> row_of(const std::vector<Plane>& drawn, bool on_neutral,
                                             double direction) const {
        std::vector<double> row;
        for (std::size_t i = 0; i < drawn.size(); ++i) {
            const bool spreads = on_neutral && !point(i).power_factor_known;
            const double lag =
                spreads ? std::acos(std::clamp(in(unit::one, point(i).least_power_factor), 0.0, 1.0)) : 0.0;
            row.push_back(towards(drawn[i], lag, direction));
        }
        return row;
    }

    void add_through(const Limit& limit, std::size_t mark) const {
        for (std::size_t c = 0; c < live_conductors; ++c) add_current(limit, mark, c);
    }

    void add_largest_way(const Limit& limit, std::size_t mark) const {
        for (const Index child : s.plan[limit.reach.element].children) {
            if (!s.plan[child].plug.known() && !s.plan[child].plug.stated_unknown) continue;
            Limit way = limit;
            way.reach = {Reach::Kind::through, child};
            add_through(way, mark);
        }
    }

    /// Third harmonics add no more than what their loads draw of the lines, and no less than that of one
    /// line.
    void add_neutral(const Limit& limit, std::size_t mark) const {
        Condition c;
        c.mark = mark;
        c.law = neutral_with_harmonics;
        const auto n = static_cast<std::size_t>(Conductor::n);
        const auto& system = s.plan.supply_of(limit.reach.element).system;
        const bool three = system.is(plan::System::v230_400) || system.is(plan::System::v120_208);
        std::vector<Plane> linear(company.loads.size());
        std::array<std::vector<double>, 3> lines;
        for (auto& line : lines) line.assign(company.loads.size(), 0.0);
        bool harmonics = false;
        c.most.assign(company.loads.size(), 0.0);
        for (std::size_t i = 0; i < company.loads.size(); ++i) {
            const auto& draw = point(i).draw;
            if (!s.network.hangs_below(company.loads[i], limit.reach.element) ||
                magnitude(draw[n]) == Current{})
                continue;
            c.most[i] = in(unit::ampere, magnitude(draw[n]));
            if (!three || !point(i).electronic) {
                linear[i] = {in(unit::ampere, real_part(draw[n])), in(unit::ampere, imag_part(draw[n]))};
                continue;
            }
            harmonics = true;
            for (std::size_t l = 0; l < lines.size(); ++l) lines[l][i] = in(unit::ampere, magnitude(draw[l]));
            c.most[i] = std::max(c.most[i], lines[0][i] + lines[1][i] + lines[2][i]);
        }
        for (int k = 0; k < directions; ++k) {
            std::vector<double> row = row_of(linear, true, direction_of(k));
            for (std::size_t l = 0; l < (harmonics ? lines.size() : 1); ++l) {
                std::vector<double> with = row;
                for (std::size_t i = 0; i < with.size(); ++i) with[i] += lines[l][i];
                c.least.push_back(std::move(with));
            }
        }
        if (!harmonics) {
            c.surely = std::cos(std::numbers::pi / directions);
            c.law = neutral;
        }
        c.holds = by_evaluation(limit);
        scale(c, number(limit.edge) * (1 + rounding));
        made.push_back(std::move(c));
    }

    /// The start of a motor beside what runs: plain amps.
    void add_start(const Limit& limit, std::size_t mark) const {
        const LoadPoint& motor = s.network.loads[s.network.load_of[limit.reach.starter]];
        const std::vector<Index> alone{limit.reach.starter};
        const double started = number(rules::evaluate(s, limit, alone).value);  // its base is in it
        const double room = number(limit.edge) * (1 + rounding) - started;
        for (const auto line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
            if (!motor.conductors.has(line)) continue;
            Condition c;
            c.mark = mark;
            c.needs = {position_of(limit.reach.starter)};
            for (std::size_t i = 0; i < company.loads.size(); ++i) {
                const bool counts = s.network.hangs_below(company.loads[i], limit.reach.element) &&
                                    company.loads[i] != limit.reach.starter;
                c.most.push_back(
                    counts ? in(unit::ampere, magnitude(point(i).draw[static_cast<std::size_t>(line)]))
                           : 0.0);
            }
            c.exact = network::pair_of(motor.conductors).has_value();  // three lines start with unlike amps
            if (c.exact) c.least = {c.most};
            c.holds = by_evaluation(limit);
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
            least = nominal * Ratio(1.0 * unit::one - std::get<Ratio>(limit.edge) * (1 + rounding));
        } else {
            least = Voltage(least * (1 - rounding));
        }
        for (rules::VoltTerms& terms : rules::volt_terms(s, limit, others)) {
            Condition c;
            c.mark = mark;
            c.needs = {position_of(target)};
            if (at_start && limit.reach.starter != target)
                c.needs.push_back(position_of(limit.reach.starter));
            const Plane start = plain(terms.start);
            const Plane direction = start / std::abs(start);
            c.most.assign(company.loads.size(), 0.0);
            for (std::size_t k = 0; k < others.size(); ++k)
                c.most[position_of(others[k])] =
                    std::max(0.0, -(plain(terms.shares[k]) * std::conj(direction)).real());
            c.holds = by_volts(std::move(terms), others, least);
            scale(c, std::abs(start) - in(unit::volt, least));
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

/// How far beyond its edge a value is, as a ratio above 1.
double excess(const Limit& limit, const Measure& value) {
    const double v = number(value), e = number(limit.edge);
    return limit.bound == rules::Bound::at_most ? v / e : e / std::max(v, 1e-9);
}

}  // namespace

std::vector<Condition> conditions_of(const Situation& s, const rules::Judgement& judgement,
                                     const Company& company) {
    std::vector<Condition> made;
    const Maker maker{s, company, made};
    for (std::size_t i = 0; i < judgement.limits.size(); ++i)
        if (!std::holds_alternative<std::monostate>(judgement.limits[i].edge))
            maker.add(judgement.limits[i], i);
    maker.add_turns();
    return made;
}

std::optional<Broken> worst_broken(const Situation& s, const rules::Judgement& judgement,
                                   const std::vector<std::size_t>& limits, std::span<const Index> loads) {
    std::optional<Broken> worst;
    const auto harm = [&](Index limit) {
        return rules::danger(rules::registry()[judgement.limits[limit].rule]);
    };
    for (const std::size_t position : limits) {
        const auto i = static_cast<Index>(position);
        const Limit& limit = judgement.limits[i];
        if (std::holds_alternative<std::monostate>(limit.edge)) continue;
        auto evaluated = rules::evaluate(s, limit, loads);
        if (evaluated.loads.empty() || rules::verdict_at(limit, evaluated) != rules::Verdict::fail) continue;
        const bool worse =
            !worst || harm(i) < harm(worst->limit) ||
            (harm(i) == harm(worst->limit) &&
             excess(limit, evaluated.value) >
                 excess(judgement.limits[worst->limit], worst->evaluated.value) * (1 + rounding));
        if (worse) worst = Broken{i, std::move(evaluated)};
    }
    return worst;
}

namespace {

/// An essential limit on the way to a load beyond which, short of its edge, nothing can be said, and which
/// all loads at once overstep: the amps of an inlet that some are made for and others are not.
Index doubtful_limit(const Situation& s, const rules::Judgement& judgement, const Company& company,
                     Index load) {
    for (Index l = 0; l < judgement.limits.size(); ++l) {
        const Limit& limit = judgement.limits[l];
        if (!rules::registry()[limit.rule].essential || !std::holds_alternative<Current>(limit.doubt))
            continue;
        const std::vector<Index> alone{load};
        if (rules::evaluate(s, limit, alone).loads.empty()) continue;
        if (number(rules::evaluate(s, limit, company.loads).value) > number(limit.doubt) * (1 + rounding))
            return l;
    }
    return plan::nowhere;
}

}  // namespace

std::vector<Doubt> doubts_of(const Situation& s, const rules::Judgement& judgement, const Company& company) {
    std::vector<Doubt> doubts(company.loads.size());
    const auto essential = [](Index rule) { return rules::registry()[rule].essential; };
    for (std::size_t i = 0; i < company.loads.size(); ++i) {
        const Index load = company.loads[i];
        if (!s.network.loads[s.network.load_of[load]].known()) doubts[i].open = true;
        // An element that nobody could rate yields no limit: what runs through it cannot be judged.
        for (Index o = 0; o < judgement.outcomes.size() && !doubts[i].open; ++o) {
            const rules::Outcome& outcome = judgement.outcomes[o];
            const bool asks = outcome.verdict == rules::Verdict::cannot_judge &&
                              outcome.set == rules::no_set && outcome.at.kind == rules::At::Kind::element &&
                              essential(outcome.rule) &&
                              rules::registry()[outcome.rule].harm == rules::Harm::heat;
            if (asks && s.network.hangs_below(load, outcome.at.index)) doubts[i] = {true, o, plan::nowhere};
        }
        const std::vector<Index> alone{load};
        if (const Index doubtful = doubtful_limit(s, judgement, company, load);
            !doubts[i].open && doubtful != plan::nowhere)
            doubts[i] = {true, plan::nowhere, doubtful};
        for (Index l = 0; l < judgement.limits.size() && !doubts[i].open; ++l) {
            const Limit& limit = judgement.limits[l];
            if (!essential(limit.rule) || limit.ground.carries_ok()) continue;
            if (!rules::evaluate(s, limit, alone).loads.empty()) doubts[i] = {true, plan::nowhere, l};
        }
    }
    return doubts;
}

}  // namespace benchfeed::advice
