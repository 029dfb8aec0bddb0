#pragma once
// What a meter should show on the assembled bench, and at which value somebody should stop.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/rules/disconnection.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

using plan::Index;

/// What a contactor, a no-volt release and electronics do without power: their contacts are open, whatever
/// the button says.
[[nodiscard]] bool open_when_dead(const plan::Switch& sw);

/// A resistance that is measured with the bench dead.
struct Ohms {
    std::optional<Impedance> expected;  ///< nothing: a length or a table is missing
    std::optional<Impedance> stop;      ///< above it something is wrong
};

/// What the volts at an outlet are held against while a heater is switched on there.
enum class FallFrom : std::uint8_t {
    idle,    ///< the same outlet before: what lies before the panel is known
    source,  ///< the panel or the generator in the same moment: nobody knows what lies before it
    wall,    ///< the wall outlet in the same moment: nobody knows the run to it
};
/// By how much the volts at an outlet fall while a heater runs there.
struct FallReading {
    Voltage heater{};  ///< for which it is made
    Current load{};    ///< what it draws: everything on the way carries that
    FallFrom from = FallFrom::idle;
    std::optional<Voltage> expected;  ///< conductors warm; nothing: a length of the bench is missing
    std::optional<Voltage> stop;      ///< beyond it a joint is bad
};

/// What is measured at one outlet of the bench.
struct OutletReadings {
    Index outlet = plan::nowhere;
    Ohms protective;                   ///< from the plug (or the panel of a fixed bench) to its earth contact
    std::optional<Impedance> line;     ///< the same of a line, every switch on the way closed
    std::optional<Impedance> round;    ///< out on that line and back on what it is used with
    std::optional<Impedance> neutral;  ///< of a neutral that is not part of it
    bool open_when_dead = false;  ///< a release, contactor or electronics on the way: live contacts read open
    std::optional<Impedance> loop;        ///< line to protective conductor, from the source, conductors cold
    std::optional<Impedance> loop_stop;   ///< cold_loop of the greatest loop that switches off in time, or:
    std::optional<Impedance> loop_doubt;  ///< where the region's standard for tests is stricter than that
    std::optional<Impedance> loop_warm;   ///< the greatest one while the conductors are warm
    std::optional<tables::Missing> missing;  ///< a row for want of which nobody knows which loop is too much
    bool loop_by_residual = false;           ///< the residual device has to open: its loop, or a fifth more
    std::optional<FallReading> fall;         ///< nothing on three lines: no heater fits
};

/// A residual current device, at what it is tested and the longest time in which it must open.
struct ResidualReading {
    Index device = plan::nowhere;
    Current trip{};                                ///< what is printed on it
    Current test{};                                ///< at which it must open
    std::optional<tables::Figure<Duration>> most;  ///< ... within this; nothing: no standard is known here
    std::optional<Current> high_test;              ///< a second, higher test, where the region makes it
    std::optional<tables::Figure<Duration>> most_at_high;  ///< ... and within which time it opens then
    std::optional<tables::Figure<Current>> stays;          ///< below it must not open
    std::optional<tables::Missing> missing;  ///< a row for want of which a time of these is not known
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
    std::optional<tables::Figure<Impedance>> loop_excess;  ///< and the ohms of lines joined at an outlet
    std::optional<tables::Figure<Voltage>> insulation_volts;
    std::optional<tables::Figure<Impedance>> insulation_least;  ///< nothing: no figure for this family
};

/// Expected readings, by formula.
///
///     R_PE = sum over the bench's runs of R20 * L        R20 of the protective core at 20 degC, strands
///     plain
///                                                        where nobody knows their coating
///     stop = R_PE of tinned strands + margin, at most what a cord of that length may have (table
///     thresholds, continuity_*)
///     Z_stop = 0.8 * Cmin * U0 / Ia                      where an overcurrent device opens in time
///     Z_doubt = 2/3 * U0 / Ia                            where the region tests by IEC 60364-6
///     Z_stop = 1.2 * Z; TT: 50 V / I_dn, 200 ohm at most where the residual device has to
///     dU = |U_0| - |U_0 - I * (Z_source + Z_line + Z_return)|   conductors warm; stop = 1.2 * dU
///
/// The source counts where it is known; where it is not, a second meter stands before what is not known.
/// Units   ohm, V, A. The joints and the meter's own leads add to what is printed.
/// Source  IEC 60364-6 6.4.3 (order, insulation); 411.4.4 (loop); IEC 61008-1 Table 1 and UL 943 (times).
[[nodiscard]] Readings readings(const Situation& situation);
/// @{ The same of one place. Of a residual device: nothing where its trip current is not known.
[[nodiscard]] OutletReadings outlet_readings(const Situation& situation, Index outlet);
[[nodiscard]] std::optional<ResidualReading> residual_reading(const Situation& situation, Index device);
[[nodiscard]] Ohms protective_reading(const Situation& situation, Index element);
/// @}

}  // namespace benchfeed::rules
