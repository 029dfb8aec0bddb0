#pragma once
// Who runs without being asked, and which loads cannot run at the same time.
#include <vector>

#include <benchfeed/plan/plan.hpp>

namespace benchfeed::advice {

using plan::Index;

/// Loads of which no more than `ways` can run: they share the ways of an outlet.
struct Turns {
    Index outlet = plan::nowhere;
    int ways = 1;
    std::vector<Index> loads;
};
/// Positions of a changeover switch: loads of one position run, those of the others do not.
struct Positions {
    Index at = plan::nowhere;
    std::vector<std::vector<Index>> loads;
};

/// Rule 6 of the plan format, as data.
struct Company {
    std::vector<Index> loads;   ///< every load of the plan, by rising element index
    std::vector<Index> always;  ///< start by themselves; those that take turns are left to choice
    std::vector<std::vector<Index>>
        joins;  ///< for each load: it, what it starts, what starts by itself with it, what carries it
    std::vector<Turns> turns;  ///< only where there are more loads than ways
    std::vector<Positions> changeovers;
};
[[nodiscard]] Company company_of(const plan::Plan& plan);

}  // namespace benchfeed::advice
