#include <benchfeed/network/solve.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>
#include <utility>

namespace benchfeed::network {

namespace {

using Plane = std::complex<double>;  // SI units taken off inside this file
using Four = std::array<Plane, live_conductors>;

constexpr double settled = 1e-12;                   // of the source volts
constexpr int most_sweeps = 100, most_steps = 300;  // of Newton's method, of which so many towards one share:
constexpr int most_steps_at_once = 16;
constexpr double least_share = 1.0 / 512;  // of the power, by which loads are raised where all at once fails

template <class Unit>
Plane plain(const bu::quantity<Unit, Plane>& phasor) {
    return phasor.value();  // SI units are not scaled
}

template <class Quantity>
Four plain(const PerConductor<Quantity>& phasors) {
    Four values;
    for (std::size_t c = 0; c < live_conductors; ++c) values[c] = plain(phasors[c]);
    return values;
}

/// A draw with its units off: I = current + U * admittance + conj(share * power / U).
struct Plain {
    Index node;
    std::uint8_t from, to;
    Plane current, admittance, power;
    [[nodiscard]] Plane at(Plane volts, double share) const {
        return current + volts * admittance + (power == 0.0 ? 0.0 : std::conj(share * power / volts));
    }
    [[nodiscard]] bool depends_on_volts() const { return admittance != 0.0 || power != 0.0; }
};

/// Works in place: in the nodes of the circuit and the vectors of the solution. In large networks memory is
/// what takes the time.
class Solver {
public:
    explicit Solver(const Circuit& circuit) : nodes_(circuit.nodes), count_(circuit.nodes.size()) {
        for (std::size_t c = 0; c < live_conductors; ++c) {
            source_[c] = plain(circuit.source[c]);
            scale_ = std::max(scale_, in(unit::volt, magnitude(circuit.source[c])));
        }
        draws_.reserve(circuit.draws.size());
        for (const Draw& draw : circuit.draws) draws_.push_back(plain_of(draw));
        solution_.volts.assign(count_, circuit.source);
        solution_.feed.resize(count_);
        solution_.drawn.reserve(draws_.size());
    }

    Solution run() && {
        solution_.converged = sweep(solution_.sweeps) || newton(solution_.sweeps);
        for (const Plain& draw : draws_)
            solution_.drawn.push_back(CurrentPhasor::from_value(draw.at(across(draw), share_)));
        return std::move(solution_);
    }

private:
    static Plain plain_of(const Draw& draw) {
        Plain p{draw.node, static_cast<std::uint8_t>(draw.from), static_cast<std::uint8_t>(draw.to), 0, 0, 0};
        if (const auto* current = std::get_if<ConstantCurrent>(&draw.model))
            p.current = plain(current->current);
        if (const auto* ohms = std::get_if<ConstantImpedance>(&draw.model))
            p.admittance = 1.0 / plain(ohms->impedance);
        if (const auto* power = std::get_if<ConstantPower>(&draw.model)) p.power = plain(power->power);
        return p;
    }

    [[nodiscard]] Plane across(const Plain& draw) const {
        const PerConductor<VoltagePhasor>& volts = solution_.volts[draw.node];
        return plain(volts[draw.from]) - plain(volts[draw.to]);
    }
    /// What the parent of a node sends it.
    [[nodiscard]] Four sent_to(std::size_t node) const {
        if (nodes_[node].parent == plan::nowhere) return source_;
        return plain(solution_.volts[nodes_[node].parent]);
    }

    /// Currents in every feed from the present volts at the loads.
    void collect() {
        std::fill(solution_.feed.begin(), solution_.feed.end(), PerConductor<CurrentPhasor>{});
        for (const Plain& draw : draws_) {
            const auto drawn = CurrentPhasor::from_value(draw.at(across(draw), share_));
            solution_.feed[draw.node][draw.from] += drawn;
            solution_.feed[draw.node][draw.to] -= drawn;
        }
        for (std::size_t i = count_; i-- > 0;) {
            if (nodes_[i].parent == plan::nowhere) continue;
            PerConductor<CurrentPhasor>& above = solution_.feed[nodes_[i].parent];
            for (std::size_t c = 0; c < live_conductors; ++c) above[c] += solution_.feed[i][c];
        }
    }

    /// The greater one; what is not a number stays, where std::max would drop it.
    static double greater(double so_far, double next) {
        return so_far >= next || std::isnan(so_far) ? so_far : next;
    }

    /// Volts behind the feed of a node from those before it. Returns the largest change.
    double drop(std::size_t node, const Four& sent, const Four& current) {
        double change = 0;
        for (std::size_t c = 0; c < live_conductors; ++c) {
            VoltagePhasor& volts = solution_.volts[node][c];
            const Plane now = sent[c] - plain(nodes_[node].feed[c]) * current[c];
            const auto before = std::exchange(volts, VoltagePhasor::from_value(now));
            change = greater(change, in(unit::volt, magnitude(VoltagePhasor(volts - before))));
        }
        return change;
    }

    /// One way to the source and back. Returns the largest change of a voltage.
    double once() {
        collect();
        double change = 0;
        for (std::size_t i = 0; i < count_; ++i)
            change = greater(change, drop(i, sent_to(i), plain(solution_.feed[i])));
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
        const Plane b = draw.power == 0.0 ? 0.0 : -std::conj(share_ * draw.power / (volts * volts));
        const Plane constant = draw.at(volts, share_) - a * volts - b * std::conj(volts);
        const std::array<std::array<double, 2>, 2> slope{
            {{a.real() + b.real(), -a.imag() + b.imag()}, {a.imag() + b.imag(), a.real() - b.real()}}};
        const std::array<double, 2> rest{constant.real(), constant.imag()};
        const std::array<std::pair<std::size_t, double>, 2> ends{{{draw.from, 1.0}, {draw.to, -1.0}}};
        for (const auto& [row, row_sign] : ends)
            for (std::size_t p = 0; p < 2; ++p) {
                block[2 * row + p][reals] += row_sign * rest[p];
                for (const auto& [column, sign] : ends)
                    for (std::size_t q = 0; q < 2; ++q)
                        block[2 * row + p][2 * column + q] += row_sign * sign * slope[p][q];
            }
    }

    /// Seen through a feed: I = Y (U - Z I) + J, so I = (1 + Y Z)^-1 (Y U + J).
    /// Returns the sign of the determinant of 1 + Y Z; 0 where there is no such inverse.
    static int see_through(Block& block, const Four& impedance) {
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
        int sign = 1;
        for (std::size_t pivot = 0; pivot < reals; ++pivot) {  // Gauss and Jordan, with row exchange
            std::size_t best = pivot;
            for (std::size_t r = pivot + 1; r < reals; ++r)
                if (std::abs(work[r][pivot]) > std::abs(work[best][pivot])) best = r;
            if (!(std::abs(work[best][pivot]) > 0)) return 0;
            if (best != pivot) {
                std::swap(work[best], work[pivot]);
                sign = -sign;
            }
            if (work[pivot][pivot] < 0) sign = -sign;
            for (std::size_t r = 0; r < reals; ++r) {
                if (r == pivot) continue;
                const double times = work[r][pivot] / work[pivot][pivot];
                if (times == 0) continue;
                for (std::size_t c = pivot; c <= 2 * reals; ++c) work[r][c] -= times * work[pivot][c];
            }
        }
        for (std::size_t r = 0; r < reals; ++r)
            for (std::size_t c = 0; c <= reals; ++c) block[r][c] = work[r][reals + c] / work[r][r];
        return sign;
    }

    /// The tangents of all loads about the present volts, eliminated towards the source.
    /// Returns the sign of the determinant of the whole: it is positive on the way from no load to the volts
    /// at which loads run, zero where the network collapses, negative at the lower volts that solve the same
    /// equations and at which nothing stays.
    int eliminate(std::vector<Block>& blocks) const {
        blocks.assign(count_, Block{});
        for (const Plain& draw : draws_) add_tangent(blocks[draw.node], draw);
        int sign = 1;
        for (std::size_t i = count_; i-- > 0;) {
            sign *= see_through(blocks[i], plain(nodes_[i].feed));
            if (nodes_[i].parent == plan::nowhere) continue;
            Block& above = blocks[nodes_[i].parent];
            for (std::size_t r = 0; r < reals; ++r)
                for (std::size_t c = 0; c <= reals; ++c) above[r][c] += blocks[i][r][c];
        }
        return sign;
    }

    /// Volts of the tangents, from the source outwards. Returns the largest change of a voltage.
    double step(const std::vector<Block>& blocks) {
        double change = 0;
        for (std::size_t i = 0; i < count_; ++i) {
            const Four sent = sent_to(i);
            Four current{};
            for (std::size_t c = 0; c < live_conductors; ++c) {
                std::array<double, 2> parts{};
                for (std::size_t p = 0; p < 2; ++p) {
                    const Row& row = blocks[i][2 * c + p];
                    parts[p] = row[reals];
                    for (std::size_t k = 0; k < live_conductors; ++k)
                        parts[p] += row[2 * k] * sent[k].real() + row[2 * k + 1] * sent[k].imag();
                }
                current[c] = {parts[0], parts[1]};
            }
            change = greater(change, drop(i, sent, current));
        }
        return change;
    }

    /// Newton's method at the present share of the power. A step that ends beyond the collapse is halved
    /// until it does not.
    bool settle(int& sweeps) {
        auto before = solution_.volts;
        std::vector<Block> blocks;
        double change = 0;
        for (int i = 0; i < most_steps_at_once; ++i, ++sweeps) {
            if (eliminate(blocks) > 0) {
                before = solution_.volts;
                change = step(blocks);
                if (!std::isfinite(change)) return false;
                if (change <= settled * scale_) return true;
                continue;
            }
            change /= 2;
            if (change <= settled * scale_) return false;
            for (std::size_t k = 0; k < count_; ++k)
                for (std::size_t c = 0; c < live_conductors; ++c) {
                    VoltagePhasor& volts = solution_.volts[k][c];
                    volts = VoltagePhasor::from_value((plain(volts) + plain(before[k][c])) / 2.0);
                }
        }
        return false;
    }

    /// All of the power at once; where that fails, half of it, and on from there: the volts at which loads
    /// run follow from no load without a gap, up to the collapse.
    bool newton(int& sweeps) {
        for (auto& volts : solution_.volts)
            for (std::size_t c = 0; c < live_conductors; ++c)
                volts[c] = VoltagePhasor::from_value(source_[c]);
        const int last = sweeps + most_steps;
        double reached = 0, more = 1;
        while (reached < 1) {
            const auto start = solution_.volts;
            share_ = std::min(1.0, reached + more);
            if (settle(sweeps)) {
                reached = share_;
                continue;
            }
            solution_.volts = start;
            more /= 2;
            if (more < least_share || sweeps > last) break;
        }
        share_ = 1;
        collect();
        return reached == 1;
    }

    const std::vector<Circuit::Node>& nodes_;
    std::size_t count_;
    Four source_{};
    double scale_ = 0;
    double share_ = 1;  // of the power of all draws that is on
    std::vector<Plain> draws_;
    Solution solution_;
};

/// What lies between the source and the first node at which ways part or a load hangs.
Four feeds_of_all(const Circuit& circuit) {
    std::vector<int> ways(circuit.nodes.size(), 0);
    std::vector<std::size_t> child(circuit.nodes.size(), 0);
    for (std::size_t i = 1; i < circuit.nodes.size(); ++i) {
        ++ways[circuit.nodes[i].parent];
        child[circuit.nodes[i].parent] = i;
    }
    for (const Draw& draw : circuit.draws) ways[draw.node] += 2;
    Four sum{};
    for (std::size_t at = 0;; at = child[at]) {
        for (std::size_t c = 0; c < live_conductors; ++c) sum[c] += plain(circuit.nodes[at].feed[c]);
        if (ways[at] != 1) return sum;
    }
}

}  // namespace

bool wants_more_than_passes(const Circuit& circuit) {
    if (circuit.nodes.empty()) return false;
    double wanted = 0;
    std::array<bool, live_conductors> used{};
    for (const Draw& draw : circuit.draws) {
        if (std::holds_alternative<ConstantCurrent>(draw.model)) return false;
        if (const auto* power = std::get_if<ConstantPower>(&draw.model)) wanted += plain(power->power).real();
        used[static_cast<std::size_t>(draw.from)] = used[static_cast<std::size_t>(draw.to)] = true;
    }
    const Four feeds = feeds_of_all(circuit);
    Plane shared = 0;
    double siemens = 0;
    for (std::size_t c = 0; c < live_conductors; ++c) {
        if (!used[c]) continue;
        if (!(feeds[c].real() > 0)) return false;
        siemens += 1 / feeds[c].real();
        shared += plain(circuit.source[c]) / feeds[c].real();
    }
    if (siemens == 0) return false;
    shared /= siemens;
    double most = 0;
    for (std::size_t c = 0; c < live_conductors; ++c)
        if (used[c]) most += std::norm(plain(circuit.source[c]) - shared) / (4 * feeds[c].real());
    return wanted > most * (1 + 1e-9);
}

Solution solve(const Circuit& circuit) {
    return Solver(circuit).run();
}

}  // namespace benchfeed::network
