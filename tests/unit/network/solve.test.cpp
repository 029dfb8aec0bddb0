#include "network/solve.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/random_circuit.hpp"

using namespace benchfeed;
using network::Circuit;
using network::Solution;
using plan::Conductor;

namespace {

std::size_t index(Conductor c) {
    return static_cast<std::size_t>(c);
}
ComplexImpedance ohms(double r, double x = 0) {
    return rectangular(r * unit::ohm, x * unit::ohm);
}
CurrentPhasor amps(double re, double im = 0) {
    return rectangular(re * unit::ampere, im * unit::ampere);
}
VoltagePhasor volts(double re, double im = 0) {
    return rectangular(re * unit::volt, im * unit::volt);
}
ComplexPower watts(double p, double q = 0) {
    return rectangular(p * unit::watt, q * unit::watt);
}

/// One feed of line and neutral with a load at its end.
Circuit one_feed(ComplexImpedance each_way, network::LoadModel load) {
    Circuit circuit;
    circuit.source[index(Conductor::l1)] = volts(230);
    Circuit::Node node;
    node.feed[index(Conductor::l1)] = node.feed[index(Conductor::n)] = each_way;
    circuit.nodes.push_back(node);
    circuit.draws.push_back({0, Conductor::l1, Conductor::n, load});
    return circuit;
}
double left_of(const Solution& s, std::size_t node = 0) {
    return in(unit::volt, magnitude(VoltagePhasor(s.volts[node][index(Conductor::l1)] -
                                                  s.volts[node][index(Conductor::n)])));
}

}  // namespace

// Source   physics: a voltage U behind a resistance R passes at most U^2 / 4R; below that the volts at the
// load are U/2 + sqrt(U^2/4 - P R).
TEST_CASE("constant power has its closed form up to the most that can pass, and no voltage beyond") {
    const double resistance = 2.0;  // both ways
    const double most = 230.0 * 230.0 / (4 * resistance);
    for (const double share : {0.1, 0.5, 0.9, 0.99, 0.9999}) {
        CAPTURE(share);
        const Solution s =
            network::solve(one_feed(ohms(resistance / 2), network::ConstantPower{watts(share * most)}));
        REQUIRE(s.converged);
        const double expected = 115 + std::sqrt(115.0 * 115.0 - share * most * resistance);
        CHECK(std::abs(left_of(s) - expected) <= 1e-9 * expected);
    }
    for (const double share : {1.001, 1.1, 2.0, 100.0}) {
        CAPTURE(share);
        CHECK_FALSE(
            network::solve(one_feed(ohms(resistance / 2), network::ConstantPower{watts(share * most)}))
                .converged);
    }
}

// Source   Ohm's law: a divider, whatever the ratio of its parts; sweeps alone would not settle.
TEST_CASE("impedances divide the volts, heavier than the wire or not") {
    for (const double load : {1000.0, 10.0, 2.0, 0.5, 0.01}) {
        CAPTURE(load);
        const Solution s = network::solve(one_feed(ohms(1), network::ConstantImpedance{ohms(load)}));
        REQUIRE(s.converged);
        const double expected = 230 * load / (load + 2);
        CHECK(std::abs(left_of(s) - expected) <= 1e-9 * expected);
    }
}

// Source   Kirchhoff: what flows into a node flows out; power in is power out plus losses (Tellegen).
TEST_CASE("currents balance at every node, and power in is power out plus losses") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        const Circuit circuit = test::random_circuit(seed, 60);
        const Solution s = network::solve(circuit);
        REQUIRE(s.converged);
        std::vector<network::PerConductor<CurrentPhasor>> rest = s.feed;
        ComplexPower out = watts(0), lost = watts(0), in_power = watts(0);
        for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
            const network::Draw& draw = circuit.draws[d];
            rest[draw.node][index(draw.from)] -= s.drawn[d];
            rest[draw.node][index(draw.to)] += s.drawn[d];
            const VoltagePhasor across =
                s.volts[draw.node][index(draw.from)] - s.volts[draw.node][index(draw.to)];
            out += ComplexPower(across * conjugate(s.drawn[d]));
        }
        for (std::size_t i = 0; i < circuit.nodes.size(); ++i) {
            const auto parent = circuit.nodes[i].parent;
            for (std::size_t c = 0; c < network::live_conductors; ++c) {
                lost += ComplexPower(circuit.nodes[i].feed[c] * s.feed[i][c] * conjugate(s.feed[i][c]));
                if (parent == plan::nowhere)
                    in_power += ComplexPower(circuit.source[c] * conjugate(s.feed[i][c]));
                else
                    rest[parent][c] -= s.feed[i][c];
            }
        }
        for (const auto& node : rest)
            for (const CurrentPhasor& left : node) CHECK(in(unit::ampere, magnitude(left)) < 1e-8);
        const double sent = in(unit::watt, magnitude(in_power));
        CHECK(in(unit::watt, magnitude(ComplexPower(in_power - out - lost))) <= 1e-9 * (1 + sent));
    }
}

// Source   Ohm's law: all volts and impedances times k leave constant-impedance currents as they are.
TEST_CASE("volts and impedances scale together") {
    Circuit circuit = one_feed(ohms(0.3, 0.1), network::ConstantImpedance{ohms(20, 5)});
    const Solution before = network::solve(circuit);
    circuit.source[index(Conductor::l1)] = volts(2300);
    for (auto& z : circuit.nodes[0].feed) z = ComplexImpedance(z + z + z + z + z + z + z + z + z + z);
    circuit.draws[0].model = network::ConstantImpedance{ohms(200, 50)};
    const Solution after = network::solve(circuit);
    CHECK(in(unit::ampere, magnitude(CurrentPhasor(before.drawn[0] - after.drawn[0]))) < 1e-9);
}

TEST_CASE("a feed cut in two equal halves changes nothing") {
    for (unsigned seed = 1; seed <= 50; ++seed) {
        CAPTURE(seed);
        Circuit whole = test::random_circuit(seed, 60);
        Circuit halves = whole;
        // The last node moves behind a new one that takes half of its feed.
        const auto last = static_cast<network::Index>(halves.nodes.size() - 1);
        Circuit::Node end = halves.nodes[last];
        for (std::size_t c = 0; c < network::live_conductors; ++c) {
            halves.nodes[last].feed[c] = Ratio(0.5) * halves.nodes[last].feed[c];
            end.feed[c] = Ratio(0.5) * end.feed[c];
        }
        end.parent = last;
        halves.nodes.push_back(end);
        for (network::Draw& draw : halves.draws)
            if (draw.node == last) draw.node = last + 1;
        const Solution a = network::solve(whole), b = network::solve(halves);
        REQUIRE(a.converged);
        REQUIRE(b.converged);
        for (std::size_t c = 0; c < network::live_conductors; ++c)
            CHECK(in(unit::volt, magnitude(VoltagePhasor(a.volts[last][c] - b.volts[last + 1][c]))) < 1e-8);
    }
}

// Source   Kirchhoff, worked by hand: 15 A on L1 and 11 A on L2 of a 120/240 V bench, 0.069 ohm in each
// conductor. Both on: (15 + 4) * 0.069 V; the first alone: 30 * 0.069 V.
TEST_CASE("a load on the other line relieves a shared neutral") {
    Circuit circuit;
    circuit.source[index(Conductor::l1)] = volts(120);
    circuit.source[index(Conductor::l2)] = volts(-120);
    Circuit::Node node;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::n}) node.feed[index(c)] = ohms(0.069);
    circuit.nodes.push_back(node);
    circuit.draws.push_back({0, Conductor::l1, Conductor::n, network::ConstantCurrent{amps(15)}});
    CHECK(120 - left_of(network::solve(circuit)) == doctest::Approx(30 * 0.069));
    circuit.draws.push_back({0, Conductor::l2, Conductor::n, network::ConstantCurrent{amps(-11)}});
    CHECK(120 - left_of(network::solve(circuit)) == doctest::Approx(19 * 0.069));
}

TEST_CASE("it always ends: hopeless networks are reported, not solved for ever") {
    Circuit circuit = one_feed(ohms(1e6), network::ConstantPower{watts(1e6)});
    const Solution s = network::solve(circuit);
    CHECK_FALSE(s.converged);
    CHECK(s.sweeps <= 150);
}
