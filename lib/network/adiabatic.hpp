#pragma once
// What a conductor bears of a short circuit, and for how long.
#include <optional>

#include "base/quantity.hpp"
#include "plan/plan.hpp"
#include "tables/catalogue.hpp"

namespace benchfeed::network {

/// A core and the heat of a short circuit that it bears, none of which leaves it in so short a time.
struct Adiabatic {
    tables::Figure<AdiabaticFactor> k;
    tables::Figure<Duration> until;  ///< longest time for which the law stands
    Area section{};
    JouleIntegral withstand{};  ///< k^2 S^2
};

/// What a core of a stock bears: the live cores, or the protective one.
///
///     I^2 t <= k^2 S^2
///
/// Units   A^2 s; k in A s^0.5 / mm^2.
/// Valid   copper, from 0.1 s up to `until`; below 0.1 s it is what the device lets through that counts
///         (I^2 t of its maker), beyond `until` the core bears more than this, since heat leaves it.
///         Nothing where no k is printed for the construction (NEC), for aluminium, and where the section is
///         not known or the stock has no such core.
/// Omits   tin-soldered joints, for which every core counts k = 115; screens and armour.
/// Source  IEC 60364-4-43 434.5.2, Table 43A; IEC 60364-5-54 Table A.54.4 prints the same k for a protective
///         core of the cable.
[[nodiscard]] std::optional<Adiabatic> adiabatic(const tables::Catalogue& tables, const plan::Stock& stock,
                                                 bool protective_core);

/// How long a core bears a current.
///
///     t = k^2 S^2 / I^2 = (k S / I)^2
///
/// Units   s.   Valid up to 5 s (Adiabatic::until); a longer result is too short, never too long.
/// Pre     current > 0.   Source  IEC 60364-4-43 434.5.2.
[[nodiscard]] Duration longest_time(JouleIntegral withstand, Current current);

/// Least section that bears a current for a time.
///
///     S = I * sqrt(t) / k
///
/// Units   area; the next standard size is next_metric_size().   Valid from 0.1 s to 5 s.
/// Source  IEC 60364-5-54 543.1.2; BS 7671 543.1.3.
[[nodiscard]] Area least_section(Current current, Duration time, AdiabaticFactor k);

}  // namespace benchfeed::network
