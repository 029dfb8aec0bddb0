#pragma once
// A price list, as a text.
#include <string>
#include <variant>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::advice {

/// Read a price list:
///
///     currency = "EUR"
///     [price."H07RN-F"]
///     "1.5 mm2" = 1.20        # for a metre
///
/// Errors  every mistake with its place: unknown keys, sections that are none, prices that are no number
/// above 0.
[[nodiscard]] BENCHFEED_API std::variant<PriceList, Diagnostics> read_prices(const text::Document& document);

}  // namespace benchfeed::advice
