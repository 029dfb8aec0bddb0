#pragma once
// How much fault energy a core of a stock withstands.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/electrical/conductor.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::least_section;
using electrical::longest_time;
using electrical::Withstand;
using electrical::withstood_energy;

/// electrical::withstand() of a live or of the protective core of a stock. Nothing for aluminium, for
/// constructions without a row, and where the core is not known.
[[nodiscard]] BENCHFEED_API std::optional<Withstand> withstand(const tables::Catalogue& tables,
                                                               const plan::Stock& stock,
                                                               bool protective_core);

}  // namespace benchfeed::network
