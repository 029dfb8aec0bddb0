#pragma once
// How much current a cable of a plan may carry as it lies.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/electrical/ampacity.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using electrical::Ampacity;
using electrical::Factor;

/// Current-carrying capacity of the cable that feeds an element: electrical::ampacity(), with the path of the
/// field without which it cannot be found.
[[nodiscard]] BENCHFEED_API Ampacity ampacity(const plan::Plan& plan, const tables::Catalogue& tables,
                                              const Network& network, Index element);

/// The cable is fixed wiring of the IEC family, whose table needs a method of installation.
[[nodiscard]] bool ampacity_needs_method(const plan::Plan& plan, const tables::Catalogue& tables,
                                         Index element);

/// Loaded conductors of the cable that feeds an element: 2 or 3, 4 for an out-and-back run of two poles.
[[nodiscard]] int loaded_conductors(const plan::Plan& plan, Index element);

/// A citation as one line of text: "IEC 60364-5-52:2009 Table B.52.2, 2.5, C (one source)".
[[nodiscard]] std::string cited(const tables::Citation& citation);

/// The worked line Iz = cell * factors; returns Iz as a value for further lines.
Value explain_ampacity(Working& working, const Ampacity& found);

}  // namespace benchfeed::network
