#pragma once
// A second, slow and obvious solver of radial networks, for tests only. It shares the shape of the circuit
// with the library and nothing else: Kirchhoff's equations of all nodes and conductors as one full matrix,
// Gauss elimination, and for constant power a damped iteration on the volts of those loads alone.
#include <cmath>
#include <complex>
#include <optional>
#include <utility>
#include <vector>

#include "support/random_circuit.hpp"

namespace benchfeed::reference {

using test::plain;
using test::Plane;
using Matrix = std::vector<std::vector<Plane>>;

/// x of a x = b, column by column of b. The matrix must not be singular.
inline Matrix gauss(Matrix a, Matrix b) {
    const std::size_t n = a.size();
    for (std::size_t pivot = 0; pivot < n; ++pivot) {
        std::size_t best = pivot;
        for (std::size_t r = pivot + 1; r < n; ++r)
            if (std::abs(a[r][pivot]) > std::abs(a[best][pivot])) best = r;
        std::swap(a[pivot], a[best]);
        std::swap(b[pivot], b[best]);
        for (std::size_t r = pivot + 1; r < n; ++r) {
            const Plane times = a[r][pivot] / a[pivot][pivot];
            if (times == 0.0) continue;
            for (std::size_t c = pivot; c < n; ++c) a[r][c] -= times * a[pivot][c];
            for (std::size_t c = 0; c < b[r].size(); ++c) b[r][c] -= times * b[pivot][c];
        }
    }
    for (std::size_t r = n; r-- > 0;)
        for (std::size_t c = 0; c < b[r].size(); ++c) {
            for (std::size_t k = r + 1; k < n; ++k) b[r][c] -= a[r][k] * b[k][c];
            b[r][c] /= a[r][r];
        }
    return b;
}

struct DenseSolution {
    std::vector<std::array<Plane, 4>> volts, feed;
    std::vector<Plane> drawn;
};

/// Nothing where the loads of constant power find no volts.
inline std::optional<DenseSolution> dense_solve(const network::Circuit& circuit) {
    const std::size_t nodes = circuit.nodes.size();
    const auto volt = [](std::size_t node, std::size_t c) { return 4 * node + c; };
    const auto ampere = [&](std::size_t node, std::size_t c) { return 4 * nodes + 4 * node + c; };
    std::vector<std::size_t>
        powered;  // draws of constant power; their currents are the columns after the first
    for (std::size_t d = 0; d < circuit.draws.size(); ++d)
        if (std::holds_alternative<network::ConstantPower>(circuit.draws[d].model)) powered.push_back(d);

    Matrix a(8 * nodes, std::vector<Plane>(8 * nodes));
    Matrix b(8 * nodes, std::vector<Plane>(1 + powered.size()));
    for (std::size_t i = 0; i < nodes; ++i)
        for (std::size_t c = 0; c < 4; ++c) {
            const network::Index parent = circuit.nodes[i].parent;
            // U - U(parent) + Z I = 0
            a[volt(i, c)][volt(i, c)] += 1.0;
            a[volt(i, c)][ampere(i, c)] += plain(circuit.nodes[i].feed[c]);
            if (parent == plan::nowhere)
                b[volt(i, c)][0] += plain(circuit.source[c]);
            else
                a[volt(i, c)][volt(parent, c)] -= 1.0;
            // I - currents onwards - currents of the loads = 0
            a[ampere(i, c)][ampere(i, c)] += 1.0;
            if (parent != plan::nowhere) a[ampere(parent, c)][ampere(i, c)] -= 1.0;
        }
    std::size_t column = 0;
    for (const network::Draw& draw : circuit.draws) {
        const auto from = static_cast<std::size_t>(draw.from), to = static_cast<std::size_t>(draw.to);
        const std::size_t out = ampere(draw.node, from), back = ampere(draw.node, to);
        if (const auto* current = std::get_if<network::ConstantCurrent>(&draw.model)) {
            b[out][0] += plain(current->current);
            b[back][0] -= plain(current->current);
        } else if (const auto* load = std::get_if<network::ConstantImpedance>(&draw.model)) {
            const Plane y = 1.0 / plain(load->impedance);
            a[out][volt(draw.node, from)] -= y;
            a[out][volt(draw.node, to)] += y;
            a[back][volt(draw.node, from)] += y;
            a[back][volt(draw.node, to)] -= y;
        } else {
            ++column;
            b[out][column] = 1.0;
            b[back][column] = -1.0;
        }
    }
    const Matrix x = gauss(std::move(a), std::move(b));

    // Volts at the loads of constant power: those without them, and what an ampere of each adds.
    const std::size_t count = powered.size();
    const auto at_load = [&](std::size_t k, std::size_t of_column) {
        const network::Draw& draw = circuit.draws[powered[k]];
        return x[volt(draw.node, static_cast<std::size_t>(draw.from))][of_column] -
               x[volt(draw.node, static_cast<std::size_t>(draw.to))][of_column];
    };
    std::vector<Plane> volts(count), current(count);
    double scale = 0;
    for (std::size_t k = 0; k < count; ++k) {
        volts[k] = at_load(k, 0);
        scale = std::max(scale, std::abs(volts[k]));
    }
    bool settled = false;
    for (int turn = 0; turn < 100000 && !settled; ++turn) {
        for (std::size_t k = 0; k < count; ++k)
            current[k] = std::conj(
                plain(std::get<network::ConstantPower>(circuit.draws[powered[k]].model).power) / volts[k]);
        double change = 0;
        for (std::size_t k = 0; k < count; ++k) {
            Plane now = at_load(k, 0);
            for (std::size_t j = 0; j < count; ++j) now += at_load(k, 1 + j) * current[j];
            change = std::max(change, std::abs(now - volts[k]));
            volts[k] += 0.5 * (now - volts[k]);
        }
        settled = change <= 1e-13 * scale;
    }
    if (!settled) return std::nullopt;

    DenseSolution solution;
    solution.volts.resize(nodes);
    solution.feed.resize(nodes);
    const auto total = [&](std::size_t row) {
        Plane sum = x[row][0];
        for (std::size_t j = 0; j < count; ++j) sum += x[row][1 + j] * current[j];
        return sum;
    };
    for (std::size_t i = 0; i < nodes; ++i)
        for (std::size_t c = 0; c < 4; ++c) {
            solution.volts[i][c] = total(volt(i, c));
            solution.feed[i][c] = total(ampere(i, c));
        }
    column = 0;
    for (const network::Draw& draw : circuit.draws) {
        const auto& u = solution.volts[draw.node];
        const Plane across = u[static_cast<std::size_t>(draw.from)] - u[static_cast<std::size_t>(draw.to)];
        if (const auto* fixed = std::get_if<network::ConstantCurrent>(&draw.model))
            solution.drawn.push_back(plain(fixed->current));
        else if (const auto* load = std::get_if<network::ConstantImpedance>(&draw.model))
            solution.drawn.push_back(across / plain(load->impedance));
        else
            solution.drawn.push_back(current[column++]);
    }
    return solution;
}

}  // namespace benchfeed::reference
