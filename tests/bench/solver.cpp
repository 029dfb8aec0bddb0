// Time of the solver for each node of a network, and against ngspice over the same network in the same run.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ctime>

#include "spice/ngspice.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Time of the processor that this program had: what else the machine does is left out.
double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

struct Timed {
    double seconds = 0;  // for all networks once, the best of the rounds
    double nodes = 0, sweeps = 0;
    [[nodiscard]] double per_node() const { return seconds / nodes; }
};

/// The same circuit with its nodes in the order in which the circuit of a plan has them: each subtree in one
/// piece.
network::Circuit as_of_a_plan(const network::Circuit& circuit) {
    const std::size_t count = circuit.nodes.size();
    std::vector<std::size_t> size(count, 1), place(count), next(count);
    for (std::size_t i = count; i-- > 1;) size[circuit.nodes[i].parent] += size[i];
    network::Circuit ordered = circuit;
    for (std::size_t i = 0; i < count; ++i) {
        network::Circuit::Node node = circuit.nodes[i];
        if (i > 0) {
            place[i] = next[node.parent];
            next[node.parent] += size[i];
            node.parent = static_cast<network::Index>(place[node.parent]);
        }
        next[i] = place[i] + 1;
        ordered.nodes[place[i]] = node;
    }
    for (network::Draw& draw : ordered.draws) draw.node = static_cast<network::Index>(place[draw.node]);
    std::stable_sort(ordered.draws.begin(), ordered.draws.end(),
                     [](const network::Draw& a, const network::Draw& b) { return a.node < b.node; });
    return ordered;
}

/// Three lines and neutral; drops of 5 % in a conductor at most, so that all sizes have the same work to do.
std::vector<RandomCircuit> networks(std::size_t size, bool constant_current_only) {
    std::vector<RandomCircuit> made;
    for (std::uint64_t k = 0; k < std::clamp<std::size_t>(200000 / size, 4, 400); ++k) {
        made.push_back(
            random_circuit(4 + systems().size() * k, {.least_nodes = size,
                                                      .most_nodes = size,
                                                      .constant_current_only = constant_current_only,
                                                      .least_drop = 0.05,
                                                      .most_drop = 0.05}));
        made.back().circuit = as_of_a_plan(made.back().circuit);
    }
    return made;
}

/// The best of many rounds: what disturbs only ever adds.
Timed time_of(const std::vector<RandomCircuit>& networks) {
    Timed timed;
    const Clock::time_point begin = Clock::now();
    for (int round = 0; round < 5 || seconds_since(begin) < 1; ++round) {
        timed.nodes = timed.sweeps = 0;
        const double start = processor_seconds();
        for (const RandomCircuit& one : networks) {
            const network::Solution solution = network::solve(one.circuit);
            if (!solution.converged) throw std::runtime_error("a network did not settle");
            timed.nodes += static_cast<double>(one.circuit.nodes.size());
            timed.sweeps += solution.sweeps;
        }
        const double seconds = processor_seconds() - start;
        if (round == 0 || seconds < timed.seconds) timed.seconds = seconds;
    }
    timed.sweeps /= static_cast<double>(networks.size());
    return timed;
}

double time_of_ngspice(const std::string& netlist) {
    double best = 0;
    for (int round = 0; round < 5; ++round) {
        const Clock::time_point start = Clock::now();
        (void)run_ngspice("ngspice", netlist);
        const double seconds = seconds_since(start);
        if (round == 0 || seconds < best) best = seconds;
    }
    return best;
}

void sizes(const char* loads, bool constant_current_only) {
    std::vector<std::pair<std::size_t, Timed>> rows;
    for (const std::size_t size : {std::size_t{10}, std::size_t{1000}, std::size_t{100000}})
        rows.emplace_back(size, time_of(networks(size, constant_current_only)));
    for (const auto& [size, timed] : rows)
        fmt::print("| {} | {} | {:.0f} ns | {:.2f} | {:.1f} |\n", loads, size, timed.per_node() * 1e9,
                   timed.per_node() / rows[1].second.per_node(), timed.sweeps);
}

void against_ngspice() {
    const RandomCircuit one = networks(1000, false).front();
    const double ours = time_of({one}).seconds;
    const double theirs = time_of_ngspice(netlist_of(one, network::solve(one.circuit)));
    Netlist least(50);
    least.source("s", "n", 1.0);
    least.impedance("z", "n", "0", 1.0);
    const double start = time_of_ngspice(least.text());
    fmt::print(
        "\n| 1000 nodes, mixed loads | time against ours |\n|---|---|\n"
        "| benchfeed, circuit to volts | 1 |\n"
        "| ngspice, netlist to volts, whole process | {:.0f} |\n"
        "| the same less the process of one resistor | {:.0f} |\n",
        theirs / ours, (theirs - start) / ours);
}

}  // namespace

int main() {
    fmt::print("| loads | nodes | time per node | against 1000 nodes | sweeps |\n|---|---|---|---|---|\n");
    sizes("mixed", false);
    sizes("constant current", true);
    if (std::system("command -v ngspice > /dev/null") == 0)
        against_ngspice();
    else
        fmt::print("\nngspice is not installed: not compared.\n");
}
