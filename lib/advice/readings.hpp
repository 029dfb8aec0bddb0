#pragma once
// What a meter should show on the assembled bench, and at which value somebody should stop.
#include <optional>
#include <string>
#include <vector>

#include "rules/disconnection.hpp"
#include "rules/rule.hpp"

namespace benchfeed::advice {

using plan::Index;

/// A resistance that is measured with the bench dead.
struct Ohms {
    std::optional<Impedance> expected;  ///< nothing: a length or a table is missing
    std::optional<Impedance> stop;      ///< above it something is wrong
};

/// What is measured at one outlet of the bench.
struct OutletReadings {
    Index outlet = plan::nowhere;
    Ohms protective;                 ///< from the plug (or the panel of a fixed bench) to its earth contact
    std::optional<Impedance> line;   ///< the same of a line, every switch on the way closed
    std::optional<Impedance> round;  ///< out on that line and back on what it is used with
    bool open_when_dead = false;  ///< a release, contactor or electronics on the way: live contacts read open
    std::optional<Impedance> loop;       ///< line to protective conductor, from the source, conductors cold
    std::optional<Impedance> loop_stop;  ///< cold_loop of the greatest loop that switches off in time, or:
    bool loop_by_residual = false;       ///< the residual device has to open: its loop, or a fifth more
    Current load{};                      ///< a resistive load that everything on the way carries
    Voltage idle{};                      ///< nominal, or as measured at the panel
    std::optional<Voltage> loaded;       ///< beside that load, from the panel on
};

/// A residual current device and the longest times in which it must open.
struct ResidualReading {
    Index device = plan::nowhere;
    Current trip{};
    std::optional<tables::Figure<Duration>> at_1, at_5;  ///< at 1 and 5 times its trip current
};

/// A metal part and the ohms from the plug to it.
struct MetalReading {
    Index metal = plan::nowhere;  ///< counts Plan::metals
    Ohms protective;
};

/// Everything that a meter is held to.
struct Readings {
    std::vector<OutletReadings> outlets;  ///< of the bench, in plan order
    std::vector<MetalReading> metals;
    std::vector<ResidualReading> residuals;
    std::optional<tables::Figure<Ratio>> drop_excess;      ///< by so much may a drop be more than computed
    std::optional<tables::Figure<Impedance>> loop_excess;  ///< and the ohms of lines joined at an outlet
    std::optional<tables::Figure<Voltage>> insulation_volts;
    std::optional<tables::Figure<Impedance>> insulation_least;  ///< nothing: no figure for this family
};

/// Expected readings, by formula.
///
///     R_PE = sum over the bench's runs of R20 * L        R20 of the protective core at 20 degC, strands
///     plain
///                                                        where nobody knows their coating
///     stop = R_PE of tinned strands + margin, at most what a cord of that length may have (table thresholds,
///     continuity_*) Z_stop = 0.8 * Cmin * U0 / Ia                      where an overcurrent device opens in
///     time Z_stop = 1.2 * Z; TT: 50 V / I_dn, 200 ohm at most where the residual device has to U = |U_0 - I
///     * (Z_line + Z_return)|                conductors warm, from the panel on
///
/// Units   ohm, V, A. The joints and the meter's own leads add to what is printed.
/// Source  IEC 60364-6 6.4.3 (order, insulation); 411.4.4 (loop); IEC 61008-1 Table 1 and UL 943 (times).
[[nodiscard]] Readings readings(const rules::Situation& situation);

}  // namespace benchfeed::advice
