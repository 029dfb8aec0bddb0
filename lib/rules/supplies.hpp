#pragma once
// Plans with more than one supply: whether their neutrals are kept apart.
#include <vector>

#include "rules/upstream.hpp"

namespace benchfeed::rules {

/// Something of the bench itself hangs below: a load that stands in a wall outlet by itself is not of it.
[[nodiscard]] bool feeds_the_bench(const Situation& s, Index supply);

/// Two supplies that both feed the bench, and whether the plan keeps them apart.
struct SupplyPair {
    Index first = plan::nowhere, second = plan::nowhere;  ///< as the plan has them
    Known separate = Known::open;                         ///< no: one of them lists others but not this one
};
[[nodiscard]] std::vector<SupplyPair> supply_pairs(const Situation& s);

}  // namespace benchfeed::rules
