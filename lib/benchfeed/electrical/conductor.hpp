#pragma once
// Conductors of a cable: resistance and reactance, what is lost along them, what heat they stand.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/section.hpp>
#include <benchfeed/electrical/figures.hpp>
#include <benchfeed/tables/missing.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::electrical {

/// One core of a cable, as it is sold.
struct Wire {
    std::string construction;  ///< a row of table cable-constructions: "H07RN-F", "NM-B"
    Section section;
    Metal metal = Metal::copper;
    Strands strands = Strands::stranded;
};

/// Resistance at another temperature.
///
///     R(theta) = R(t0) * (1 + alpha * (theta - t0))
///
/// Units   ohm per length; alpha [1/K] referred to t0.
/// Source  IEC 60028 (alpha at 20 degC); NEC chapter 9 table 8 note 2 (alpha at 75 degC).
/// Omits   skin and proximity effect: below 1 % up to 35 mm2 at 50 and 60 Hz.
[[nodiscard]] BENCHFEED_API ImpedancePerLength resistance_at(ImpedancePerLength table,
                                                             Temperature table_temperature, PerKelvin alpha,
                                                             Temperature theta);

/// What the tables say of a conductor.
struct ConductorData {
    tables::Figure<ImpedancePerLength> table;  ///< as printed
    Temperature table_temperature = celsius(20);
    tables::Figure<PerKelvin> alpha;           ///< referred to the table's temperature
    Temperature temperature = celsius(70);     ///< at which the cable is rated; losses are taken there
    ImpedancePerLength resistance{};           ///< at `temperature`
    ImpedancePerLength cold{};                 ///< at 20 degC
    tables::Figure<ImpedancePerLength> plain;  ///< as printed for strands without a coating, else `table`
    ImpedancePerLength least{};                ///< `plain` at 20 degC: the highest fault current asks for it
    std::optional<tables::Figure<ImpedancePerLength>> reactance;
    bool substituted = false;  ///< section not in the table: next smaller printed row
};

/// Copper by IEC 60228 class 1/2 or 5 at 20 degC, raised to the temperature at which the cable is rated;
/// NEC by chapter 9 table 8 at its own 75 degC, solid or stranded, copper or aluminium, and table 9
/// reactance.
///
/// Missing  the tables have no such construction, section or metal.
/// Throws   Refused: a section that is no finite number above zero.
[[nodiscard]] BENCHFEED_API tables::Found<ConductorData> conductor_data(const Wire& wire,
                                                                        const Figures& figures);

/// A stretch of conductors.
struct Run {
    ImpedancePerLength resistance{}, reactance{};  ///< of one conductor
    Length length{};                               ///< one way
    double passes = 2;                             ///< there and back: how often the current runs the length
};
/// Passes times length times (R + jX). Throws Refused: members that are no finite numbers or below zero.
[[nodiscard]] BENCHFEED_API ComplexImpedance impedance_of(const Run& run);

/// @{ What is lost along a run.
///
///     dU = I * passes * length * (R + jX)
///
/// Units   V.
/// Valid   the phasor: subtract it from the volts before the run. The magnitude: of a load at any power
/// factor no
///         more than that is missing behind the run, and just that where the angles agree.
/// Throws  Refused, as impedance_of(), and a current below zero.
[[nodiscard]] BENCHFEED_API VoltagePhasor voltage_drop(const Run& run, CurrentPhasor current);
[[nodiscard]] BENCHFEED_API Voltage voltage_drop(const Run& run, Current current);
/// @}

/// A fault through runs one behind the other, there and back, and what lies before them.
struct FaultLoop {
    Impedance source{};     ///< counts as resistance, in phase with the runs, as inspectors add it
    std::vector<Run> runs;  ///< line and return, each with its own passes
};
/// Magnitude of the loop.
///
///     Z = |Z_source + sum over the runs of passes * length * (R + jX)|
///
/// Throws  Refused, as impedance_of(). Source: IEC 60364-4-41 411.4.4.
[[nodiscard]] BENCHFEED_API Impedance fault_loop(const FaultLoop& loop);
/// Current of a fault: the share of U0 that is counted on over the loop. Source: BS 7671 appendix 3 (Cmin).
[[nodiscard]] BENCHFEED_API Current fault_current(Voltage u0, Impedance loop, Ratio counted_on = unit::one);

/// What a core withstands.
struct Withstand {
    tables::Figure<AdiabaticFactor> k;
    Area section{};
    JouleIntegral energy{};  ///< k^2 S^2
};

/// Fault energy that a core of copper stands: all heat stays in the metal.
///
///     I^2 t <= k^2 S^2
///
/// Units    A2s.
/// Valid    faults up to 5 s, the core at the temperature at which it is rated when the fault begins.
/// Missing  other metals, and constructions for which no k is printed.
/// Omits    cooling during the fault: never too much.
/// Throws   Refused: a section that is no finite number above zero.
/// Source   IEC 60364-4-43 434.5.2, Table 43A; protective cores in a cable A.54.4 has the same k.
[[nodiscard]] BENCHFEED_API tables::Found<Withstand> withstand(const Wire& wire,
                                                               const tables::Catalogue& tables);

/// k^2 S^2 of a core.
[[nodiscard]] BENCHFEED_API JouleIntegral withstood_energy(AdiabaticFactor k, Area section);

/// Longest time for which a core stands a current: (k S / I)^2. Source: IEC 60364-4-43 434.5.2.
[[nodiscard]] BENCHFEED_API Duration longest_time(JouleIntegral withstood, Current current);

/// Least section that stands a current for a time: I sqrt(t) / k. Source: IEC 60364-5-54 543.1.2.
[[nodiscard]] BENCHFEED_API Area least_section(Current current, Duration time, AdiabaticFactor k);

}  // namespace benchfeed::electrical
