// Limits stand for a set and all its subsets. Held against brute force over every subset, and against the
// laws that must hold whatever the figures.
#include <benchfeed/rules/worst_subset.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include <benchfeed/check.hpp>
#include <benchfeed/network/ampacity.hpp>
#include "support/judged.hpp"
#include "support/prints_as.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using test::catalogue;
using test::judged;

namespace {

struct Random {
    std::mt19937 engine;
    double between(double a, double b) { return std::uniform_real_distribution<double>(a, b)(engine); }
    int up_to(int n) { return std::uniform_int_distribution<int>(0, n)(engine); }
};

/// A bench of so many loads on boxes in a chain, in a system.
std::string bench(Random& random, const char* system, int loads) {
    const std::string region =
        std::string(system) == "230 V" || std::string(system) == "230/400 V" ? "EU" : "US";
    const bool us = region == "US";
    std::string plan = "format = 1\n[plan]\nregion = \"" + region +
                       "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + std::string(system) +
                       "\"\n[stock.c]\ntype = \"" + (us ? "SOOW" : "H07RN-F") + "\"\nsection = \"" +
                       (us ? "12 AWG" : "2.5 mm2") + "\"\ncores = 5\n";
    const std::vector<std::string> lines =
        std::string(system) == "120/240 V" ? std::vector<std::string>{"L1-N", "L2-N", "L1-L2"}
        : std::string(system) == "230 V"   ? std::vector<std::string>{"L1-N"}
                                           : std::vector<std::string>{"L1-N", "L2-N", "L3-N", "L1-L2"};
    for (int i = 0; i < loads; ++i) {
        const std::string n = std::to_string(i),
                          up = i == 0 ? "supply.s" : "box.b" + std::to_string(random.up_to(i - 1));
        const std::string pair =
            lines[static_cast<std::size_t>(random.up_to(static_cast<int>(lines.size()) - 1))];
        const bool between = pair == "L1-L2";
        const int volts = us        ? (between ? (std::string(system) == "120/208 V" ? 208 : 240) : 120)
                          : between ? 400
                                    : 230;
        plan += "[box.b" + n + "]\nfrom = \"" + up + "\"\ncable = { stock = \"c\", length = \"" +
                std::to_string(random.between(1, 12)).substr(0, 5) + " m\" }\n";
        plan += "[load.l" + n + "]\nfrom = \"box.b" + n + "\"\nconductors = \"" + pair +
                "\"\nmotor = \"universal\"\nplate = { current = \"" +
                std::to_string(random.between(0.5, 12)).substr(0, 4) + " A\", voltage = \"" +
                std::to_string(volts) + " V\"";
        if (random.up_to(1) == 0)
            plan += ", power_factor = " + std::to_string(random.between(0.5, 1)).substr(0, 5);
        plan += " }\n";
    }
    return plan;
}

/// The neutral behind an element when lags are not known, the slow way: in each of many directions what every
/// load can give towards it at the best of its lags, or nothing.
double neutral_in_every_direction(const rules::Situation& s, const std::vector<plan::Index>& loads,
                                  plan::Index element) {
    constexpr int directions = 7200;
    double worst = 0;
    for (int d = 0; d < directions; ++d) {
        const double towards = 2 * std::numbers::pi * d / directions;
        double sum = 0;
        for (const plan::Index l : loads) {
            const auto& load = s.network.loads[s.network.load_of[l]];
            if (!s.network.hangs_below(l, element)) continue;
            const double amps = in(unit::ampere, magnitude(load.draw[3]));
            const double angle = std::atan2(in(unit::ampere, imag_part(load.draw[3])),
                                            in(unit::ampere, real_part(load.draw[3])));
            const double most_lag =
                load.power_factor_known ? 0.0 : std::acos(in(unit::one, load.least_power_factor));
            double best = 0;
            for (const double lag :
                 {0.0, most_lag, std::fmod(angle - towards + 4 * std::numbers::pi, 2 * std::numbers::pi)})
                if (lag <= most_lag) best = std::max(best, amps * std::cos(angle - lag - towards));
            sum += best;
        }
        worst = std::max(worst, sum);
    }
    return worst;
}

}  // namespace

TEST_CASE("the worst subset is that of brute force: line and neutral currents, volts at every load") {
    for (int seed = 0; seed < 60; ++seed) {
        Random random{std::mt19937(static_cast<unsigned>(seed))};
        const char* systems[] = {"230 V", "120/240 V", "120/208 V", "230/400 V"};
        const auto result = judged(bench(random, systems[seed % 4], 6));
        const auto s = result.situation();
        CAPTURE(seed);
        const auto& all = result.plan().everything.loads;
        for (plan::Index i = 0; i < result.plan().elements.size(); ++i) {
            rules::Limit limit;
            limit.at = rules::at_element(i);
            limit.reach = {rules::Reach::Kind::through, i};
            const double found = number(rules::evaluate(s, limit, all).value);
            const bool lags_known = std::none_of(all.begin(), all.end(), [&](plan::Index l) {
                return s.network.hangs_below(l, i) &&
                       !s.network.loads[s.network.load_of[l]].power_factor_known;
            });
            double worst = lags_known ? 0 : neutral_in_every_direction(s, all, i);
            for (unsigned mask = 0; mask < (1u << all.size()); ++mask)
                for (std::size_t c = 0; c < network::live_conductors; ++c) {
                    if (c == 3 && !lags_known) continue;
                    std::complex<double> sum = 0;
                    for (std::size_t k = 0; k < all.size(); ++k) {
                        const auto& load = s.network.loads[s.network.load_of[all[k]]];
                        if (!(mask >> k & 1u) || !s.network.hangs_below(all[k], i)) continue;
                        std::complex<double> share{in(unit::ampere, real_part(load.draw[c])),
                                                   in(unit::ampere, imag_part(load.draw[c]))};
                        if (!lags_known) share = std::abs(share);
                        sum += share;
                    }
                    worst = std::max(worst, std::abs(sum));
                }
            CHECK(std::abs(found - worst) <= 1e-6 * std::max(1.0, worst));
        }
        for (const plan::Index target : all) {
            rules::Limit limit;
            limit.at = rules::at_element(target);
            limit.reach = {rules::Reach::Kind::left_at, target};
            const double found = number(rules::evaluate(s, limit, all).value);
            const auto& here = s.network.loads[s.network.load_of[target]];
            const auto pair = *network::pair_of(here.conductors);
            const auto a = static_cast<std::size_t>(pair.from), b = static_cast<std::size_t>(pair.to);
            const VoltagePhasor start = network::nominal_voltage(s.plan.supply_of(target), pair.from) -
                                        network::nominal_voltage(s.plan.supply_of(target), pair.to);
            double least = 1e9;
            for (unsigned mask = 0; mask < (1u << all.size()); ++mask) {
                VoltagePhasor left = start;
                for (std::size_t k = 0; k < all.size(); ++k) {
                    if (!(mask >> k & 1u)) continue;
                    const auto& load = s.network.loads[s.network.load_of[all[k]]];
                    const auto z = network::common_impedance(s.plan, s.network, target, all[k]);
                    left -= VoltagePhasor(z[a] * load.draw[a] - z[b] * load.draw[b]);
                }
                least = std::min(least, in(unit::volt, magnitude(left)));
            }
            CHECK(found <= least * (1 + 1e-9));  // never above the best subset
            CHECK(found >= least * (1 - 2e-5));  // and hardly below: a load may draw a part of its amps
        }
    }
}

TEST_CASE(
    "laws: longer cable never lowers a drop, more load never lowers a current, a set bounds its subsets") {
    for (int seed = 0; seed < 20; ++seed) {
        Random random{std::mt19937(static_cast<unsigned>(1000 + seed))};
        CAPTURE(seed);
        const std::string plan = bench(random, "230 V", 5);
        std::string longer = plan, more = plan;
        const auto cable = longer.find("length = \"", longer.find("[box.b0]"));
        longer.replace(cable + 10, 5, "19.99");
        const auto amps = more.find("current = \"", more.find("[load.l0]"));
        more.replace(amps + 11, 4, "12.9");
        const auto base = judged(plan), far = judged(longer), loaded = judged(more);
        const auto& all = base.plan().everything.loads;
        for (plan::Index i = 0; i < base.plan().elements.size(); ++i) {
            const auto value = [&](const Judged& j, rules::Reach::Kind kind,
                                   std::span<const plan::Index> set) {
                rules::Limit limit;
                limit.reach = {kind, i};
                return number(rules::evaluate(j.situation(), limit, set).value);
            };
            const auto through = rules::Reach::Kind::through;
            CHECK(value(loaded, through, all) >= value(base, through, all) - 1e-9);
            const std::vector<plan::Index> part(all.begin(), all.begin() + 3);
            CHECK(value(base, through, all) >= value(base, through, part) - 1e-9);
            if (base.plan()[i].kind != plan::Kind::load) continue;
            CHECK(value(far, rules::Reach::Kind::lost_to, all) >=
                  value(base, rules::Reach::Kind::lost_to, all) - 1e-12);
            CHECK(value(loaded, rules::Reach::Kind::lost_to, all) >=
                  value(base, rules::Reach::Kind::lost_to, all) - 1e-12);
        }
    }
}

TEST_CASE("law: a wider section never lowers the ampacity, warmer air never raises it") {
    const auto ampacity = [&](const std::string& section, const std::string& ambient, const std::string& type,
                              const std::string& more) {
        const auto result = judged(
            "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\nambient = \"" + ambient +
            "\"\n[supply.s]\nsystem = \"230 V\"\n[stock.c]\ntype = \"" + type + "\"\nsection = \"" + section +
            "\"\ncores = 3\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"3 m\"" + more +
            " }\n[load.l]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n");
        const auto found = network::ampacity(result.plan(), catalogue(), result.situation().network,
                                             result.plan().find(plan::Kind::box, "b"));
        REQUIRE_MESSAGE(found.value.has_value(), found.why);
        return in(unit::ampere, *found.value);
    };
    double last = 0;
    for (const char* section : {"0.75 mm2", "1.0 mm2", "1.25 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"}) {
        const double here = ampacity(section, "30 degC", "H07RN-F", "");
        CHECK(here > last);
        last = here;
    }
    last = 1e9;
    for (const char* ambient : {"10 degC", "30 degC", "31 degC", "35 degC", "36 degC", "40 degC", "45 degC",
                                "50 degC", "55 degC"}) {
        const double here = ampacity("2.5 mm2", ambient, "PVC sheathed", ", method = \"C\"");
        CHECK(here <= last);
        last = here;
    }
    CHECK(test::agrees(ampacity("2.5 mm2", "36 degC", "PVC sheathed", ", method = \"C\""), 27 * 0.87,
                       1e-12));  // the row at or above
    CHECK(test::agrees(ampacity("2.5 mm2", "10 degC", "PVC sheathed", ", method = \"C\""), 27,
                       1e-12));  // no credit
    CHECK(test::agrees(ampacity("2.5 mm2", "30 degC", "XLPE sheathed", ", method = \"C\""), 27,
                       1e-12));  // the 70 degC table
    CHECK(test::agrees(ampacity("2.5 mm2", "30 degC", "PVC sheathed", ", method = \"C\", grouped = 3"),
                       27 * 0.70, 1e-12));
}

// Source   brute force: every subset, every lag in steps of a hundredth of its range.
TEST_CASE("a neutral whose lags nobody knows is worst at some lag, found without trying them") {
    for (unsigned seed = 1; seed <= test::rounds(60); ++seed) {
        CAPTURE(seed);
        std::mt19937 random(seed);
        const auto between = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        std::vector<rules::Fan> fans;
        std::vector<double> lags;
        for (unsigned i = 0; i < 3; ++i) {
            const double angle = -2.0943951023931953 * i + between(-0.2, 0.2), size = between(1, 15);
            const double factor = seed % 3 == 0 && i == 0 ? 1.0 : between(0.5, 1);
            fans.push_back(
                {rectangular(size * std::cos(angle) * unit::ampere, size * std::sin(angle) * unit::ampere),
                 factor * unit::one});
            lags.push_back(std::acos(factor));
        }
        double brute = 0;
        constexpr int steps = 60;
        const auto share = [&](std::size_t i, int step) {
            const std::complex<double> phasor{in(unit::ampere, real_part(fans[i].in_phase)),
                                              in(unit::ampere, imag_part(fans[i].in_phase))};
            return step < 0 ? 0.0 : phasor * std::polar(1.0, -lags[i] * step / steps);
        };
        for (int a = -1; a <= steps; ++a)
            for (int b = -1; b <= steps; ++b)
                for (int c = -1; c <= steps; ++c)
                    brute = std::max(brute, std::abs(share(0, a) + share(1, b) + share(2, c)));
        const double found = in(unit::ampere, rules::largest_sum_of_fans(fans));
        CHECK(found >= brute * (1 - 1e-12));
        CHECK(found <= brute * (1 + 1e-3));
    }
}

// Worked by hand: 10 A at power factor 0.5 on a neutral beside 10 A of which nobody knows the lag, on one
// line: both may lag alike, 20 A.
TEST_CASE("an unknown lag beside a known one on one line adds in full") {
    const rules::Fan unknown{rectangular(10.0 * unit::ampere, 0.0 * unit::ampere), 0.5 * unit::one};
    const rules::Fan lagging{rectangular(5.0 * unit::ampere, -std::sqrt(75.0) * unit::ampere),
                             1.0 * unit::one};
    CHECK(in(unit::ampere, rules::largest_sum_of_fans({unknown, lagging})) == doctest::Approx(20));
}

// Worked by hand: universal motors have 0.90 at least (table motor-kinds), so one of unknown power factor may
// lag by 25.84 degrees. 10 A on L1 in phase and 10 A on L3 that lags so far stand 94.16 degrees apart: 2 * 10
// A * cos(47.08 degrees) = 13.62 A in the neutral, more than in either line.
TEST_CASE("on three lines an unknown power factor counts by the kind of motor") {
    const auto load = [](const std::string& name, const std::string& line) {
        return "[load." + name + "]\nfrom = \"box.b\"\nconductors = \"" + line +
               "-N\"\nmotor = \"universal\"\nplate = { current = \"10 A\", voltage = \"230 V\" }\n";
    };
    const auto result = judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230/400 V\"\n"
        "[box.b]\nfrom = \"supply.s\"\n" +
        load("x", "L1") + load("y", "L3"));
    rules::Limit limit;
    limit.reach = {rules::Reach::Kind::through, result.plan().find(plan::Kind::box, "b")};
    const auto evaluated = rules::evaluate(result.situation(), limit, result.plan().everything.loads);
    CHECK(test::prints_as(number(evaluated.value), "13.62"));
}
