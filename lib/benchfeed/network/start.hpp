#pragma once
// What a motor of a plan draws while it starts.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::StartCurrent;

/// Start current of a load that runs with a known current: electrical::start_current(). Nothing without a
/// plate.
[[nodiscard]] BENCHFEED_API std::optional<StartCurrent> start_current(const plan::Plan& plan,
                                                                      const tables::Catalogue& tables,
                                                                      const LoadPoint& running);

/// The worked line of one end of the range; `running` is the value of the running current.
Value explain_start(Working& working, const plan::Plan& plan, const StartCurrent& found, Index load,
                    Value running, bool high);

}  // namespace benchfeed::network
