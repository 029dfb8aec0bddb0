#pragma once
// The lengths in which cables are sold, from a file or from an option.
#include <string>
#include <variant>
#include <vector>

#include <benchfeed/advice/cutting.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/base/section.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::advice {

/// Lengths in which cables are sold.
struct SoldLengths {
    /// Those of one cable.
    struct Of {
        std::string type;
        int cores = 0;
        Section section;
        std::vector<Length> lengths;
    };
    std::vector<Of> of;
    std::vector<Length> others;  ///< of every cable that is not named; empty: those are sold by the metre
    /// Lengths of a cable; empty: sold by the metre.
    [[nodiscard]] const std::vector<Length>& lengths_of(const std::string& type, int cores,
                                                        const Section& section) const;
};

/// A list of sold lengths: TOML with a table for each type, cores x section = lengths:
///
///     others = ["10 m", "50 m"]
///     [sold."H07RN-F"]
///     "3 x 1.5 mm2" = ["5 m", "10 m", "25 m"]
///
/// A single core is "1 x 14 AWG". Errors: every fault of the list with its place.
[[nodiscard]] BENCHFEED_API std::variant<SoldLengths, Diagnostics> read_sold_lengths(
    const text::Document& document);

/// "5 m, 10 m, 25 m" as an option has it.
[[nodiscard]] BENCHFEED_API std::variant<std::vector<Length>, QuantityFault> read_lengths(
    std::string_view text);

}  // namespace benchfeed::advice
