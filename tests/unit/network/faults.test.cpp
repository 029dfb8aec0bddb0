#include <doctest/doctest.h>

#include <cmath>

#include "network/adiabatic.hpp"
#include "network/circuit.hpp"
#include "network/fault.hpp"
#include "network/start.hpp"
#include "network/trip.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using network::Extreme;
using network::Return;
using test::catalogue;
using test::judged;

namespace {

/// A breaker, a cable and an outlet behind a supply.
std::string bench(const std::string& supply, const std::string& device, const std::string& cable,
                  const std::string& outlet = "", const std::string& load = "plate = { current = \"7 A\" }") {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n" +
           supply + "\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\n" + device +
           "\n[stock.c]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
           "[outlet.o]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\ncable = { stock = \"c\", method = "
           "\"C\", " +
           cable + " }\n" + outlet + "\n[load.x]\nfrom = \"outlet.o\"\nmotor = \"universal\"\n" + load + "\n";
}
const std::string tn =
    "earthing = \"TN-S\"\nloop_impedance = \"0.5 ohm\"\nline_impedance = \"0.4 ohm\"\nfault_current = \"1 "
    "kA\"";
const std::string b16 = "standard = \"IEC 60898\"\ncurve = \"B\"\nrating = \"16 A\"";

double loop_ohms(const Judged& j, Return back, Extreme extreme) {
    const auto loop = network::fault_loop(j.plan(), catalogue(), j.situation().network,
                                          j.plan().find(plan::Kind::outlet, "o"), back, extreme);
    REQUIRE(loop.known());
    return in(unit::ohm, loop.impedance());
}
network::Guard guard_of(const Judged& j) {
    const auto guards = network::guards_above(j.plan(), catalogue(), j.plan().find(plan::Kind::outlet, "o"),
                                              network::Place::whole);
    REQUIRE(!guards.empty());
    return guards.front();
}

}  // namespace

// Source   worked by hand with IEC 60228 (7.41 ohm/km) and IEC 60028 (1.1965 at 70 degC), reactance 0.08
// ohm/km.
TEST_CASE("a loop is the source and both ways of every run, cold or warm") {
    const Judged j = judged(bench(tn, b16, "length = \"20 m\""));
    const double cold = 2 * 0.02 * 7.41, x = 2 * 0.02 * 0.08;
    CHECK(loop_ohms(j, Return::protective, Extreme::least) ==
          doctest::Approx(std::hypot(0.5 + cold * 1.1965, x)).epsilon(1e-9));
    CHECK(loop_ohms(j, Return::neutral, Extreme::least) ==
          doctest::Approx(std::hypot(0.4 + cold * 1.1965, x)).epsilon(1e-9));
    // Most current: cold, and the 0.23 ohm of 1 kA.
    CHECK(loop_ohms(j, Return::neutral, Extreme::most) ==
          doctest::Approx(std::hypot(0.23 + cold, x)).epsilon(1e-9));
}

TEST_CASE("a longer cable and a weaker source never give a smaller loop") {
    double before = 0;
    for (const char* length : {"1 m", "5 m", "20 m", "80 m"}) {
        const double now = loop_ohms(judged(bench(tn, b16, std::string("length = \"") + length + "\"")),
                                     Return::protective, Extreme::least);
        CHECK(now > before);
        before = now;
    }
}

// Source   rule of thumb: a cold reading may reach 0.8 of a tabulated loop.
TEST_CASE("a reading at an outlet stands for everything up to it") {
    const Judged j = judged(bench("earthing = \"TN-S\"", b16, "length = \"20 m\"",
                                  "measured = { loop = \"0.8 ohm\", line = \"0.6 ohm\" }"));
    CHECK(loop_ohms(j, Return::protective, Extreme::least) == doctest::Approx(1.0));
    CHECK(loop_ohms(j, Return::protective, Extreme::most) == doctest::Approx(0.8));
    CHECK(loop_ohms(j, Return::neutral, Extreme::most) == doctest::Approx(0.6));
}

TEST_CASE("the source for a dip is never the strongest one alone") {
    const auto source = [](const std::string& supply) {
        const Judged j = judged(bench(supply, b16, "length = \"20 m\""));
        return network::line_source(j.plan(), j.plan().find(plan::Kind::supply, "s"));
    };
    CHECK_FALSE(source("earthing = \"TN-S\"\nfault_current = \"6 kA\"").has_value());
    CHECK_FALSE(source("earthing = \"TT\"\nloop_impedance = \"80 ohm\"").has_value());
    CHECK(in(unit::ohm,
             *source("earthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\nfault_current = \"230 A\"")) ==
          doctest::Approx(1.0));
    CHECK(in(unit::ohm,
             *source("earthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\nline_impedance = \"0.2 ohm\"")) ==
          doctest::Approx(0.2));
}

TEST_CASE("a device never takes longer at more current, and without its letter nothing is known") {
    const Judged j = judged(bench(tn, b16, "length = \"20 m\""));
    double before = 1e9;
    for (const double current : {24.0, 41.0, 79.0, 80.0, 500.0}) {
        const auto clearing =
            network::latest_clearing(j.plan(), catalogue(), guard_of(j), current * unit::ampere);
        REQUIRE(clearing.has_value());
        CHECK(in(unit::second, clearing->latest) <= before);
        before = in(unit::second, clearing->latest);
    }
    CHECK(before == doctest::Approx(0.1));
    CHECK_FALSE(
        network::latest_clearing(j.plan(), catalogue(), guard_of(j), 20.0 * unit::ampere).has_value());
    const Judged blank =
        judged(bench(tn, "standard = \"IEC 60898\"\nrating = \"16 A\"", "length = \"20 m\""));
    CHECK_FALSE(network::latest_clearing(blank.plan(), catalogue(), guard_of(blank), 500.0 * unit::ampere)
                    .has_value());
}

TEST_CASE("a start is what the plate says, else a range by the kind of motor") {
    const auto start_of = [](const std::string& load) {
        return judged(bench(tn, b16, "length = \"20 m\"", "", load)).situation().network.loads.front().start;
    };
    const auto plate = start_of("plate = { current = \"7 A\", start_current = \"33 A\" }");
    REQUIRE(plate.has_value());
    CHECK(in(unit::ampere, plate->low) == doctest::Approx(33));
    CHECK(in(unit::ampere, plate->high) == doctest::Approx(33));
    const auto kind = start_of("plate = { current = \"7 A\" }");  // universal: 3 to 6 times
    CHECK(in(unit::ampere, kind->low) == doctest::Approx(21));
    CHECK(in(unit::ampere, kind->high) == doctest::Approx(42));
    const auto soft = start_of("plate = { current = \"7 A\" }\nsoft_start = true");
    CHECK(soft->high < kind->high);
    // Letter A begins at 0 kVA/hp, and nothing starts with less than it runs with.
    const auto letter = start_of(
        "plate = { current = \"7 A\", horsepower = \"1 hp\", horsepower_kind = \"rated\", code_letter = "
        "\"A\" }");
    REQUIRE(letter.has_value());
    CHECK(in(unit::ampere, letter->low) == doctest::Approx(7));
    CHECK(in(unit::ampere, letter->high) == doctest::Approx(3140.0 / 230));
}

TEST_CASE("what a core stands: k^2 S^2, and the time that follows from it") {
    const JouleIntegral stood =
        network::withstood_energy(115.0 * unit::ampere_root_second_per_mm2, 1.5 * unit::mm2);
    CHECK(in(unit::ampere2_second, stood) == doctest::Approx(29756.25));
    CHECK(in(unit::second, network::longest_time(stood, 172.5 * unit::ampere)) == doctest::Approx(1.0));
}

// The limits at a start are worked in closed form: the solver, which knows nothing of them, must agree.
TEST_CASE("volts at a starting motor equal the solved network with the motor as an impedance") {
    const Judged j = judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n"
        "earthing = \"TN-S\"\nline_impedance = \"0.4 ohm\"\n"
        "[stock.c]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
        "[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"30 m\", method = \"C\" }\n"
        "[load.m]\nfrom = \"box.b\"\nmotor = \"induction\"\ncable = { stock = \"c\", length = \"10 m\", "
        "method = \"C\" }\n"
        "plate = { current = \"6 A\", power_factor = 0.8, voltage = \"230 V\", start_current = \"31 A\" }\n"
        "[load.r]\nfrom = \"box.b\"\nmotor = \"universal\"\ncable = { stock = \"c\", length = \"5 m\", "
        "method = \"C\" }\n"
        "plate = { current = \"8 A\", power_factor = 0.95, voltage = \"230 V\" }\n"
        "[[together]]\nname = \"all\"\nloads = [\"m\", \"r\"]\n");
    const auto motor = j.plan().find(plan::Kind::load, "m");
    for (const bool high : {false, true}) {
        rules::Limit limit;
        limit.reach.kind = rules::Reach::Kind::left_at_start;
        limit.reach.element = limit.reach.starter = motor;
        limit.reach.high_start = high;
        limit.reach.source = 0.4 * unit::ohm;
        limit.bound = rules::Bound::at_least;
        const auto evaluated = rules::evaluate(j.situation(), limit, j.plan().sets.front().loads);
        network::CircuitChoice choice;
        choice.source = 0.4 * unit::ohm;
        choice.starting = motor;
        choice.high_start = high;
        const auto built =
            network::circuit_of(j.plan(), j.situation().network, j.plan().find(plan::Kind::supply, "s"),
                                j.plan().sets.front().loads, choice);
        const auto solution = network::solve(built.circuit);
        REQUIRE(solution.converged);
        const double solved = in(unit::volt, network::volts_at(j.plan(), built, solution, motor));
        // The worst subset may let the other load draw a part: never above the whole set.
        CHECK(number(evaluated.value) <= solved * (1 + 1e-9));
        CHECK(number(evaluated.value) >= solved * (1 - 1e-4));
    }
}
