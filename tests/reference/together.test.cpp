// What may run together, held against enumeration of every subset: once with rules::evaluate asked about each
// set, once with a second implementation that adds what every single subset draws and loses.
#include <benchfeed/advice/together.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <complex>
#include <set>

#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using namespace benchfeed::test;
using plan::Index;

namespace {

using Sets = std::set<std::vector<Index>>;

/// What each subset of all loads comes to, by a number whose bits are the loads.
struct Table {
    std::vector<Index> loads;
    std::vector<bool> forbidden, open;  ///< of exactly these loads; closed over subsets by close()
    void close() {
        for (std::size_t i = 0; i < loads.size(); ++i)
            for (std::size_t mask = 0; mask < forbidden.size(); ++mask)
                if (mask >> i & 1u) {
                    if (forbidden[mask ^ (std::size_t{1} << i)]) forbidden[mask] = true;
                    if (open[mask ^ (std::size_t{1} << i)]) open[mask] = true;
                }
    }
};

std::vector<Index> members(const Table& table, std::size_t mask) {
    std::vector<Index> found;
    for (std::size_t i = 0; i < table.loads.size(); ++i)
        if (mask >> i & 1u) found.push_back(table.loads[i]);
    return found;
}

/// Rule 6 of the plan format in its own words, for a choice of loads: who runs then.
struct Runs {
    std::size_t mask = 0;
    bool possible = true;
};

class Company {
public:
    explicit Company(const plan::Plan& plan, const std::vector<Index>& loads) : plan_(plan), loads_(loads) {
        for (std::size_t i = 0; i < loads.size(); ++i) {
            const auto& starts = load(i).self_starting;
            if ((starts.is(true) || starts.stated_unknown) && !takes_turns(i)) always_ |= bit(i);
        }
    }
    [[nodiscard]] std::size_t always() const { return always_; }
    [[nodiscard]] Runs runs(std::size_t chosen) const {
        std::size_t mask = chosen | always_, before = 0;
        while (mask != before) {
            before = mask;
            for (std::size_t i = 0; i < loads_.size(); ++i)
                for (std::size_t k = 0; k < loads_.size(); ++k) {
                    if (!(mask >> k & 1u)) continue;
                    if (load(i).starts_with_index == loads_[k]) mask |= bit(i);
                    if (plan_[plan_[loads_[k]].parent].parent == loads_[i]) mask |= bit(i);
                }
        }
        return {mask, possible(mask)};
    }

private:
    [[nodiscard]] const plan::Load& load(std::size_t i) const { return *plan_[loads_[i]].as<plan::Load>(); }
    static std::size_t bit(std::size_t i) { return std::size_t{1} << i; }
    /// The child of the switch through which the load hangs; nowhere if it does not.
    [[nodiscard]] Index branch(Index sw, Index element) const {
        for (Index up = element; up != plan::nowhere; up = plan_[up].parent)
            if (plan_[up].parent == sw) return up;
        return plan::nowhere;
    }
    [[nodiscard]] bool clash(std::size_t a, std::size_t b) const {
        for (Index i = 0; i < plan_.elements.size(); ++i) {
            const auto* sw = plan_[i].as<plan::Switch>();
            if (!sw || !sw->changeover.is(true)) continue;
            const Index of_a = branch(i, loads_[a]), of_b = branch(i, loads_[b]);
            if (of_a != plan::nowhere && of_b != plan::nowhere && of_a != of_b) return true;
        }
        return false;
    }
    [[nodiscard]] int ways(Index outlet) const {
        return plan_[outlet].as<plan::Outlet>() ? *plan_[outlet].as<plan::Outlet>()->ways : 1000;
    }
    [[nodiscard]] bool takes_turns(std::size_t i) const {
        int there = 0;
        for (std::size_t k = 0; k < loads_.size(); ++k) {
            if (k != i && clash(i, k)) return true;
            there += plan_[loads_[k]].parent == plan_[loads_[i]].parent;
        }
        return there > ways(plan_[loads_[i]].parent);
    }
    [[nodiscard]] bool possible(std::size_t mask) const {
        for (std::size_t a = 0; a < loads_.size(); ++a) {
            if (!(mask >> a & 1u)) continue;
            int there = 0;
            for (std::size_t b = 0; b < loads_.size(); ++b) {
                if (!(mask >> b & 1u)) continue;
                if (b != a && clash(a, b)) return false;
                there += plan_[loads_[b]].parent == plan_[loads_[a]].parent;
            }
            if (there > ways(plan_[loads_[a]].parent)) return false;
        }
        return true;
    }

    const plan::Plan& plan_;
    const std::vector<Index>& loads_;
    std::size_t always_ = 0;
};

struct Expected {
    Sets largest, forbidden;
    bool always_forbidden = false;
    std::vector<std::vector<advice::Together>> pairs;
};

Expected expected(const plan::Plan& plan, const Table& table) {
    Expected e;
    const Company company(plan, table.loads);
    const std::size_t count = table.loads.size(), all = std::size_t{1} << count;
    std::vector<bool> choice(all, false), allowed(all, false), forbidden(all, false);
    for (std::size_t chosen = 0; chosen < all; ++chosen) {
        if (chosen & company.always()) continue;
        const Runs runs = company.runs(chosen);
        choice[chosen] = runs.possible;
        forbidden[chosen] = runs.possible && table.forbidden[runs.mask];
        allowed[chosen] = runs.possible && !table.forbidden[runs.mask] && !table.open[runs.mask];
    }
    e.always_forbidden = forbidden[0];
    for (std::size_t chosen = 1; chosen < all && !e.always_forbidden; ++chosen) {
        bool largest = allowed[chosen], smallest = forbidden[chosen];
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t one = std::size_t{1} << i;
            if (!(chosen & one) && !(company.always() & one) && allowed[chosen | one]) largest = false;
            if ((chosen & one) && (forbidden[chosen ^ one] || !choice[chosen ^ one])) smallest = false;
        }
        if (largest) e.largest.insert(members(table, chosen));
        if (smallest) e.forbidden.insert(members(table, chosen));
    }
    e.pairs.assign(count, std::vector<advice::Together>(count));
    for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = 0; b < count; ++b) {
            const Runs runs = company.runs(std::size_t{1} << a | std::size_t{1} << b);
            e.pairs[a][b] = !runs.possible               ? advice::Together::turns
                            : table.forbidden[runs.mask] ? advice::Together::no
                            : table.open[runs.mask]      ? advice::Together::cannot_judge
                                                         : advice::Together::yes;
        }
    return e;
}

/// Every way to take the choices of a set.
void expand(const advice::ChosenSet& set, std::size_t at, std::vector<Index> chosen, Sets& into) {
    if (at == set.choices.size()) {
        std::sort(chosen.begin(), chosen.end());
        into.insert(chosen);
        return;
    }
    const auto& choice = set.choices[at];
    std::vector<bool> taken(choice.of.size(), false);
    std::fill(taken.begin(), taken.begin() + static_cast<std::ptrdiff_t>(choice.count), true);
    do {
        std::vector<Index> more = chosen;
        for (std::size_t i = 0; i < taken.size(); ++i)
            if (taken[i]) more.push_back(choice.of[i]);
        expand(set, at + 1, more, into);
    } while (std::prev_permutation(taken.begin(), taken.end()));
}
Sets expand(const advice::ChosenSets& sets) {
    Sets all;
    for (const auto& set : sets.sets) expand(set, 0, {}, all);
    return all;
}

void check_order(const advice::ChosenSets& sets) {
    for (std::size_t i = 1; i < sets.sets.size(); ++i) {
        const auto &a = sets.sets[i - 1], &b = sets.sets[i];
        const bool fewer = a.loads.size() < b.loads.size();
        const bool as_many =
            a.loads.size() == b.loads.size() && in(unit::ampere, a.amps) >= in(unit::ampere, b.amps) - 1e-6;
        CHECK((fewer || as_many));
    }
}

advice::TogetherAnswer answer_of(const Judged& judged) {
    auto answer = advice::together(judged.situation(), judged.judgement(),
                                   {.most_sets = 10'000, .most_steps = 50'000'000});
    REQUIRE(!answer.largest.more);
    REQUIRE(!answer.forbidden.more);
    REQUIRE(!answer.largest.stopped);
    return answer;
}

/// An element that cannot be judged opens every set with a load behind it.
void open_whatever_runs(const Judged& judged, Table& table) {
    const auto s = judged.situation();
    for (const auto& o : judged.judgement().outcomes)
        if (o.verdict == rules::Verdict::cannot_judge && o.set == rules::no_set &&
            o.at.kind == rules::At::Kind::element && rules::registry()[o.rule].essential &&
            rules::registry()[o.rule].harm == rules::Harm::heat)
            for (std::size_t i = 0; i < table.loads.size(); ++i)
                if (s.network.hangs_below(table.loads[i], o.at.index))
                    for (std::size_t mask = 0; mask < table.open.size(); ++mask)
                        if (mask >> i & 1u) table.open[mask] = true;
}

/// Every subset, each limit asked by rules::evaluate. `judge` makes a set of exactly these loads.
Table by_evaluation(const Judged& judged) {
    const auto s = judged.situation();
    Table table;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::load) table.loads.push_back(i);
    const std::size_t all = std::size_t{1} << table.loads.size();
    table.forbidden.assign(all, false);
    table.open.assign(all, false);
    for (std::size_t mask = 0; mask < all; ++mask) {
        const auto set = members(table, mask);
        for (const auto& limit : judged.judgement().limits) {
            const bool can_fail = !std::holds_alternative<std::monostate>(limit.edge);
            const bool essential = rules::registry()[limit.rule].essential;
            if (!can_fail && !essential) continue;
            const auto evaluated = rules::evaluate(s, limit, set);
            if (evaluated.loads.empty()) continue;
            const auto verdict = rules::verdict_at(limit, evaluated);
            if (verdict == rules::Verdict::fail) table.forbidden[mask] = true;
            if (verdict == rules::Verdict::cannot_judge && essential) table.open[mask] = true;
        }
    }
    open_whatever_runs(judged, table);
    table.close();
    return table;
}

/// Every subset on its own: amps through each conductor added up, volts left worked out, nothing else.
/// `slack` moves the edges of volts inwards by as much as rules::smallest_remaining may lie below the best
/// subset.
Table by_addition(const Judged& judged, double slack) {
    using Plane = std::complex<double>;
    const auto s = judged.situation();
    Table table;
    for (const auto& point : s.network.loads) table.loads.push_back(point.element);
    std::sort(table.loads.begin(), table.loads.end());
    const std::size_t count = table.loads.size(), all = std::size_t{1} << count;
    table.forbidden.assign(all, false);
    table.open.assign(all, false);
    const auto point = [&](std::size_t i) -> const network::LoadPoint& {
        return s.network.loads[s.network.load_of[table.loads[i]]];
    };
    std::vector<Plane> sums(all);
    const auto add_up = [&](Plane start, const std::vector<Plane>& shares) {
        sums[0] = start;
        for (std::size_t mask = 1; mask < all; ++mask) {
            const auto low = static_cast<std::size_t>(__builtin_ctzll(mask));
            sums[mask] = sums[mask & (mask - 1)] + shares[low];
        }
    };
    const auto position = [&](Index load) {
        return static_cast<std::size_t>(std::find(table.loads.begin(), table.loads.end(), load) -
                                        table.loads.begin());
    };
    const auto too_much = [&](double edge, std::size_t needed) {
        for (std::size_t mask = 1; mask < all; ++mask)
            if ((mask & needed) == needed && std::abs(sums[mask]) > edge * (1 + 1e-9))
                table.forbidden[mask] = true;
    };
    // Electronic loads of three lines: no phasors, 1.73 times the share of the largest line, at most all
    // shares.
    const auto add_neutral = [&](Index feed, std::vector<Plane> shares, double edge) {
        const bool three = !s.plan.supply_of(feed).system.is(plan::System::v120_240);
        std::array<std::vector<double>, 3> lines;
        for (auto& line : lines) line.assign(all, 0.0);
        for (std::size_t i = 0; i < count; ++i) {
            if (!three || !point(i).electronic || shares[i] == 0.0) continue;
            shares[i] = 0;
            for (std::size_t mask = 0; mask < all; ++mask)
                for (std::size_t l = 0; l < 3; ++l)
                    if (mask >> i & 1u) lines[l][mask] += in(unit::ampere, magnitude(point(i).draw[l]));
        }
        add_up(0, shares);
        for (std::size_t mask = 0; mask < all; ++mask) {
            const double a = lines[0][mask], b = lines[1][mask], c = lines[2][mask];
            if (std::abs(sums[mask]) + std::min(1.73 * std::max({a, b, c}), a + b + c) > edge * (1 + 1e-9))
                table.forbidden[mask] = true;
        }
    };
    for (const auto& limit : judged.judgement().limits) {
        if (std::holds_alternative<std::monostate>(limit.edge)) continue;
        using Kind = rules::Reach::Kind;
        const double edge = number(limit.edge);
        std::vector<Index> feeds{limit.reach.element};
        if (limit.reach.kind == Kind::largest_way) feeds = s.plan[limit.reach.element].children;
        if (limit.reach.kind == Kind::through || limit.reach.kind == Kind::largest_way ||
            limit.reach.kind == Kind::neutral) {
            for (const Index feed : feeds)
                for (std::size_t c = 0; c < network::live_conductors; ++c) {
                    if (limit.reach.kind == Kind::neutral && c != 3) continue;
                    std::vector<Plane> shares(count);
                    for (std::size_t i = 0; i < count; ++i)
                        if (s.network.hangs_below(table.loads[i], feed))
                            shares[i] = in(unit::one, limit.weight.of(point(i))) *
                                        Plane(in(unit::ampere, real_part(point(i).draw[c])),
                                              in(unit::ampere, imag_part(point(i).draw[c])));
                    if (limit.reach.kind == Kind::neutral) {
                        add_neutral(feed, shares, edge);
                        continue;
                    }
                    add_up(0, shares);
                    too_much(edge - in(unit::ampere, limit.base), 0);
                }
            continue;
        }
        if (limit.reach.kind == Kind::through_at_start) {
            const std::size_t starter = position(limit.reach.starter);
            const std::vector<Index> alone{limit.reach.starter};
            const double start = number(rules::evaluate(s, limit, alone).value);
            std::vector<Plane> shares(count);
            for (std::size_t i = 0; i < count; ++i)
                if (i != starter && s.network.hangs_below(table.loads[i], limit.reach.element))
                    for (std::size_t c = 0; c < 3; ++c)
                        if (magnitude(point(starter).draw[c]) > 0.0 * unit::ampere)
                            shares[i] =
                                std::max(shares[i].real(), in(unit::ampere, magnitude(point(i).draw[c])));
            add_up(start, shares);
            too_much(edge, std::size_t{1} << starter);
            continue;
        }
        std::vector<Index> others = table.loads;
        if (limit.reach.kind == Kind::left_at_start) std::erase(others, limit.reach.starter);
        const std::size_t target = position(limit.reach.element);
        const double nominal = in(unit::volt, network::nominal_between(s.plan.supply_of(limit.reach.element),
                                                                       point(target).conductors));
        double least = edge;
        if (limit.reach.kind == Kind::lost_to)
            least = nominal * (1 - in(unit::one, std::get<Ratio>(limit.edge)) * (1 + 1e-9));
        for (const auto& terms : rules::volt_terms(s, limit, others)) {
            std::vector<Plane> shares(count);
            const auto plain = [](const VoltagePhasor& v) {
                return Plane(in(unit::volt, real_part(v)), in(unit::volt, imag_part(v)));
            };
            for (std::size_t k = 0; k < others.size(); ++k)
                shares[position(others[k])] = plain(terms.shares[k]);
            add_up(plain(terms.start), shares);
            for (std::size_t mask = 1; mask < all; ++mask)
                if ((mask >> target & 1u) && std::abs(sums[mask]) * (1 - slack) < least * (1 - 1e-9))
                    table.forbidden[mask] = true;
        }
    }
    open_whatever_runs(judged, table);
    table.close();
    return table;
}

}  // namespace

TEST_CASE("together is the enumeration of every subset, each asked of the rules: 400 plans") {
    for (unsigned seed = 1; seed <= test::rounds(400); ++seed) {
        CAPTURE(seed);
        BenchDice random(seed);
        const std::vector<std::string> systems{"230 V",     "230 V",     "230 V",
                                               "120/240 V", "230/400 V", "120/208 V"};
        BenchOptions options;
        options.system = systems[seed % systems.size()];
        options.loads = random.from(1, options.system == "230 V" ? 8 : 7);
        const Judged result = judged(random_bench(random, options));
        const auto answer = answer_of(result);
        const Table table = by_evaluation(result);
        const Expected e = expected(result.plan(), table);
        CHECK(answer.always_broken.has_value() == e.always_forbidden);
        CHECK(expand(answer.largest) == e.largest);
        CHECK(expand(answer.forbidden) == e.forbidden);
        CHECK(answer.pairs == e.pairs);
        check_order(answer.largest);
        check_order(answer.forbidden);
        for (const auto& set : answer.forbidden.sets) CHECK(set.broken.has_value());
    }
}

TEST_CASE(
    "together is the enumeration of every subset, each added up on its own: 100 plans of up to 16 loads") {
    int the_same = 0;
    std::size_t most_sets = 0;
    for (unsigned seed = 1001; seed <= 1000 + test::rounds(100); ++seed) {
        CAPTURE(seed);
        BenchDice random(seed);
        const std::vector<std::string> systems{"230 V", "230 V", "120/240 V", "230/400 V"};
        BenchOptions options;
        options.system = systems[seed % systems.size()];
        options.extras = false;
        options.loads = random.from(10, seed % 4 < 2 ? 16 : 13);
        // Lags that nobody knows are no matter of subsets; on one line they do not exist.
        options.factors_known = options.system != "230 V";
        options.factors_absent = !options.factors_known;
        if (options.system == "230/400 V") options.factors_absent = false;
        const Judged result = judged(random_bench(random, options));
        const auto answer = answer_of(result);
        const Expected exact = expected(result.plan(), by_addition(result, 0)),
                       slack = expected(result.plan(), by_addition(result, 2e-5));
        const Sets largest = expand(answer.largest), forbidden = expand(answer.forbidden);
        const bool as_exact = largest == exact.largest && forbidden == exact.forbidden,
                   as_slack = largest == slack.largest && forbidden == slack.forbidden;
        CHECK((as_exact || as_slack));
        the_same += as_exact;
        most_sets = std::max(most_sets, largest.size());
    }
    CHECK(the_same * 100 >= test::rounds(100) * 95);
    CHECK(most_sets > (test::sanitized ? 20u : 100u));  // the plans are not all trivial
}
