#pragma once
// Limits and outcomes of every rule, evaluated for every set of a plan.
#include <array>
#include <optional>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What the loads of a set amount to at a limit, taken at the worst subset of the set.
struct Evaluated {
    Measure value;
    Measure at_worst;  ///< with every unknown length at the far end of its range; monostate: none is unknown
    Measure at_weakest_source;      ///< with the most that an unknown source may have; monostate: it is known
    bool arithmetic = false;        ///< magnitudes were added, since a power factor is not known
    Index unknown = plan::nowhere;  ///< a load among them whose current nobody knows
    Index no_resistance = plan::nowhere;  ///< a cable on the way of which no table gives the resistance
    std::vector<Index> loads;             ///< element indices of the loads that count, in plan order
    /// Volts at a load: the two of its conductors between which the fewest are left.
    std::optional<network::Pair> between = {};
    /// Volts at a start: what the starter draws from each conductor while the others run.
    std::array<CurrentPhasor, network::live_conductors> start_draw{};
};
[[nodiscard]] Evaluated evaluate(const Situation& situation, const Limit& limit,
                                 std::span<const Index> set_loads);

/// What a limit says of it. A sum that lacks a load or a cable can fail but is never good; of an unknown
/// length both ends of its range are held against the limit (held()).
[[nodiscard]] Verdict verdict_at(const Limit& limit, const Evaluated& evaluated);
/// The verdict depends on a length that nobody knows: both ends of it do not give the same.
[[nodiscard]] bool depends_on_a_run(const Outcome& outcome, const Evaluated& evaluated);

/// The volts of a limit (lost_to, left_at, left_at_start) as a sum: |start + shares of those that run|,
/// lengths at the near end of their range.
struct VoltTerms {
    network::Pair between{};
    VoltagePhasor start{};
    std::vector<VoltagePhasor> shares;  ///< one for each of the loads, in their order
};
/// One for each pair of conductors between which the load hangs. Of a limit at a start `start` already holds
/// the motor, which must not be among `loads`. Nothing for limits of other kinds.
[[nodiscard]] std::vector<VoltTerms> volt_terms(const Situation& situation, const Limit& limit,
                                                std::span<const Index> loads);

/// The element of a set that carries the greatest share of what it may.
struct Weakest {
    Index limit = plan::nowhere;  ///< nowhere: nothing could be rated
    double share = 0;
};

/// The fewest volts at an element on the way to a load, between the conductors of that load, whoever of these
/// loads runs; lengths that nobody knows at the near end of their range. At the load itself it is what limits
/// of kind left_at evaluate to. Pre: the element is the load or stands above it.
[[nodiscard]] Voltage fewest_volts_at(const Situation& situation, Index element, Index load,
                                      std::span<const Index> set_loads);

/// Runs on the way to the element of a reach, then to its starter, of which nobody knows the length or the
/// resistance.
[[nodiscard]] std::vector<Index> runs_not_known(const Situation& s, const Reach& reach);

/// The limit is a rating that an element must carry: among those the weakest element of a set is looked for.
[[nodiscard]] bool rates_an_element(const Limit& limit);
/// Its figure is common practice, printed on no part and in no standard: it stands for a set only where
/// nothing else is rated.
[[nodiscard]] bool is_of_habit(const Limit& limit);

/// Every outcome of every rule, and the sums of the sets.
struct Judgement {
    std::vector<Limit> limits;
    std::vector<Outcome> outcomes;         ///< worst first, then as the registry and the plan have them
    std::vector<Weakest> weakest;          ///< one for each set of the plan, then everything
    std::vector<tables::Missing> missing;  ///< rows that outcomes lack
    std::vector<Index> covering;  ///< the [[accept]]s that cover an outcome, or a member of its fold; rising
    std::vector<Index> ended;     ///< the [[accept]]s that would cover one and whose last day is over; rising
    Verdict verdict = Verdict::ok;  ///< highest of all outcomes that are not accepted
    bool essential_undecided = false;
};

[[nodiscard]] BENCHFEED_API Judgement judge(const Situation& situation);
/// Outcomes by which a changed plan is compared: of every rule about the bench, none about the plan's own
/// words (plan.*), every place of a fold by itself, in no order and without what is accepted; with what
/// nobody gave at the end that hurts most.
[[nodiscard]] std::vector<Outcome> judge_places(const Situation& situation);

/// The loads of a set by the set index of an outcome.
[[nodiscard]] const plan::RunSet& set_of(const plan::Plan& plan, Index set);

}  // namespace benchfeed::rules
