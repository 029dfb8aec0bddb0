// What must hold of every solved network, whatever its loads. Source: Kirchhoff's laws, the theorems of
// linear networks, and the laws of the loads themselves; no figure here is taken from the solver.
#include <doctest/doctest.h>

#include <numeric>

#include "support/random_circuit.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using namespace benchfeed::test;
using network::Circuit;
using network::ConstantCurrent;
using network::ConstantImpedance;
using network::ConstantPower;
using network::Draw;
using network::Index;
using network::Solution;

namespace {

constexpr double exact = 1e-9;  // of the source volts, of the greatest current
constexpr std::uint64_t cases = 250;

/// Every case of the loop below: solved, with its seed told by a failing check.
template <class Check>
void each_case(const Wanted& wanted, Check&& check) {
    for (std::uint64_t seed = 1; seed <= cases; ++seed) {
        const RandomCircuit random = random_circuit(seed, wanted);
        const Solution solution = network::solve(random.circuit);
        INFO("seed " << seed << ", " << random.system->name << ", " << random.circuit.nodes.size()
                     << " nodes, " << random.circuit.draws.size() << " draws");
        REQUIRE(solution.converged);
        check(random.circuit, solution, seed);
    }
}

/// Greatest difference of volts between two solutions; node `i` of the first is `node[i]` of the second.
double volts_apart(const Solution& one, const Solution& other, const std::vector<Index>& node,
                   Plane factor = 1.0) {
    double most = 0;
    for (std::size_t i = 0; i < node.size(); ++i)
        for (std::size_t c = 0; c < 4; ++c)
            most = std::max(most, std::abs(factor * plain(one.volts[i][c]) - plain(other.volts[node[i]][c])));
    return most;
}
double amps_apart(const Solution& one, const Solution& other, const std::vector<Index>& node,
                  Plane factor = 1.0) {
    double most = 0;
    for (std::size_t i = 0; i < node.size(); ++i)
        for (std::size_t c = 0; c < 4; ++c)
            most = std::max(most, std::abs(factor * plain(one.feed[i][c]) - plain(other.feed[node[i]][c])));
    for (std::size_t d = 0; d < one.drawn.size(); ++d)
        most = std::max(most, std::abs(factor * plain(one.drawn[d]) - plain(other.drawn[d])));
    return most;
}
std::vector<Index> same_places(const Circuit& circuit) {
    std::vector<Index> node(circuit.nodes.size());
    std::iota(node.begin(), node.end(), Index{0});
    return node;
}

/// The same circuit with source, impedances, currents and powers multiplied.
Circuit scaled(Circuit circuit, Plane volts, Plane ohms, Plane amps, Plane watts) {
    const auto times = [](auto& quantity, Plane factor) {
        using Quantity = std::remove_reference_t<decltype(quantity)>;
        quantity = Quantity::from_value(plain(quantity) * factor);
    };
    for (auto& u : circuit.source) times(u, volts);
    for (auto& node : circuit.nodes)
        for (auto& z : node.feed) times(z, ohms);
    for (Draw& draw : circuit.draws) {
        if (auto* load = std::get_if<ConstantCurrent>(&draw.model)) times(load->current, amps);
        if (auto* load = std::get_if<ConstantImpedance>(&draw.model)) times(load->impedance, ohms);
        if (auto* load = std::get_if<ConstantPower>(&draw.model)) times(load->power, watts);
    }
    return circuit;
}

}  // namespace

TEST_CASE("currents balance at each node, on each conductor") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        std::vector<std::array<Plane, 4>> rest(circuit.nodes.size());
        for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
            for (std::size_t c = 0; c < 4; ++c) {
                rest[i][c] += plain(solution.feed[i][c]);
                if (i > 0) rest[circuit.nodes[i].parent][c] -= plain(solution.feed[i][c]);
            }
        for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
            const Draw& draw = circuit.draws[d];
            rest[draw.node][static_cast<std::size_t>(draw.from)] -= plain(solution.drawn[d]);
            rest[draw.node][static_cast<std::size_t>(draw.to)] += plain(solution.drawn[d]);
        }
        double most = 0;
        for (const auto& node : rest)
            for (const Plane& i : node) most = std::max(most, std::abs(i));
        CHECK(most <= exact * most_amps(solution));
    });
}

TEST_CASE("what goes out on the lines comes back on the neutral: nothing goes through earth") {
    each_case({}, [](const Circuit&, const Solution& solution, auto) {
        double most = 0;
        for (const auto& feed : solution.feed)
            most =
                std::max(most, std::abs(plain(feed[0]) + plain(feed[1]) + plain(feed[2]) + plain(feed[3])));
        CHECK(most <= exact * most_amps(solution));
    });
}

TEST_CASE("volts fall along each feed by its impedance times its current") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        double most = 0;
        for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
            for (std::size_t c = 0; c < 4; ++c) {
                const Plane sent =
                    plain(i == 0 ? circuit.source[c] : solution.volts[circuit.nodes[i].parent][c]);
                most = std::max(most, std::abs(sent - plain(solution.volts[i][c]) -
                                               plain(circuit.nodes[i].feed[c]) * plain(solution.feed[i][c])));
            }
        CHECK(most <= exact * source_volts(circuit));
    });
}

TEST_CASE("every load draws what its model says at the volts it gets") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        double most = 0;
        for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
            const Plane u = across(solution, circuit.draws[d]), i = plain(solution.drawn[d]);
            const network::LoadModel& model = circuit.draws[d].model;
            if (const auto* load = std::get_if<ConstantCurrent>(&model))
                most = std::max(most, std::abs(i - plain(load->current)) / std::abs(i));
            if (const auto* load = std::get_if<ConstantImpedance>(&model))
                most = std::max(most, std::abs(i * plain(load->impedance) - u) / std::abs(u));
            if (const auto* load = std::get_if<ConstantPower>(&model))
                most = std::max(
                    most, std::abs(u * std::conj(i) - plain(load->power)) / std::abs(plain(load->power)));
        }
        CHECK(most <= exact);
    });
}

TEST_CASE("power in = power out + losses") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        Plane in = 0, out = 0, lost = 0;
        for (std::size_t c = 0; c < 4; ++c)
            in += plain(circuit.source[c]) * std::conj(plain(solution.feed[0][c]));
        for (std::size_t d = 0; d < circuit.draws.size(); ++d)
            out += across(solution, circuit.draws[d]) * std::conj(plain(solution.drawn[d]));
        for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
            for (std::size_t c = 0; c < 4; ++c)
                lost += plain(circuit.nodes[i].feed[c]) * std::norm(plain(solution.feed[i][c]));
        CHECK(std::abs(in - out - lost) <= exact * std::abs(in));
        CHECK(lost.real() >= 0);
    });
}

TEST_CASE("scaling") {
    const Plane turn = std::polar(1.0, 0.7);
    struct Law {
        std::string words;
        Plane volts, ohms, amps,
            watts;  // what is multiplied in the circuit, and volts and amps in its answer
    };
    for (const Law& law :
         {Law{"source and impedances threefold: volts threefold, the same currents", 3, 3, 1, 3},
          Law{"currents threefold, impedances a third: the same volts", 1, 1 / 3.0, 3, 3},
          Law{"source turned: all volts and currents turn with it", turn, 1, turn, 1}})
        each_case({}, [&](const Circuit& circuit, const Solution& solution, auto) {
            CAPTURE(law.words);
            const Circuit other = scaled(circuit, law.volts, law.ohms, law.amps, law.watts);
            const Solution answer = network::solve(other);
            REQUIRE(answer.converged);
            CHECK(volts_apart(solution, answer, same_places(circuit), law.volts) <=
                  exact * source_volts(other));
            CHECK(amps_apart(solution, answer, same_places(circuit), law.amps) <= exact * most_amps(answer));
        });
}

TEST_CASE("constant currents superpose: the drop of all is the sum of the drops of each part") {
    Wanted wanted;
    wanted.constant_current_only = true;
    each_case(wanted, [](const Circuit& circuit, const Solution& solution, auto seed) {
        Random random(seed);
        Circuit part = circuit, rest = circuit;
        part.draws.clear();
        rest.draws.clear();
        for (const Draw& draw : circuit.draws) (random.chance(0.5) ? part : rest).draws.push_back(draw);
        const Solution one = network::solve(part), other = network::solve(rest);
        double most = 0;
        for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
            for (std::size_t c = 0; c < 4; ++c)
                most = std::max(most, std::abs(plain(one.volts[i][c]) + plain(other.volts[i][c]) -
                                               plain(circuit.source[c]) - plain(solution.volts[i][c])));
        CHECK(most <= exact * source_volts(circuit));
    });
}

// Reciprocity of networks of impedances (Maxwell, Lorentz).
TEST_CASE("an ampere at A lowers the volts at B as much as an ampere at B those at A") {
    each_case({}, [](const Circuit& circuit, const Solution&, auto seed) {
        Random random(seed);
        const auto& conductors = systems()[seed % systems().size()].conductors;
        const auto pair = [&] {
            Draw draw;
            draw.node = static_cast<Index>(random.below(circuit.nodes.size()));
            const std::size_t from = random.below(conductors.size());
            draw.from = static_cast<plan::Conductor>(conductors[from]);
            draw.to = static_cast<plan::Conductor>(conductors[(from + 1) % conductors.size()]);
            draw.model = ConstantCurrent{CurrentPhasor::from_value(1.0)};
            return draw;
        };
        Circuit passive = circuit;
        std::erase_if(passive.draws,
                      [](const Draw& d) { return !std::holds_alternative<ConstantImpedance>(d.model); });
        const Draw a = pair(), b = pair();
        Circuit with_a = passive, with_b = passive;
        with_a.draws.push_back(a);
        with_b.draws.push_back(b);
        const Solution none = network::solve(passive), at_a = network::solve(with_a),
                       at_b = network::solve(with_b);
        CHECK(std::abs((across(at_a, b) - across(none, b)) - (across(at_b, a) - across(none, a))) <=
              exact * source_volts(circuit));
    });
}

TEST_CASE("a load may be replaced by the current that it draws") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        Circuit other = circuit;
        for (std::size_t d = 0; d < other.draws.size(); ++d)
            other.draws[d].model = ConstantCurrent{solution.drawn[d]};
        const Solution answer = network::solve(other);
        CHECK(volts_apart(solution, answer, same_places(circuit)) <= exact * source_volts(circuit));
        CHECK(amps_apart(solution, answer, same_places(circuit)) <= exact * most_amps(solution));
    });
}

TEST_CASE("a feed in two halves is the feed") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto) {
        Circuit halves;
        halves.source = circuit.source;
        std::vector<Index> place;  // the far end of each feed
        for (Circuit::Node node : circuit.nodes) {
            for (auto& z : node.feed) z = ComplexImpedance::from_value(plain(z) / 2.0);
            if (node.parent != plan::nowhere) node.parent = place[node.parent];
            halves.nodes.push_back(node);
            node.parent = static_cast<Index>(halves.nodes.size() - 1);
            halves.nodes.push_back(node);
            place.push_back(static_cast<Index>(halves.nodes.size() - 1));
        }
        for (Draw draw : circuit.draws) {
            draw.node = place[draw.node];
            halves.draws.push_back(draw);
        }
        const Solution answer = network::solve(halves);
        REQUIRE(answer.converged);
        CHECK(volts_apart(solution, answer, place) <= exact * source_volts(circuit));
        CHECK(amps_apart(solution, answer, place) <= exact * most_amps(solution));
    });
}

TEST_CASE("the order of children, and of loads, changes nothing") {
    each_case({}, [](const Circuit& circuit, const Solution& solution, auto seed) {
        Random random(seed);
        Circuit other;
        other.source = circuit.source;
        std::vector<Index> place(circuit.nodes.size());
        std::vector<std::size_t> ready{0};  // whose parent has its place
        while (!ready.empty()) {
            const std::size_t pick = random.below(ready.size()), i = ready[pick];
            ready.erase(ready.begin() + static_cast<std::ptrdiff_t>(pick));
            place[i] = static_cast<Index>(other.nodes.size());
            other.nodes.push_back(circuit.nodes[i]);
            if (i > 0) other.nodes.back().parent = place[circuit.nodes[i].parent];
            for (std::size_t k = i + 1; k < circuit.nodes.size(); ++k)
                if (circuit.nodes[k].parent == i) ready.push_back(k);
        }
        for (Draw draw : circuit.draws) {
            draw.node = place[draw.node];
            other.draws.push_back(draw);
        }
        std::reverse(other.draws.begin(), other.draws.end());
        Solution answer = network::solve(other);
        REQUIRE(answer.converged);
        std::reverse(answer.drawn.begin(), answer.drawn.end());
        CHECK(volts_apart(solution, answer, place) <= exact * source_volts(circuit));
        CHECK(amps_apart(solution, answer, place) <= exact * most_amps(solution));
    });
}

namespace {

Circuit one_feed(std::array<Plane, 4> source, std::array<Plane, 4> feed) {
    Circuit circuit;
    circuit.nodes.emplace_back();
    for (std::size_t c = 0; c < 4; ++c) {
        circuit.source[c] = VoltagePhasor::from_value(source[c]);
        circuit.nodes[0].feed[c] = ComplexImpedance::from_value(feed[c]);
    }
    return circuit;
}
Draw drawing(plan::Conductor from, plan::Conductor to, network::LoadModel model) {
    return {0, from, to, std::move(model)};
}
ConstantPower watts(Plane power) {
    return {ComplexPower::from_value(power)};
}
ConstantImpedance ohms(Plane impedance) {
    return {ComplexImpedance::from_value(impedance)};
}
ConstantCurrent amps(Plane current) {
    return {CurrentPhasor::from_value(current)};
}

}  // namespace

using plan::Conductor;

TEST_CASE("balanced loads leave the neutral without current and without volts") {
    for (const std::size_t system : {std::size_t{3}, std::size_t{4}}) {
        const auto& source = systems()[system].source;
        Circuit circuit = one_feed(source, {Plane{0.1, 0.02}, Plane{0.1, 0.02}, Plane{0.1, 0.02}, 0.3});
        for (const Conductor line : {Conductor::l1, Conductor::l2, Conductor::l3})
            circuit.draws.push_back(drawing(line, Conductor::n, watts({1500, 700})));
        const Solution solution = network::solve(circuit);
        REQUIRE(solution.converged);
        CHECK(std::abs(plain(solution.feed[0][3])) <= exact * most_amps(solution));
        CHECK(std::abs(plain(solution.volts[0][3])) <= exact * source_volts(circuit));
    }
}

// Worked by hand (Kirchhoff): 15 A on L1 and 11 A on L2 of a 120/240 V bench, 0.069 ohm in each conductor.
// Both on: the neutral carries 4 A and L1 loses (15 + 4) * 0.069 V; the first alone: 30 * 0.069 V.
TEST_CASE("a load on the other line relieves a shared neutral") {
    Circuit circuit = one_feed(systems()[2].source, {0.069, 0.069, 0, 0.069});
    circuit.draws = {drawing(Conductor::l1, Conductor::n, amps(15))};
    const Solution alone = network::solve(circuit);
    CHECK(std::abs(across(alone, circuit.draws[0]) - (120 - 30 * 0.069)) <= exact * 120);
    circuit.draws.push_back(drawing(Conductor::l2, Conductor::n, amps(-11)));
    const Solution both = network::solve(circuit);
    CHECK(std::abs(across(both, circuit.draws[0]) - (120 - 19 * 0.069)) <= exact * 120);
    CHECK(std::abs(plain(both.feed[0][3]) + 4.0) <= exact * 15);
}

// A delta of three equal impedances is a star of a third of them.
TEST_CASE("delta and star") {
    const auto& source = systems()[4].source;
    Circuit delta = one_feed(source, {0.2, 0.2, 0.2, 0.5}), star = delta;
    const std::array lines{Conductor::l1, Conductor::l2, Conductor::l3};
    for (std::size_t line = 0; line < 3; ++line) {
        delta.draws.push_back(drawing(lines[line], lines[(line + 1) % 3], ohms({30, 12})));
        star.draws.push_back(drawing(lines[line], Conductor::n, ohms({10, 4})));
    }
    const Solution one = network::solve(delta), other = network::solve(star);
    for (std::size_t line = 0; line < 3; ++line)
        CHECK(std::abs(plain(one.feed[0][line]) - plain(other.feed[0][line])) <= exact * most_amps(other));
}

// V = U/2 + sqrt(U^2/4 - S R) for unity power factor; no V is real above S = U^2 / (4 R), the power at which
// load and source match (maximum power transfer).
TEST_CASE("one load of constant power collapses where the square root ends") {
    for (const double u : {120.0, 230.0, 400.0})
        for (const double r : {0.01, 0.5, 8.0}) {
            CAPTURE(u);
            CAPTURE(r);
            const Circuit feed = one_feed({u, 0, 0, 0}, {r / 3, 0, 0, 2 * r / 3});
            const double most = u * u / (4 * r);
            for (const double share : {0.1, 0.5, 0.9, 0.99, 0.999, 1 - 1e-4, 1 - 1e-6}) {
                CAPTURE(share);
                Circuit circuit = feed;
                circuit.draws.push_back(drawing(Conductor::l1, Conductor::n, watts(share * most)));
                CHECK_FALSE(network::wants_more_than_passes(circuit));
                const Solution solution = network::solve(circuit);
                REQUIRE(solution.converged);
                const double expected = u / 2 + std::sqrt(u * u / 4 - share * most * r);
                CHECK(std::abs(across(solution, circuit.draws[0]) - expected) <= exact * expected);
            }
            for (const double share : {1 + 1e-6, 1 + 1e-4, 1.001, 1.01, 1.1, 2.0, 100.0}) {
                CAPTURE(share);
                Circuit circuit = feed;
                circuit.draws.push_back(drawing(Conductor::l1, Conductor::n, watts(share * most)));
                CHECK_FALSE(network::solve(circuit).converged);
                CHECK(network::wants_more_than_passes(circuit));
            }
        }
}

TEST_CASE("where loads want more than their feeds pass on, no volts are found: 600 random networks") {
    int wanted = 0, collapsed = 0;
    for (std::uint64_t seed = 1; seed <= test::rounds(600); ++seed) {
        CAPTURE(seed);
        Random random(seed);
        Circuit circuit = random_circuit(seed).circuit;
        const double more = random.over_decades(1, 3000);
        for (auto& draw : circuit.draws) {
            if (std::holds_alternative<network::ConstantCurrent>(draw.model)) draw.model = watts(100);
            if (auto* power = std::get_if<network::ConstantPower>(&draw.model))
                power->power = ComplexPower::from_value(plain(power->power) * more);
        }
        const bool falls = !network::solve(circuit).converged,
                   surely = network::wants_more_than_passes(circuit);
        wanted += surely;
        collapsed += falls;
        if (surely) CHECK(falls);
    }
    CHECK(wanted > static_cast<int>(test::rounds(60)));
    CHECK(collapsed > wanted);
}

// |V|^2 = b + sqrt(b^2 - |Z|^2 |S|^2) with b = U^2/2 - P R - Q X: circuit theory, two-node load flow.
TEST_CASE("one load of any power factor behind any impedance") {
    Random random(20);
    for (int i = 0; i < 400; ++i) {
        CAPTURE(i);
        const double u = 230;
        const Plane z{random.over_decades(0.01, 5), random.between(-1, 1) * random.over_decades(0.01, 5)};
        const Plane s = std::polar(1.0, random.between(-1.4, 1.4));
        // The greatest size k of the load: b(k)^2 = k^2 |Z|^2, b(k) = U^2/2 - k Re(S conj(Z)).
        const double along = (s * std::conj(z)).real(), most = u * u / 2 / (std::abs(z) + along);
        const Circuit feed = one_feed({u, 0, 0, 0}, {z, 0, 0, 0});
        const double share = random.chance(0.3) ? 1 - 1e-5 : random.between(0.05, 0.999);
        const double k = share * most, b = u * u / 2 - k * along;
        const double expected = std::sqrt(b + std::sqrt(b * b - k * k * std::norm(z)));
        Circuit circuit = feed;
        circuit.draws.push_back(drawing(Conductor::l1, Conductor::n, watts(k * s)));
        const Solution solution = network::solve(circuit);
        CAPTURE(share);
        REQUIRE(solution.converged);
        CHECK(std::abs(std::abs(across(solution, circuit.draws[0])) - expected) <= exact * expected);

        circuit.draws[0].model = watts((1 + 1e-5) * most * s);
        CHECK_FALSE(network::solve(circuit).converged);
    }
}

// Ohm's law: a divider. Sweeps alone would not settle.
TEST_CASE(
    "impedances of any size divide the volts: heaters, starting motors, a bolted fault behind thin wire") {
    Circuit circuit = one_feed({230, 0, 0, 0}, {0.8, 0, 0, 0.8});
    for (const double load : {1e-6, 0.01, 0.5, 1.6, 50.0, 1000.0}) {
        CAPTURE(load);
        circuit.draws = {drawing(Conductor::l1, Conductor::n, ohms(load))};
        const Solution solution = network::solve(circuit);
        REQUIRE(solution.converged);
        CHECK(std::abs(plain(solution.drawn[0]) - 230 / (1.6 + load)) <= exact * 230 / (1.6 + load));
    }
}

TEST_CASE("what has no finite answer is told, not answered") {
    const Circuit feed = one_feed({230, 0, 0, 0}, {0.5, 0, 0, 0.5});
    Circuit shorted = feed;  // U / 0
    shorted.draws = {drawing(Conductor::l1, Conductor::n, ohms(0))};
    CHECK_FALSE(network::solve(shorted).converged);
    shorted.nodes.push_back({0, {}});  // beside a node that is well
    CHECK_FALSE(network::solve(shorted).converged);
    Circuit unfed = feed;  // power between conductors without volts
    unfed.draws = {drawing(Conductor::l2, Conductor::l3, watts(10))};
    CHECK_FALSE(network::solve(unfed).converged);
    Circuit endless = feed;
    endless.draws = {drawing(Conductor::l1, Conductor::n, amps(std::numeric_limits<double>::infinity()))};
    CHECK_FALSE(network::solve(endless).converged);
    Circuit nameless = feed;
    nameless.draws = {drawing(Conductor::l1, Conductor::n, amps(std::nan("")))};
    CHECK_FALSE(network::solve(nameless).converged);
}

TEST_CASE("it always ends: hopeless networks are told, not solved for ever") {
    Circuit circuit = one_feed({230, 0, 0, 0}, {1e6, 0, 0, 1e6});
    circuit.draws = {drawing(Conductor::l1, Conductor::n, watts(1e6))};
    const Solution solution = network::solve(circuit);
    CHECK_FALSE(solution.converged);
    CHECK(solution.sweeps <= 420);  // 100 sweeps, 300 steps, those of the last attempt
}

TEST_CASE("nothing connected, nothing there") {
    CHECK(network::solve({}).converged);
    const Solution solution = network::solve(one_feed({230, 0, 0, 0}, {1, 1, 1, 1}));
    REQUIRE(solution.converged);
    CHECK(plain(solution.volts[0][0]) == 230.0);
    CHECK(plain(solution.feed[0][0]) == 0.0);
}

// Depth costs no stack, and rounding over a long chain does not keep the volts from settling.
TEST_CASE("a chain of 100 000 nodes") {
    Circuit circuit = one_feed({230, 0, 0, 0}, {1e-6, 0, 0, 1e-6});
    const Index count = 100000;
    for (Index i = 1; i < count; ++i) {
        circuit.nodes.push_back(circuit.nodes[0]);
        circuit.nodes.back().parent = i - 1;
    }
    circuit.draws = {{count - 1, Conductor::l1, Conductor::n, watts(10000)}};
    for (Index i = 0; i < count; ++i)  // small ones all along
        circuit.draws.push_back({i, Conductor::l1, Conductor::n, ohms(1e9)});
    const Solution solution = network::solve(circuit);
    REQUIRE(solution.converged);
    const double u = 115 + std::sqrt(115.0 * 115.0 - 10000 * 0.2);  // without the small ones
    CHECK(std::abs(across(solution, circuit.draws[0]) - u) <= 1e-4 * u);
}
