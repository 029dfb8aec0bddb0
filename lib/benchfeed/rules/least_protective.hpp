#pragma once
// How thick the protective core of a cable has to be at least.
#include <optional>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What a table asks of a protective core.
struct LeastProtective {
    Section section{};
    tables::Citation source;
    std::optional<Current> device;  ///< the rating by which the table goes
};

/// Least section of the protective core: IEC Table 54.2, for UK flat cable as it is made; NEC cords
/// 250.122(E), fixed cables Table 250.122, never more than the line conductors.
///
/// Nothing  the section of the lines is not known, or the device that a row is chosen by.
/// Missing  no table has a row for it.
/// Source   IEC 60364-5-54 Table 54.2; BS 6004 for flat cable; NEC 250.122.
[[nodiscard]] tables::Found<std::optional<LeastProtective>> least_protective(const Situation& s, Index cable);

}  // namespace benchfeed::rules
