#pragma once
// Cut lengths out of sold lengths with the least bought.
#include <cstddef>
#include <span>
#include <vector>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed::advice {

/// One bought length and what is cut from it.
struct Pack {
    Length sold{};
    std::vector<std::size_t> pieces;  ///< positions in the list of pieces, longest first
    Length left{};
};

/// Cuts packed into sold lengths.
struct Cutting {
    std::vector<Pack> packs;  ///< longest first
    Length bought{}, left{};
    std::vector<std::size_t> too_long;  ///< pieces that no sold length holds; they are in no pack
    /// false: more unlike pieces than are searched; then there are no packs, rather than some that may not be
    /// the least.
    bool searched = true;
};

/// How far the search goes.
struct CuttingOptions {
    /// Ways to fill one pack that are looked at. Sixteen pieces of sixteen lengths need 43 million; equal
    /// pieces count far less: n of one length (n + 1) (n + 2) / 2.
    double most_ways = 50e6;
};

/// Packs for pieces, each pack of one of the sold lengths, of which there are as many as wanted: the least
/// sum of bought lengths, and of those the fewest packs.
///
/// Method  exact: for every multiset of pieces still to be cut, over every multiset of them that holds the
/// longest
///         and fits into a pack. Lengths count in tenths of a millimetre, pieces up and sold lengths down.
/// Check   equal to trying every partition in tests/unit/advice.
/// Pre     pieces and sold lengths are above zero.
[[nodiscard]] Cutting cut_from(std::span<const Length> pieces, std::span<const Length> sold,
                               const CuttingOptions& options = {});

}  // namespace benchfeed::advice
