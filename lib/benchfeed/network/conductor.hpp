#pragma once
// Resistance and reactance of the conductors of a stock.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/electrical/conductor.hpp>
#include <benchfeed/network/practice.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::ConductorData;
using electrical::resistance_at;

/// A line core of a stock, or its protective one; nothing where its construction, section or metal is not
/// known.
[[nodiscard]] std::optional<electrical::Wire> wire_of(const plan::Stock& stock, bool protective_core = false);

/// electrical::conductor_data() of a line core. Nothing where the tables have no such conductor.
[[nodiscard]] BENCHFEED_API std::optional<ConductorData> conductor_data(const tables::Catalogue& tables,
                                                                        Family family,
                                                                        const plan::Stock& stock);
/// The same for the protective core; nothing where there is none or its section is not known.
[[nodiscard]] std::optional<ConductorData> protective_data(const tables::Catalogue& tables, Family family,
                                                           const plan::Stock& stock);

}  // namespace benchfeed::network
