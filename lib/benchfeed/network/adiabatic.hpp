#pragma once
// How much fault energy a core withstands: all heat stays in the metal.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// What a core withstands.
struct Withstand {
    tables::Figure<AdiabaticFactor> k;
    Area section{};
    JouleIntegral energy{};  ///< k^2 S^2
};

/// Withstand of a live or of the protective core of a stock. Nothing for aluminium and for constructions
/// without a row.
///
///     I^2 t <= k^2 S^2
///
/// Units   A2s.
/// Valid   faults up to 5 s, the core at the temperature at which it is rated when the fault begins.
/// Omits   cooling during the fault: never too much.
/// Source  IEC 60364-4-43 434.5.2, Table 43A; protective cores in a cable A.54.4 has the same k.
[[nodiscard]] BENCHFEED_API std::optional<Withstand> withstand(const tables::Catalogue& tables,
                                                               const plan::Stock& stock,
                                                               bool protective_core);

/// k^2 S^2 of a core.
[[nodiscard]] BENCHFEED_API JouleIntegral withstood_energy(AdiabaticFactor k, Area section);

/// Longest time for which a core stands a current: (k S / I)^2. Source: IEC 60364-4-43 434.5.2.
[[nodiscard]] BENCHFEED_API Duration longest_time(JouleIntegral withstood, Current current);

/// Least section that stands a current for a time: I sqrt(t) / k. Source: IEC 60364-5-54 543.1.2.
[[nodiscard]] BENCHFEED_API Area least_section(Current current, Duration time, AdiabaticFactor k);

}  // namespace benchfeed::network
