// The worked examples of the reference pages, as a program of somebody else builds them. run.sh compares what
// it prints.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/check.hpp>
#include <benchfeed/network/adiabatic.hpp>
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/network/solve.hpp>
#include <benchfeed/rules/summary.hpp>
#include <iostream>
#include <iterator>
#include <string>

using namespace benchfeed;

namespace {

void drop() {
    //! [drop]
    // 12 m of 1.5 mm2 flexible copper (13.3 ohm/km at 20 degC, IEC 60228 class 5), warm at 60 degC, 12 A,
    // there and back.
    const ImpedancePerLength warm = network::resistance_at(13.3 * unit::ohm_per_kilometre, celsius(20),
                                                           0.00393 * unit::per_kelvin, celsius(60));
    const Voltage lost = 2.0 * (12.0 * unit::metre) * warm * (12.0 * unit::ampere);
    std::cout << "drop " << to_text(lost) << "\n";
    //! [drop]
}

void withstand() {
    //! [withstand]
    // What 1.5 mm2 of PVC-insulated copper (k = 115, IEC 60364-4-43 table 43A) stands, and how long 250 A may
    // flow.
    const JouleIntegral stands =
        network::withstood_energy(115.0 * unit::ampere_root_second_per_mm2, 1.5 * unit::mm2);
    std::cout << "stands " << to_text(stands) << ", 250 A for "
              << to_text(network::longest_time(stands, 250.0 * unit::ampere)) << "\n";
    //! [withstand]
}

void solved() {
    //! [solve]
    // 230 V, a cord of 0.3 ohm in each of its two conductors, a heater of 20 ohm and a motor of 1 kW and 0.6
    // kvar behind it.
    using plan::Conductor;
    network::Circuit circuit;
    circuit.source[0] = VoltagePhasor::from_value(230.0);
    network::Circuit::Node outlet;
    outlet.feed[0] = ComplexImpedance::from_value(0.3);  // L1
    outlet.feed[3] = ComplexImpedance::from_value(0.3);  // N
    circuit.nodes = {outlet};
    const network::ConstantImpedance heater{ComplexImpedance::from_value(20.0)};
    const network::ConstantPower motor{ComplexPower::from_value({1000.0, 600.0})};
    circuit.draws = {{0, Conductor::l1, Conductor::n, heater}, {0, Conductor::l1, Conductor::n, motor}};
    const network::Solution found = network::solve(circuit);
    const auto between = found.volts[0][0] - found.volts[0][3];
    std::cout << "outlet " << to_text(magnitude(between)) << ", cord " << to_text(magnitude(found.feed[0][0]))
              << "\n";
    //! [solve]
}

void read() {
    //! [read]
    // A quantity as people write it: what is wrong is a message and not an exception.
    const auto wrong = read_quantity<Length>("3 A", "length");
    if (const auto* fault = std::get_if<QuantityFault>(&wrong)) std::cout << fault->message << "\n";
    //! [read]
}

void judged(const std::string& path, std::string text) {
    //! [check]
    // Constants of the program; it must outlive what is judged by it.
    const tables::Catalogue figures;
    const text::Document plan(path, std::move(text));
    const auto answer = check(plan, figures);
    if (const auto* bench = std::get_if<Judged>(&answer))
        std::cout << rules::headline(bench->situation(), bench->judgement()) << "\n";
    //! [check]
}

}  // namespace

// The plan comes on standard input.
int main() {
    drop();
    withstand();
    solved();
    read();
    judged("a bench", std::string(std::istreambuf_iterator<char>(std::cin), {}));
}
