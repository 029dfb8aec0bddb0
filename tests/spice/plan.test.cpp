// From the text of a plan to volts, against ngspice. The netlist is made of what the plan was made of -
// sections, lengths, plate amps - by the rules that a person would use, and of nothing that the library
// computed.
#include <doctest/doctest.h>

#include <benchfeed/network/circuit.hpp>
#include "spice/ngspice.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

constexpr double agreed = 1e-6;

/// A cable that shops sell. Resistance in ohm per `unit` as printed, warmed to the temperature of use by
/// 0.00393 per kelvin above 20 degC (IEC 60028); cords of IEC are tinned and count 60 degC, fixed cable 70
/// degC. Source   IEC 60228:2004 tables 1, 2 and 3; NEC 2023 chapter 9 table 8 (solid or 7 strands, 75 degC)
/// and
///          table 9 (X in PVC conduit); IEC 60364-5-52 Annex G, 0.08 mohm/m.
struct Stock {
    const char* type;
    const char* section;
    double ohms, warmer, reactance;
};
const std::vector<Stock> metric{
    {"PVC sheathed", "1.5 mm2", 12.1, 50, 0.08}, {"PVC sheathed", "2.5 mm2", 7.41, 50, 0.08},
    {"PVC sheathed", "4 mm2", 4.61, 50, 0.08},   {"PVC sheathed", "6 mm2", 3.08, 50, 0.08},
    {"H05VV-F", "0.75 mm2", 26.7, 40, 0.08},     {"H05VV-F", "1 mm2", 20, 40, 0.08},
    {"H05VV-F", "1.5 mm2", 13.7, 40, 0.08},      {"H07RN-F", "2.5 mm2", 8.21, 40, 0.08},
    {"H07RN-F", "4 mm2", 5.09, 40, 0.08},
};
const std::vector<Stock> american{
    {"NM-B", "14 AWG", 3.07, 0, 0.058},  {"NM-B", "12 AWG", 1.93, 0, 0.054},
    {"NM-B", "10 AWG", 1.21, 0, 0.05},   {"SJOOW", "14 AWG", 3.14, 0, 0.058},
    {"SJOOW", "12 AWG", 1.98, 0, 0.054}, {"SJOOW", "10 AWG", 1.24, 0, 0.05},
};

/// A plan in both forms: as text for the library, as a netlist for ngspice.
struct Written {
    std::string text, netlist;
    std::vector<std::string> boxes;  // "b0", "b1" ...
    std::vector<std::vector<std::size_t>> conductors;
    std::vector<std::vector<Plane>> ohms;  // of the feed of each box, by those conductors
    double source_ohms = 0;                // before the panel, line to neutral and back
    bool starts = false;                   // load x0 is a motor that starts
};

std::string word_of(const std::vector<std::size_t>& conductors) {
    std::string word;
    for (const std::size_t c : conductors)
        word += std::string(word.empty() ? "" : "-") + std::array{"L1", "L2", "L3", "N"}[c];
    return word;
}

class Writer {
public:
    explicit Writer(std::uint64_t seed)
        : random_(seed), system_(systems()[seed % systems().size()]), netlist_(system_.hertz) {}

    Written write(std::size_t boxes) {
        reach_ = boxes > 60 ? 30 : 6;  // a plan has at most 64 elements from a supply to a load
        const bool us = american_bench();
        written_.text = fmt::format(
            "format = 1\n[plan]\nregion = \"{}\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"{}\"\n",
            us                    ? "US"
            : random_.chance(0.5) ? "EU"
                                  : "UK",
            system_.name);
        const auto& stocks = us ? american : metric;
        for (std::size_t s = 0; s < stocks.size(); ++s)
            written_.text += fmt::format("[stock.s{}]\ntype = \"{}\"\nsection = \"{}\"\ncores = 5\n", s,
                                         stocks[s].type, stocks[s].section);
        if (random_.chance(0.5)) written_.source_ohms = std::round(random_.between(0.05, 0.6) * 100) / 100;
        for (const std::size_t c : system_.conductors) {
            netlist_.source(fmt::format("emf{}", c), fmt::format("emf{}", c), system_.source[c]);
            netlist_.feed(fmt::format("vbefore{}", c), fmt::format("emf{}", c), fmt::format("source{}", c),
                          written_.source_ohms / 2);
        }
        for (std::size_t i = 0; i < boxes; ++i) box(i);
        for (std::size_t k = 0; k < boxes; ++k) load(k);
        written_.netlist = netlist_.text();
        return written_;
    }

private:
    [[nodiscard]] bool american_bench() const { return system_.hertz == 60; }

    void box(std::size_t i) {
        const std::size_t above = i == 0 ? 0 : i - 1 - random_.below(std::min(i, reach_));
        std::vector<std::size_t> live = i == 0 ? system_.conductors : written_.conductors[above];
        if (live.size() > 2 && random_.chance(0.15)) live = {live[random_.below(live.size() - 1)], 3};
        // A switch may hang on a run out to it and back: what it switches, its first pole, goes both ways.
        const bool loop = live.size() == 2 && random_.chance(0.1);
        const bool us = american_bench();
        const auto& stocks = us ? american : metric;
        // A ring comes back to the panel: two ways of half its length to the far point, so a quarter of it.
        const bool ring = !us && !loop && random_.chance(0.1);
        const std::size_t stock = ring ? random_.below(4) : random_.below(stocks.size());
        const double length = std::round(random_.between(1, us ? 60 : 20) * 10) / 10;
        written_.text += fmt::format(
            "[{}.b{}]\nfrom = \"{}\"\nconductors = \"{}\"\n{}cable = {{ stock = \"s{}\", length = \"{} "
            "{}\"{} }}\n",
            loop ? "switch" : "box", i, i == 0 ? "supply.s" : written_.boxes[above], word_of(live),
            loop ? "poles = 1\nwiring = \"loop\"\n" : "", stock, length, us ? "ft" : "m",
            ring ? ", method = \"C\", ring = true" : "");
        const Stock& wire = stocks[stock];
        const Plane each{wire.ohms * (1 + 0.00393 * wire.warmer), wire.reactance};
        std::vector<Plane> ohms;
        for (std::size_t k = 0; k < live.size(); ++k) {
            ohms.push_back(each * (length / 1000) * (loop ? (k == 0 ? 2.0 : 0.0) : ring ? 0.25 : 1.0));
            netlist_.feed(feed_name(i, live[k]),
                          i == 0 ? fmt::format("source{}", live[k]) : node_name(above, live[k]),
                          node_name(i, live[k]), ohms.back());
        }
        written_.boxes.push_back(fmt::format("{}.b{}", loop ? "switch" : "box", i));
        written_.conductors.push_back(live);
        written_.ohms.push_back(ohms);
    }

    /// A tool by its plate amps, lagging; or a heater by its watts, as the resistance that takes them at
    /// nominal volts. On three lines the amps of a plate are those of each line, and nothing goes to the
    /// neutral.
    void load(std::size_t k) {
        const std::size_t at = random_.below(written_.boxes.size());
        const std::vector<std::size_t>& live = written_.conductors[at];
        std::vector<std::size_t> used;
        if (live.size() == 4 && random_.chance(0.4))
            used = {0, 1, 2};
        else {
            const std::size_t lines = live.size() - 1, first = random_.below(lines);
            used = {live[first], 3};
            if (lines > 1 && random_.chance(0.4)) {
                used = {live[first], live[(first + 1) % lines]};
                if (used[0] > used[1]) std::swap(used[0], used[1]);
            }
        }
        const bool starts = k == 0 && random_.chance(0.5);
        const bool heater = !starts && random_.chance(0.3);
        const double cosine = heater ? 1 : std::round(random_.between(0.5, 1) * 1000) / 1000;
        const double size = std::round(random_.over_decades(0.02, 0.6) * 1000) / 1000;
        const bool three = used.size() == 3;
        const Plane across = three ? system_.source[0] : system_.source[used[0]] - system_.source[used[1]];
        const double watts = std::round(size * std::abs(across) * (three ? 3 : 1));
        written_.text += fmt::format("[load.x{}]\nfrom = \"{}\"\nconductors = \"{}\"\n", k,
                                     written_.boxes[at], word_of(used));
        written_.text +=
            heater ? fmt::format("kind = \"heater\"\nmotor = \"none\"\nplate = {{ power_in = \"{} W\" }}\n",
                                 watts)
                   : fmt::format(
                         "motor = \"induction\"\nplate = {{ current = \"{} A\", power_factor = "
                         "{:.3f}, start_current = \"{} A\" }}\n",
                         size, cosine, 6 * size);
        const std::string name = fmt::format("load{}", k);
        if (starts) return start(name, at, used, 6 * size);
        const Plane lag = std::polar(1.0, -std::acos(cosine));
        if (!three && heater)
            netlist_.impedance(name, node_name(at, used[0]), node_name(at, used[1]),
                               std::norm(across) / watts);
        else if (!three)
            netlist_.current(name, node_name(at, used[0]), node_name(at, used[1]),
                             size * lag * across / std::abs(across));
        else
            for (std::size_t line = 0; line < 3; ++line) {  // a star with a point of its own
                const Plane u = system_.source[line];
                const std::string leg = fmt::format("{}x{}", name, line), point = "p" + name;
                if (heater)
                    netlist_.impedance(leg, node_name(at, line), point, 3 * std::norm(u) / watts);
                else
                    netlist_.current(leg, node_name(at, line), node_name(at, 3),
                                     size * lag * u / std::abs(u));
            }
    }

    /// A rotor at rest, at the high end of its start: the resistance that takes its amps at nominal volts. On
    /// three lines one between each two, whose two currents add up to sqrt(3) of one in a line.
    void start(const std::string& name, std::size_t at, const std::vector<std::size_t>& used, double amps) {
        written_.starts = true;
        const double volts = std::abs(system_.source[used[0]] - system_.source[used[1]]);
        if (used.size() == 2)
            return netlist_.impedance(name, node_name(at, used[0]), node_name(at, used[1]), volts / amps);
        for (std::size_t line = 0; line < 3; ++line)
            netlist_.impedance(fmt::format("{}x{}", name, line), node_name(at, line),
                               node_name(at, (line + 1) % 3), std::sqrt(3.0) * volts / amps);
    }

    Random random_;
    const System& system_;
    Netlist netlist_;
    Written written_;
    std::size_t reach_ = 6;
};

void compare(std::uint64_t seed) {
    const std::size_t boxes = seed % 40 == 0 ? 300 : 1 + Random(seed + 1).below(60);
    const Written written = Writer(seed).write(boxes);
    INFO("seed " << seed << "\n" << written.text);
    const Judged judged_plan = judged(written.text);
    const plan::Plan& plan = judged_plan.plan();
    const network::Network& network = judged_plan.situation().network;
    std::vector<plan::Index> loads;
    for (const auto& load : network.loads) loads.push_back(load.element);
    CHECK(loads.size() == boxes);
    network::CircuitChoice choice;
    if (written.source_ohms > 0) choice.source = written.source_ohms * unit::ohm;
    if (written.starts) choice.starting = plan.find(plan::Kind::load, "x0");
    const network::PlanCircuit built =
        network::circuit_of(plan, network, plan.find(plan::Kind::supply, "s"), loads, choice);
    const network::Solution solution = network::solve(built.circuit);
    REQUIRE(solution.converged);
    const Found found = run_ngspice(BENCHFEED_NGSPICE, written.netlist);
    double ohms = 0, volts = 0, amps = 0;
    const double most = most_amps(solution);
    for (std::size_t i = 0; i < boxes; ++i) {
        const auto kind = written.boxes[i].starts_with("box") ? plan::Kind::box : plan::Kind::switch_;
        const plan::Index element = plan.find(kind, fmt::format("b{}", i));
        for (std::size_t k = 0; k < written.conductors[i].size(); ++k) {
            const std::size_t c = written.conductors[i][k], node = built.node_of[element];
            const Plane z = plain(network.branches[element].impedance[c]);
            ohms = std::max(ohms, std::abs(z - written.ohms[i][k]) / (std::abs(written.ohms[i][k]) + 1e-12));
            const Plane u = found.at("v(" + node_name(i, c) + ")"),
                        a = found.at("i(" + feed_name(i, c) + ")");
            volts = std::max(volts, std::abs(plain(solution.volts[node][c]) - u) / (std::abs(u) + 1e-3));
            amps = std::max(amps, std::abs(plain(solution.feed[node][c]) - a) / (std::abs(a) + 1e-3 * most));
        }
    }
    CHECK(ohms <= agreed);
    CHECK(volts <= agreed);
    CHECK(amps <= agreed);
}

}  // namespace

TEST_CASE("200 plans of every system, with sources, rings and starts") {
    for (std::uint64_t seed = 1; seed <= 200; ++seed) compare(seed);
}
