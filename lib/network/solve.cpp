#include "network/solve.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

namespace benchfeed::network {

namespace {

using Plane = std::complex<double>;  // SI units taken off inside this file
using Four = std::array<Plane, live_conductors>;

constexpr double settled = 1e-12;  // of the source volts
constexpr int most_sweeps = 100, most_newton_steps = 50;

template <class Unit>
Plane plain(const bu::quantity<Unit, Plane>& phasor) {
    return phasor.value();  // SI units are not scaled
}

/// A draw with its units off: I = current + U * admittance + conj(power / U).
struct Plain {
    Index node;
    std::size_t from, to;
    Plane current, admittance, power;
    [[nodiscard]] Plane at(Plane volts) const {
        return current + volts * admittance + (power == 0.0 ? 0.0 : std::conj(power / volts));
    }
    [[nodiscard]] bool depends_on_volts() const { return admittance != 0.0 || power != 0.0; }
};

struct State {
    std::vector<Four> volts, feed;
};

class Solver {
public:
    explicit Solver(const Circuit& circuit) : count_(circuit.nodes.size()) {
        for (std::size_t c = 0; c < live_conductors; ++c) {
            source_[c] = plain(circuit.source[c]);
            scale_ = std::max(scale_, std::abs(source_[c]));
        }
        parent_.reserve(count_);
        impedance_.reserve(count_);
        for (const Circuit::Node& node : circuit.nodes) {
            parent_.push_back(node.parent);
            Four& z = impedance_.emplace_back();
            for (std::size_t c = 0; c < live_conductors; ++c) z[c] = plain(node.feed[c]);
        }
        for (const Draw& draw : circuit.draws) draws_.push_back(plain_of(draw));
        state_.volts.assign(count_, source_);
        state_.feed.assign(count_, Four{});
    }

    Solution run() {
        Solution solution;
        solution.converged = sweep(solution.sweeps) || newton(solution.sweeps);
        write(solution);
        return solution;
    }

private:
    static Plain plain_of(const Draw& draw) {
        Plain p{draw.node, static_cast<std::size_t>(draw.from), static_cast<std::size_t>(draw.to), 0, 0, 0};
        if (const auto* current = std::get_if<ConstantCurrent>(&draw.model))
            p.current = plain(current->current);
        if (const auto* ohms = std::get_if<ConstantImpedance>(&draw.model))
            p.admittance = 1.0 / plain(ohms->impedance);
        if (const auto* power = std::get_if<ConstantPower>(&draw.model)) p.power = plain(power->power);
        return p;
    }

    [[nodiscard]] Plane across(const Plain& draw) const {
        return state_.volts[draw.node][draw.from] - state_.volts[draw.node][draw.to];
    }

    /// One way to the source and back. Returns the largest change of a voltage.
    double once() {
        std::fill(state_.feed.begin(), state_.feed.end(), Four{});
        for (const Plain& draw : draws_) {
            const Plane drawn = draw.at(across(draw));
            state_.feed[draw.node][draw.from] += drawn;
            state_.feed[draw.node][draw.to] -= drawn;
        }
        for (std::size_t i = count_; i-- > 0;) {
            if (parent_[i] == plan::nowhere) continue;
            for (std::size_t c = 0; c < live_conductors; ++c) state_.feed[parent_[i]][c] += state_.feed[i][c];
        }
        double change = 0;
        for (std::size_t i = 0; i < count_; ++i) {
            const Four& sent = parent_[i] == plan::nowhere ? source_ : state_.volts[parent_[i]];
            for (std::size_t c = 0; c < live_conductors; ++c) {
                const Plane now = sent[c] - impedance_[i][c] * state_.feed[i][c];
                change = std::max(change, std::abs(now - state_.volts[i][c]));
                state_.volts[i][c] = now;
            }
        }
        return change;
    }

    /// Sweeps until the volts settle; false when they do not, or so slowly that Newton is quicker.
    bool sweep(int& sweeps) {
        const bool fixed =
            std::none_of(draws_.begin(), draws_.end(), [](const Plain& d) { return d.depends_on_volts(); });
        double before = 0;
        for (int i = 0; i < most_sweeps; ++i, ++sweeps) {
            const double change = once();
            if (!std::isfinite(change)) return false;
            if (fixed || change <= settled * scale_) return ++sweeps, true;
            if (i > 3 && change > 0.8 * before) return false;
            before = change;
        }
        return false;
    }

    // ---- Newton ---------------------------------------------------------------------------------
    // The current of constant power is no complex function of the volts, so the tree is eliminated in real
    // numbers: 4 conductors, each with a real and an imaginary part.
    static constexpr std::size_t reals = 2 * live_conductors;
    using Row = std::array<double, reals + 1>;  // the last column is the constant term
    using Block = std::array<Row, reals>;       // I = block * U + constant

    /// Adds the linearised current of a draw to its node: I(U) about the present volts.
    void add_tangent(Block& block, const Plain& draw) const {
        const Plane volts = across(draw);
        // dI = a dU + b conj(dU)
        const Plane a = draw.admittance;
        const Plane b = draw.power == 0.0 ? 0.0 : -std::conj(draw.power / (volts * volts));
        const Plane constant = draw.at(volts) - a * volts - b * std::conj(volts);
        const std::array<std::array<double, 2>, 2> slope{
            {{a.real() + b.real(), -a.imag() + b.imag()}, {a.imag() + b.imag(), a.real() - b.real()}}};
        const std::array<double, 2> rest{constant.real(), constant.imag()};
        for (const auto& [row, row_sign] : {std::pair{draw.from, 1.0}, std::pair{draw.to, -1.0}})
            for (std::size_t p = 0; p < 2; ++p) {
                block[2 * row + p][reals] += row_sign * rest[p];
                for (const auto& [column, sign] : {std::pair{draw.from, 1.0}, std::pair{draw.to, -1.0}})
                    for (std::size_t q = 0; q < 2; ++q)
                        block[2 * row + p][2 * column + q] += row_sign * sign * slope[p][q];
            }
    }

    /// Seen through a feed: I = Y (U - Z I) + J, so I = (1 + Y Z)^-1 (Y U + J).
    static bool see_through(Block& block, const Four& impedance) {
        std::array<std::array<double, 2 * reals + 1>, reals> work{};
        for (std::size_t r = 0; r < reals; ++r) {
            for (std::size_t c = 0; c < live_conductors; ++c) {
                const double yr = block[r][2 * c], yi = block[r][2 * c + 1];
                const double re = impedance[c].real(), im = impedance[c].imag();
                work[r][2 * c] = yr * re + yi * im;
                work[r][2 * c + 1] = yi * re - yr * im;
            }
            work[r][r] += 1;
            for (std::size_t c = 0; c <= reals; ++c) work[r][reals + c] = block[r][c];
        }
        for (std::size_t pivot = 0; pivot < reals; ++pivot) {  // Gauss and Jordan, with row exchange
            std::size_t best = pivot;
            for (std::size_t r = pivot + 1; r < reals; ++r)
                if (std::abs(work[r][pivot]) > std::abs(work[best][pivot])) best = r;
            if (!(std::abs(work[best][pivot]) > 0)) return false;
            std::swap(work[best], work[pivot]);
            for (std::size_t r = 0; r < reals; ++r) {
                if (r == pivot) continue;
                const double times = work[r][pivot] / work[pivot][pivot];
                if (times == 0) continue;
                for (std::size_t c = pivot; c <= 2 * reals; ++c) work[r][c] -= times * work[pivot][c];
            }
        }
        for (std::size_t r = 0; r < reals; ++r)
            for (std::size_t c = 0; c <= reals; ++c) block[r][c] = work[r][reals + c] / work[r][r];
        return true;
    }

    /// One step: the tangents of all loads, eliminated towards the source, then back. Negative: it failed.
    double newton_step(std::vector<Block>& blocks) {
        blocks.assign(count_, Block{});
        for (const Plain& draw : draws_) add_tangent(blocks[draw.node], draw);
        for (std::size_t i = count_; i-- > 0;) {
            if (!see_through(blocks[i], impedance_[i])) return -1;
            if (parent_[i] == plan::nowhere) continue;
            Block& above = blocks[parent_[i]];
            for (std::size_t r = 0; r < reals; ++r)
                for (std::size_t c = 0; c <= reals; ++c) above[r][c] += blocks[i][r][c];
        }
        double change = 0;
        for (std::size_t i = 0; i < count_; ++i) {
            const Four sent = parent_[i] == plan::nowhere ? source_ : state_.volts[parent_[i]];
            for (std::size_t c = 0; c < live_conductors; ++c) {
                std::array<double, 2> parts{};
                for (std::size_t p = 0; p < 2; ++p) {
                    const Row& row = blocks[i][2 * c + p];
                    parts[p] = row[reals];
                    for (std::size_t k = 0; k < live_conductors; ++k)
                        parts[p] += row[2 * k] * sent[k].real() + row[2 * k + 1] * sent[k].imag();
                }
                const Plane current{parts[0], parts[1]};
                const Plane now = sent[c] - impedance_[i][c] * current;
                change = std::max(change, std::abs(now - state_.volts[i][c]));
                state_.volts[i][c] = now;
            }
        }
        return change;
    }

    bool newton(int& sweeps) {
        std::fill(state_.volts.begin(), state_.volts.end(), source_);
        std::vector<Block> blocks;
        for (int step = 0; step < most_newton_steps; ++step, ++sweeps) {
            const double change = newton_step(blocks);
            if (!(change >= 0) || !std::isfinite(change)) return false;
            if (change > settled * scale_) continue;
            once();  // currents of the volts that were found
            return true;
        }
        return false;
    }

    void write(Solution& solution) const {
        solution.volts.resize(count_);
        solution.feed.resize(count_);
        for (std::size_t i = 0; i < count_; ++i)
            for (std::size_t c = 0; c < live_conductors; ++c) {
                solution.volts[i][c] = VoltagePhasor::from_value(state_.volts[i][c]);
                solution.feed[i][c] = CurrentPhasor::from_value(state_.feed[i][c]);
            }
        for (const Plain& draw : draws_)
            solution.drawn.push_back(CurrentPhasor::from_value(draw.at(across(draw))));
    }

    std::size_t count_;
    Four source_{};
    double scale_ = 0;
    std::vector<Index> parent_;
    std::vector<Four> impedance_;
    std::vector<Plain> draws_;
    State state_;
};

}  // namespace

Solution solve(const Circuit& circuit) {
    return Solver(circuit).run();
}

}  // namespace benchfeed::network
