#pragma once
// What the kind of a device asks of a cable behind it, so that overload of the cable ends there.
#include <optional>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/protection.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What a device of this kind asks of the cable: In at most `share` of Iz, or a printed row.
struct Demand {
    Ratio share = 1.0 * unit::one;         ///< In <= share * Iz
    std::optional<Ratio> band;             ///< above this share of Iz: a caution (gG)
    std::optional<Current> printed_limit;  ///< a table names the largest device itself
    bool by_row_alone = false;             ///< ... whatever the ampacity: plug fuses, rings
    bool unread = false;                   ///< its table is not there: what is small enough nobody can tell
    std::optional<tables::Citation> source;
};

/// By the rule of the device for cables: breakers In <= Iz; gG and BS 3036 fuses by their own factor; plug
/// fuses, rings and small conductors of the NEC by a printed row.
///
/// Source  IEC 60364-4-43 433.1, BS 7671 433.1.201 to 433.1.204, BS 1363-1, NEC 240.4(D): the tables that are
/// cited.
[[nodiscard]] Demand demand_of(const Situation& s, Index cable, const network::Guard& guard,
                               const network::Ampacity& iz);

/// The largest device that the cable stands behind: min(share * Iz, printed row). A plug fuse follows its
/// printed row alone, since it guards the cord against short circuit (BS 1363-1).
[[nodiscard]] Current largest_device(const Demand& demand, const network::Ampacity& iz);

}  // namespace benchfeed::rules
