#pragma once
// A circuit as a netlist of ngspice, and what ngspice says of it. The program is a general circuit simulator
// (Debian package ngspice); tests and the benchmark alone use it. Every conductor of every feed becomes a
// resistor and an inductor behind a source of 0 V that senses its current; every load becomes a source of
// current, or a resistor with an inductor or a capacitor. One frequency, AC analysis.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <stdexcept>
#include <string>

#include <fmt/format.h>

#include "support/random_circuit.hpp"

namespace benchfeed::test {

/// A folder that goes away with its owner.
class Scratch {
public:
    Scratch() {
        std::string name = (std::filesystem::temp_directory_path() / "benchfeed-spice-XXXXXX").string();
        if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
        folder_ = name;
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    [[nodiscard]] std::string path(const std::string& file) const { return (folder_ / file).string(); }

private:
    std::filesystem::path folder_;
};

/// Names of the netlist: volts at a node, current through the sense source of a feed. One rail for each
/// conductor.
inline std::string node_name(std::size_t node, std::size_t c) {
    return fmt::format("n{}_{}", node, c);
}
inline std::string feed_name(std::size_t node, std::size_t c) {
    return fmt::format("vf{}_{}", node, c);
}

/// Lines of a netlist, a part at a time.
class Netlist {
public:
    explicit Netlist(double hertz) : turns_(2 * std::acos(-1.0) * hertz), hertz_(hertz) {}

    void source(const std::string& name, const std::string& node, Plane volts) {
        text_ +=
            fmt::format("v{} {} 0 dc 0 ac {:.17g} {:.17g}\n", name, node, std::abs(volts), degrees(volts));
    }
    void sense(const std::string& name, const std::string& from, const std::string& to) {
        text_ += fmt::format("{} {} {} dc 0 ac 0\n", name, from, to);
    }
    /// Current out of `from`, through the source, into `to`.
    void current(const std::string& name, const std::string& from, const std::string& to, Plane amps) {
        text_ +=
            fmt::format("i{} {} {} dc 0 ac {:.17g} {:.17g}\n", name, from, to, std::abs(amps), degrees(amps));
    }
    /// A resistor with what its reactance asks for behind it. Never both zero.
    void impedance(const std::string& name, const std::string& from, const std::string& to, Plane ohms) {
        const bool bare = ohms.imag() == 0;
        const std::string middle = bare ? to : "m" + name;
        if (ohms.real() != 0) text_ += fmt::format("r{} {} {} {:.17g}\n", name, from, middle, ohms.real());
        const std::string& left = ohms.real() != 0 ? middle : from;
        if (ohms.imag() > 0)
            text_ += fmt::format("l{} {} {} {:.17g}\n", name, left, to, ohms.imag() / turns_);
        if (ohms.imag() < 0)
            text_ += fmt::format("c{} {} {} {:.17g}\n", name, left, to, -1 / (ohms.imag() * turns_));
    }
    /// A conductor with its sense source; without impedance the sense source alone.
    void feed(const std::string& sense_name, const std::string& from, const std::string& to, Plane ohms) {
        if (ohms == 0.0) return sense(sense_name, from, to);
        sense(sense_name, from, "s" + sense_name);
        impedance(sense_name, "s" + sense_name, to, ohms);
    }
    /// Linear circuits need no operating point, and inductors would be short circuits in it.
    [[nodiscard]] std::string text() const {
        return fmt::format("* benchfeed\n.options noopac\n{}.ac lin 1 {:.17g} {:.17g}\n.end\n", text_, hertz_,
                           hertz_);
    }

private:
    static double degrees(Plane phasor) { return std::arg(phasor) * 180 / std::acos(-1.0); }
    std::string text_;
    double turns_, hertz_;
};

/// The netlist of a circuit. Loads of constant power, which ngspice does not have, come in as the currents
/// that the solver found for them; whether those belong to the volts that ngspice finds is a check of its
/// own.
inline std::string netlist_of(const RandomCircuit& random, const network::Solution& solution) {
    Netlist netlist(random.system->hertz);
    const network::Circuit& circuit = random.circuit;
    for (const std::size_t c : random.system->conductors)
        netlist.source(fmt::format("source{}", c), fmt::format("source{}", c), plain(circuit.source[c]));
    for (std::size_t i = 0; i < circuit.nodes.size(); ++i)
        for (const std::size_t c : random.system->conductors)
            netlist.feed(feed_name(i, c),
                         i == 0 ? fmt::format("source{}", c) : node_name(circuit.nodes[i].parent, c),
                         node_name(i, c), plain(circuit.nodes[i].feed[c]));
    for (std::size_t d = 0; d < circuit.draws.size(); ++d) {
        const network::Draw& draw = circuit.draws[d];
        const std::string name = fmt::format("load{}", d);
        const std::string from = node_name(draw.node, static_cast<std::size_t>(draw.from)),
                          to = node_name(draw.node, static_cast<std::size_t>(draw.to));
        if (const auto* current = std::get_if<network::ConstantCurrent>(&draw.model))
            netlist.current(name, from, to, plain(current->current));
        else if (const auto* load = std::get_if<network::ConstantImpedance>(&draw.model))
            netlist.impedance(name, from, to, plain(load->impedance));
        else
            netlist.current(name, from, to, plain(solution.drawn[d]));
    }
    return netlist.text();
}

/// What ngspice found: "v(n3_0)", "i(vf3_0)".
using Found = std::map<std::string, Plane>;

/// Reads the binary file of an AC analysis at one frequency: a header of lines, then complex numbers.
inline Found read_raw(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::vector<std::string> names;
    std::size_t expected = 0;
    bool listing = false;
    for (std::string line; std::getline(file, line) && line != "Binary:";) {
        if (line.starts_with("No. Variables:")) expected = std::stoul(line.substr(14));
        if (listing) {  // "\t3\tv(n0_0)\tvoltage"
            const std::size_t begin = line.find('\t', 1) + 1;
            names.push_back(line.substr(begin, line.find('\t', begin) - begin));
        }
        listing = listing || line == "Variables:";
    }
    Found found;
    for (const std::string& name : names) {
        std::array<double, 2> parts{};
        if (!file.read(reinterpret_cast<char*>(parts.data()), sizeof parts)) break;
        found[name] = {parts[0], parts[1]};
    }
    if (names.empty() || found.size() != expected)
        throw std::runtime_error("ngspice left no result in " + path);
    return found;
}

/// Runs `program` over a netlist and reads its answer.
inline Found run_ngspice(const std::string& program, const std::string& netlist) {
    const Scratch scratch;
    const std::string in = scratch.path("in.cir"), out = scratch.path("out.raw"), log = scratch.path("log");
    std::ofstream(in) << netlist;
    const std::string command = fmt::format("'{}' -b -r '{}' '{}' > '{}' 2>&1", program, out, in, log);
    if (std::system(command.c_str()) != 0) {
        std::ifstream words(log);
        throw std::runtime_error("ngspice failed:\n" +
                                 std::string(std::istreambuf_iterator<char>(words), {}));
    }
    return read_raw(out);
}

}  // namespace benchfeed::test
