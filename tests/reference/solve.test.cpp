// The solver against a full matrix (reference/dense.hpp): every system, every load model, to 1e-9.
#include <doctest/doctest.h>

#include "reference/dense.hpp"
#include "support/random_circuit.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

void compare(std::uint64_t seed, const Wanted& wanted) {
    const RandomCircuit random = random_circuit(seed, wanted);
    INFO("seed " << seed << ", " << random.system->name << ", " << random.circuit.nodes.size() << " nodes");
    const network::Solution solution = network::solve(random.circuit);
    const auto dense = reference::dense_solve(random.circuit);
    REQUIRE(solution.converged);
    REQUIRE(dense);
    double volts = 0, amps = 0;
    for (std::size_t i = 0; i < random.circuit.nodes.size(); ++i)
        for (std::size_t c = 0; c < 4; ++c) {
            volts = std::max(volts, std::abs(plain(solution.volts[i][c]) - dense->volts[i][c]));
            amps = std::max(amps, std::abs(plain(solution.feed[i][c]) - dense->feed[i][c]));
        }
    for (std::size_t d = 0; d < random.circuit.draws.size(); ++d)
        amps = std::max(amps, std::abs(plain(solution.drawn[d]) - dense->drawn[d]));
    CHECK(volts <= 1e-9 * source_volts(random.circuit));
    CHECK(amps <= 1e-9 * most_amps(solution));
}

}  // namespace

TEST_CASE("many small networks") {
    for (std::uint64_t seed = 1; seed <= 200; ++seed) compare(seed, {.least_nodes = 1, .most_nodes = 12});
}

TEST_CASE("some larger ones") {
    for (std::uint64_t seed = 1001; seed <= 1010; ++seed)
        compare(seed, {.least_nodes = 25, .most_nodes = 40});
}

// Where the sweeps do not settle and Newton's method takes over: drops of a quarter of the volts and more.
TEST_CASE("heavy loads on thin wire") {
    int collapsed = 0, ran = 0;
    for (std::uint64_t seed = 2001; seed <= 2200; ++seed) {
        const Wanted wanted{.least_nodes = 1, .most_nodes = 10, .most_drop = 0.6};
        const RandomCircuit random = random_circuit(seed, wanted);
        INFO("seed " << seed << ", " << random.system->name);
        const bool runs = reference::dense_solve(random.circuit).has_value();
        CHECK(network::solve(random.circuit).converged == runs);
        ++(runs ? ran : collapsed);
        if (runs) compare(seed, wanted);
    }
    MESSAGE(ran << " networks with volts to run at, " << collapsed << " collapsed");
    CHECK(ran > 100);
    CHECK(collapsed > 5);
}
