#pragma once
// Volts and currents of a radial network, exactly: phasors conductor by conductor.
#include <array>
#include <variant>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/network/network.hpp>

namespace benchfeed::network {

template <class Q>
using PerConductor = std::array<Q, live_conductors>;  ///< L1, L2, L3, N

/// How a load answers to the volts it gets. Currents flow from `Draw::from` through the load to `Draw::to`.
struct ConstantCurrent {  ///< what a plate says, whatever the volts
    CurrentPhasor current{};
};
/// Heaters, motors at rest: I = U / Z.
struct ConstantImpedance {
    ComplexImpedance impedance{};
};
/// A running motor, an electronic supply: I = conj(S / U), more at fewer volts.
struct ConstantPower {
    ComplexPower power{};
};
using LoadModel = std::variant<ConstantCurrent, ConstantImpedance, ConstantPower>;

/// A load between two conductors of a node.
struct Draw {
    Index node = 0;
    plan::Conductor from = plan::Conductor::l1, to = plan::Conductor::n;
    LoadModel model;
};

/// A tree of nodes fed from one source. Parents stand before their children; node 0 is fed from the source.
struct Circuit {
    /// A place of the tree, with the wires that lead to it from its parent.
    struct Node {
        Index parent = plan::nowhere;           ///< nowhere: fed from the source
        PerConductor<ComplexImpedance> feed{};  ///< what lies between the parent and this node
    };
    PerConductor<VoltagePhasor> source{};  ///< against earth
    std::vector<Node> nodes;
    std::vector<Draw> draws;
};

/// Volts and currents of every node.
struct Solution {
    bool converged = false;                          ///< false: no volts were found at which the loads run
    int sweeps = 0;                                  ///< how often the volts were improved
    std::vector<PerConductor<VoltagePhasor>> volts;  ///< at each node, against earth
    std::vector<PerConductor<CurrentPhasor>> feed;   ///< through the feed of each node, away from the source
    std::vector<CurrentPhasor> drawn;                ///< by each draw
};

/// Volts at every node and current in every conductor.
///
///     U(node) = U(parent) - Z(feed) * I(feed),  I(feed) = loads of the node + feeds of its children
///
/// Units    SI inside.
/// Method   Sweeps towards the source and back until the volts change by less than 1e-12 of the source.
///          Where they do not settle (heavy loads on thin wire), Newton's method with the tree eliminated
///          node by node; it is exact for impedances of any size. The same power has lower volts as well, at
///          which no load stays: a step that would end there is shortened.
/// Valid    radial networks of any depth; impedances with a real part that is not negative.
/// Omits    magnetic coupling between conductors, harmonics, an open neutral.
/// Errors   `converged` is false when neither method finds volts at which all loads of constant power run:
///          the network collapses there. Also where a current has no end (an impedance of zero, power between
///          conductors without volts). At most 100 sweeps and some 300 Newton steps: it always ends.
/// Source   circuit theory (Kirchhoff); tests hold it against ngspice and against a dense solver.
[[nodiscard]] BENCHFEED_API Solution solve(const Circuit& circuit);

/// True where there are surely no volts at which the loads run: they want more power than the feeds that all
/// of them share can pass on. A quick answer for sets far beyond anything; false says nothing.
///
///     P = sum over loads of constant power of Re(S)  >  sum over conductors of |E_c - e|^2 / (4 R_c)
///
/// Source   maximum power transfer: of what a source of E sends through R at most E^2 / (4 R) comes out, and
///          currents that add up to zero do not notice volts e that all conductors share. Reactance only
///          lowers what comes out. Feeds behind, and loads of impedance, take more still.
/// Valid    loads of constant power and of impedance alone; with one of constant current it is false.
[[nodiscard]] BENCHFEED_API bool wants_more_than_passes(const Circuit& circuit);

}  // namespace benchfeed::network
