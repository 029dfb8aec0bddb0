#pragma once
// Limits and outcomes of every rule, evaluated for every set of a plan.
#include <vector>

#include "rules/rule.hpp"

namespace benchfeed::rules {

/// What the loads of a set amount to at a limit, taken at the worst subset of the set.
struct Evaluated {
    Measure value;
    Measure at_worst;  ///< with every unknown length at the far end of its range; monostate: none is unknown
    bool arithmetic = false;              ///< magnitudes were added, since a power factor is not known
    Index unknown = plan::nowhere;        ///< a load among them whose current nobody knows
    Index no_resistance = plan::nowhere;  ///< a cable on the way of which no table gives the resistance
    std::vector<Index> loads;             ///< element indices of the loads that count, in plan order
};
[[nodiscard]] Evaluated evaluate(const Situation& situation, const Limit& limit,
                                 std::span<const Index> set_loads);

/// The element of a set that carries the greatest share of what it may.
struct Weakest {
    Index limit = plan::nowhere;  ///< nowhere: nothing could be rated
    double share = 0;
};

struct Judgement {
    std::vector<Limit> limits;
    std::vector<Outcome> outcomes;  ///< worst first, then as the registry and the plan have them
    std::vector<Weakest> weakest;   ///< one for each set of the plan, then everything
    Verdict verdict = Verdict::ok;  ///< highest of all outcomes that are not accepted
    bool essential_undecided = false;
};

[[nodiscard]] Judgement judge(const Situation& situation);

/// The loads of a set by the set index of an outcome.
[[nodiscard]] const plan::RunSet& set_of(const plan::Plan& plan, Index set);

}  // namespace benchfeed::rules
