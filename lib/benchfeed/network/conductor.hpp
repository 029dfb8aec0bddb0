#pragma once
// Resistance and reactance of the conductors of a cable.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/network/practice.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

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

/// What the tables say of a stock's conductors.
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
/// reactance. Nothing where the tables have no such conductor.
[[nodiscard]] BENCHFEED_API std::optional<ConductorData> conductor_data(const tables::Catalogue& tables,
                                                                        Family family,
                                                                        const plan::Stock& stock);
/// The same for the protective core; nothing where there is none or its section is not known.
[[nodiscard]] std::optional<ConductorData> protective_data(const tables::Catalogue& tables, Family family,
                                                           const plan::Stock& stock);

}  // namespace benchfeed::network
