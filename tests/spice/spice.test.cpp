// The solver against ngspice, a general circuit simulator: the same networks as a netlist, node by node and
// branch by branch. AC analysis at 50 Hz; a reactance becomes an inductance. A load of constant power becomes
// the current that was solved for it, after a check that this current takes the power at the simulator's
// volts.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <random>
#include <sstream>

#include "support/random_circuit.hpp"

using namespace benchfeed;
using network::live_conductors;

namespace {

constexpr double hertz = 50;

std::string node_name(std::size_t node, std::size_t conductor) {
    return fmt::format("n{}x{}", node, conductor);
}
std::string source_name(std::size_t conductor) {
    return fmt::format("s{}", conductor);
}

/// R and L in series between two nodes; zero parts are left out.
std::string series(const std::string& name, const std::string& a, const std::string& b,
                   const ComplexImpedance& z) {
    const double r = in(unit::ohm, real_part(z)), x = in(unit::ohm, imag_part(z));
    const double henry = x / (2 * std::numbers::pi * hertz);
    return fmt::format("r{0} {1} {0}m {2:.17g}\nl{0} {0}m {3} {4:.17g}\n", name, a, r, b, henry);
}

std::string netlist(const network::Circuit& circuit, const network::Solution& solved) {
    std::string out = "radial network\n";
    for (std::size_t c = 0; c < live_conductors; ++c) {
        const double re = in(unit::volt, real_part(circuit.source[c])),
                     im = in(unit::volt, imag_part(circuit.source[c]));
        out += fmt::format("v{0} s{0} 0 dc 0 ac {1:.17g} {2:.17g}\n", c, std::hypot(re, im),
                           std::atan2(im, re) * 180 / std::numbers::pi);
    }
    for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
        for (std::size_t c = 0; c < live_conductors; ++c) {
            const auto parent = circuit.nodes[i].parent;
            out += series(fmt::format("f{}x{}", i, c),
                          parent == plan::nowhere ? source_name(c) : node_name(parent, c), node_name(i, c),
                          circuit.nodes[i].feed[c]);
        }
    for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
        const network::Draw& draw = circuit.draws[d];
        const std::string from = node_name(draw.node, static_cast<std::size_t>(draw.from)),
                          to = node_name(draw.node, static_cast<std::size_t>(draw.to));
        if (const auto* ohms = std::get_if<network::ConstantImpedance>(&draw.model)) {
            out += series(fmt::format("d{}", d), from, to, ohms->impedance);
            continue;
        }
        const double re = in(unit::ampere, real_part(solved.drawn[d])),
                     im = in(unit::ampere, imag_part(solved.drawn[d]));
        out += fmt::format("i{} {} {} dc 0 ac {:.17g} {:.17g}\n", d, from, to, std::hypot(re, im),
                           std::atan2(im, re) * 180 / std::numbers::pi);
    }
    out += fmt::format(".control\nset numdgt=15\nac lin 1 {0} {0}\n", hertz);
    for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
        for (std::size_t c = 0; c < live_conductors; ++c)
            out += fmt::format("print {} lf{}x{}#branch\n", node_name(i, c), i, c);
    return out + ".endc\n.end\n";
}

/// Lines "name = re,im" of the simulator.
std::map<std::string, std::complex<double>> simulate(const std::string& text) {
    const auto folder =
        std::filesystem::temp_directory_path() / fmt::format("benchfeed-spice-{}", std::random_device{}());
    std::filesystem::create_directory(folder);
    std::ofstream(folder / "net.cir") << text;
    const std::string command = fmt::format("{} -b {} > {} 2> /dev/null", BENCHFEED_NGSPICE,
                                            (folder / "net.cir").string(), (folder / "out").string());
    // Its exit code says whether a batch analysis ran, and here the control block does: what it printed
    // counts.
    const int ended = std::system(command.c_str());
    CAPTURE(ended);
    std::map<std::string, std::complex<double>> found;
    std::ifstream out(folder / "out");
    for (std::string line; std::getline(out, line);) {
        std::istringstream words(line);
        std::string name, equals;
        double re = 0, im = 0;
        char comma = 0;
        if (words >> name >> equals >> re >> comma >> im && equals == "=" && comma == ',')
            found[name] = {re, im};
    }
    std::filesystem::remove_all(folder);
    return found;
}

double distance(const std::complex<double>& a, double re, double im) {
    return std::abs(a - std::complex<double>(re, im));
}

/// Largest distances of volts and amps, as shares of the source volts and of the largest current.
void compare(const network::Circuit& circuit) {
    const network::Solution solved = network::solve(circuit);
    REQUIRE(solved.converged);
    const auto simulated = simulate(netlist(circuit, solved));
    const double volts = in(unit::volt, magnitude(circuit.source[0]));
    double most = 0, amps = 1e-9, wrong_volts = 0, wrong_amps = 0;
    for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
        for (std::size_t c = 0; c < live_conductors; ++c) {
            const auto v = simulated.find(node_name(i, c)),
                       a = simulated.find(fmt::format("lf{}x{}#branch", i, c));
            REQUIRE(v != simulated.end());
            REQUIRE(a != simulated.end());
            const VoltagePhasor& u = solved.volts[i][c];
            const CurrentPhasor& f = solved.feed[i][c];
            amps = std::max(amps, std::abs(a->second));
            wrong_volts = std::max(
                wrong_volts, distance(v->second, in(unit::volt, real_part(u)), in(unit::volt, imag_part(u))));
            wrong_amps = std::max(wrong_amps, distance(a->second, in(unit::ampere, real_part(f)),
                                                       in(unit::ampere, imag_part(f))));
            ++most;
        }
    CHECK(wrong_volts <= 1e-6 * volts);
    CHECK(wrong_amps <= 1e-6 * amps);
    for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
        const network::Draw& draw = circuit.draws[d];
        const auto* power = std::get_if<network::ConstantPower>(&draw.model);
        if (!power) continue;
        const auto across = simulated.at(node_name(draw.node, static_cast<std::size_t>(draw.from))) -
                            simulated.at(node_name(draw.node, static_cast<std::size_t>(draw.to)));
        const std::complex<double> current{in(unit::ampere, real_part(solved.drawn[d])),
                                           in(unit::ampere, imag_part(solved.drawn[d]))};
        const std::complex<double> asked{in(unit::watt, real_part(power->power)),
                                         in(unit::watt, imag_part(power->power))};
        CHECK(std::abs(across * std::conj(current) - asked) <= 1e-6 * std::abs(asked));
    }
    CHECK(most > 0);
}

}  // namespace

TEST_CASE("200 random networks agree with the simulator to 1e-6 in every volt and ampere") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        compare(test::random_circuit(seed, seed % 4 == 0 ? 300 : 40));
    }
}
