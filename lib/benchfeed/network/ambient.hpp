#pragma once
// What warmer air does to a cable.
#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>

namespace benchfeed::network {

/// Factor of an ampacity in air of another temperature than that of its table.
///
///     k = sqrt((T - ambient) / (T - reference))
///
/// Units   1; T: what the insulation stands for ever.
/// Source  IEC 60287-1-1 with all losses in the conductor; NEC 310.15(B)(1)(1).
/// Valid   reference and ambient below the insulation's temperature.
/// Omits   nothing that the printed factors do not omit: tables are held to it cell by cell. Verdicts use
/// what is
///         printed.
[[nodiscard]] BENCHFEED_API Ratio ambient_law(Temperature insulation, Temperature reference,
                                              Temperature ambient);

}  // namespace benchfeed::network
