// Published worked examples about three-phase motors, their runs and their starts: source beside each check,
// digits as printed, computed by the library.
#include <doctest/doctest.h>

#include <benchfeed/network/load_current.hpp>
#include <benchfeed/network/start.hpp>
#include "published/circuits.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using plan::Conductor;
using test::add_balanced;
using test::add_run;
using test::catalogue;
using test::judged;
using test::ohms;
using test::prints_as;

namespace {

/// Share of the source volts between L1 and L2 that is missing at a node [%].
double lost_percent(const network::Circuit& circuit, const network::Solution& solution, plan::Index node) {
    const auto l1 = test::index(Conductor::l1), l2 = test::index(Conductor::l2);
    const Voltage sent = magnitude(VoltagePhasor(circuit.source[l1] - circuit.source[l2]));
    const Voltage left = magnitude(VoltagePhasor(solution.volts[node][l1] - solution.volts[node][l2]));
    return in(unit::percent, Ratio((sent - left) / sent));
}

/// Running current of a three-phase motor by its plate, and the power factor that goes with it.
network::LoadCurrent three_phase_motor(const std::string& plate) {
    const Judged plan = judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230/400 V\"\n"
        "[load.x]\nfrom = \"supply.s\"\nconductors = \"L1-L2-L3\"\nmotor = \"induction\"\nplate = { " +
        plate + " }\n");
    const auto s = plan.situation();
    return network::load_current(s.plan, catalogue(), s.practice(), s.plan.find(plan::Kind::load, "x"));
}

}  // namespace

TEST_CASE("vd-3ph-motor-run-01: a running 37 kW motor loses 7.299 % of 415 V in its feeder") {
    // Source   A. L. Sheldrake, Handbook of Electrical Engineering, p. 239: 65.82 A, power factor 0.85,
    // 0.296 + j 0.0268 ohm. The book's R cos + X sin is the part of the drop that lies along the volts.
    network::Circuit circuit = test::three_lines(415.0 * unit::volt);
    const auto motor = add_run(circuit, plan::nowhere, ohms(0.296, 0.0268));
    add_balanced(circuit, motor, 65.82 * unit::ampere, std::acos(0.85) * 180 / std::numbers::pi);
    const auto solution = network::solve(circuit);
    REQUIRE(solution.converged);
    const auto l1 = test::index(Conductor::l1);
    const VoltagePhasor drop = circuit.source[l1] - solution.volts[motor][l1];
    CHECK(prints_as(in(unit::percent, Ratio(real_part(drop) / magnitude(circuit.source[l1]))), "7.299"));
    // What is really missing is less: the part across the volts hardly shortens them.
    CHECK(prints_as(lost_percent(circuit, solution, motor), "7.23"));
}

TEST_CASE("start-lra-01: 20 hp, code letter G, 460 V three-phase: 125.8 kVA, 158 A") {
    // Source   NEC Handbook commentary example to Table 430.7(B), quoted in a code forum.
    const auto* letters = catalogue().table("nec-430-7-b");
    const double most = *letters->number(*letters->row_of("letter", "G"), "to");
    const Current locked =
        electrical::locked_rotor_current(most, 20.0 * unit::horsepower, 460.0 * unit::volt, true);
    CHECK(prints_as(in(unit::ampere, locked), "158"));
    CHECK(prints_as(in(unit::kilowatt, Power(std::sqrt(3.0) * (460.0 * unit::volt) * locked)), "125.8"));

    const Judged plan = judged(
        "format = 1\n[plan]\nregion = \"US\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"120/208 V\"\n"
        "voltage = \"277 V\"\n[load.x]\nfrom = \"supply.s\"\nconductors = \"L1-L2-L3\"\nmotor = "
        "\"induction\"\nplate = { horsepower = \"20 hp\", horsepower_kind = \"rated\", voltage = \"460 V\", "
        "code_letter = \"G\" }\n");
    const auto s = plan.situation();
    const auto start = network::start_current(s.plan, catalogue(), s.network.loads.at(0));
    REQUIRE(start.has_value());
    CHECK(prints_as(in(unit::ampere, start->start.high), "158"));
    CHECK(start->start.low < start->start.high);
}

TEST_CASE("start-eig-01: a 100 A motor on a loaded board loses 3.75 % running, 6.75 % starting") {
    // Source   Electrical Installation Guide, chapter G, voltage drop example 1 (from memory, so no sole
    // ground): board 10 V down at 1000 A, 50 m of 35 mm2 at 1.0 V/A/km running and 0.52 starting, 500 A.
    const auto lost = [](double motor_amps, double volts_per_ampere_km) {
        network::Circuit circuit = test::three_lines(400.0 * unit::volt);
        const double root = std::sqrt(3.0);  // printed between lines, runs are given line by line
        const auto board = add_run(circuit, plan::nowhere, ohms(10.0 / 1000 / root));
        const auto motor = add_run(circuit, board, ohms(volts_per_ampere_km * 0.050 / root));
        add_balanced(circuit, board, 900.0 * unit::ampere, 0);
        add_balanced(circuit, motor, motor_amps * unit::ampere, 0);
        return lost_percent(circuit, network::solve(circuit), motor);
    };
    CHECK(prints_as(lost(100, 1.0), "3.75"));
    CHECK(prints_as(lost(500, 0.52), "6.75"));
}

TEST_CASE("lc-3ph-motor-01: 8.5 A at 400 V, 35 degrees behind, take 4823 W and give 4099 W") {
    // Source   Electrical craft study cards, three-phase motor question. The cards cut their decimals:
    // 0.81915, 4823.96 W and 4100.4 W at full precision.
    network::Circuit circuit = test::three_lines(400.0 * unit::volt);
    const auto motor = add_run(circuit, plan::nowhere, ohms(0));
    add_balanced(circuit, motor, 8.5 * unit::ampere, 35);
    const ComplexPower of_one_line = test::power_on_l1(network::solve(circuit), motor);
    const Power taken = real_part(of_one_line) * 3.0;
    CHECK(prints_as(in(unit::one, Ratio(real_part(of_one_line) / magnitude(of_one_line))), "0.819"));
    CHECK(std::abs(in(unit::watt, taken) - 4823) <= 1.5);
    CHECK(std::abs(in(unit::watt, Power(taken * 0.85)) - 4099) <= 1.5);

    // The other way round, since a plan asks for the plate: amps agree to their two digits.
    const auto from_input =
        three_phase_motor("power_in = \"4823 W\", power_factor = 0.8191, voltage = \"400 V\"");
    CHECK(from_input.from == network::CurrentFrom::power_in);
    CHECK(prints_as(in(unit::ampere, from_input.current), "8.5"));
    const auto from_shaft = three_phase_motor(
        "power_out = \"4099 W\", power_factor = 0.8191, efficiency = 0.85, voltage = \"400 V\"");
    CHECK(from_shaft.from == network::CurrentFrom::power_out);
    CHECK(prints_as(in(unit::ampere, from_shaft.current), "8.5"));
    const auto from_both =
        three_phase_motor("power_in = \"4823 W\", current = \"8.5 A\", voltage = \"400 V\"");
    CHECK(from_both.power_factor_known);
    CHECK(prints_as(in(unit::one, from_both.power_factor), "0.819"));
}
