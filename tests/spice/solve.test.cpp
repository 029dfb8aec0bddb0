// The solver against ngspice, a general circuit simulator that knows nothing of benches: node volts and
// branch currents of random networks.
#include <doctest/doctest.h>

#include "spice/ngspice.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

constexpr double agreed = 1e-6;  // relative to the value itself
constexpr double nought = 1e-9;  // of the source volts, of the greatest current: what counts as none

/// The worst of the differences, and where it is.
struct Apart {
    double most = 0;
    std::string where;
    void take(const std::string& name, Plane ours, Plane theirs, double scale) {
        const double apart = std::abs(ours - theirs) / (agreed * std::abs(theirs) + nought * scale);
        if (apart <= most) return;
        most = apart;
        where = fmt::format("{}: {:.9g}{:+.9g}i, ngspice {:.9g}{:+.9g}i", name, ours.real(), ours.imag(),
                            theirs.real(), theirs.imag());
    }
};

void compare(std::uint64_t seed, const Wanted& wanted) {
    const RandomCircuit random = random_circuit(seed, wanted);
    const network::Circuit& circuit = random.circuit;
    INFO("seed " << seed << ", " << random.system->name << ", " << circuit.nodes.size() << " nodes");
    const network::Solution solution = network::solve(circuit);
    REQUIRE(solution.converged);
    const Found found = run_ngspice(BENCHFEED_NGSPICE, netlist_of(random, solution));
    Apart apart;
    const double volts = source_volts(circuit), amps = most_amps(solution);
    for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
        for (const std::size_t c : random.system->conductors) {
            const std::string u = "v(" + node_name(i, c) + ")", a = "i(" + feed_name(i, c) + ")";
            apart.take(u, plain(solution.volts[i][c]), found.at(u), volts);
            apart.take(a, plain(solution.feed[i][c]), found.at(a), amps);
        }
    for (std::size_t d = 0; d < circuit.draws.size();
         ++d) {  // the laws of the loads, at the volts of ngspice
        const network::Draw& draw = circuit.draws[d];
        const Plane u = found.at("v(" + node_name(draw.node, static_cast<std::size_t>(draw.from)) + ")") -
                        found.at("v(" + node_name(draw.node, static_cast<std::size_t>(draw.to)) + ")");
        if (const auto* load = std::get_if<network::ConstantPower>(&draw.model))
            apart.take(fmt::format("power of draw {}", d), plain(solution.drawn[d]),
                       std::conj(plain(load->power) / u), amps);
        if (const auto* load = std::get_if<network::ConstantImpedance>(&draw.model))
            apart.take(fmt::format("impedance of draw {}", d), plain(solution.drawn[d]),
                       u / plain(load->impedance), amps);
    }
    INFO(apart.where);
    CHECK(apart.most <= 1);
}

}  // namespace

TEST_CASE("240 networks of 1 to 300 nodes, every system") {
    for (std::uint64_t seed = 1; seed <= 240; ++seed) compare(seed, {.least_nodes = 1, .most_nodes = 300});
}

TEST_CASE("the largest, one for each system") {
    for (std::uint64_t seed = 1001; seed <= 1005; ++seed)
        compare(seed, {.least_nodes = 300, .most_nodes = 300});
}
