#pragma once
// What nobody gave lies in a range. A bench is judged with all of it at the end that hurts most, and once
// more with all of it at the end that hurts least: a verdict holds where both give it.
#include <memory>
#include <optional>

#include <benchfeed/plan/at_best.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// Kinds of fact that are open in a plan as it is judged.
[[nodiscard]] BENCHFEED_API plan::Facts open_facts(const Situation& situation);

/// A bench with open facts of some kinds at the end that hurts least. Does not move: its situation points
/// into it.
class BENCHFEED_API BestEnd {
public:
    /// The plan and the tables of the worst end must outlive it.
    BestEnd(const Situation& worst, plan::Facts facts);
    BestEnd(const BestEnd&) = delete;
    BestEnd& operator=(const BestEnd&) = delete;
    /// The bench as it hurts least; it has no best end of its own.
    [[nodiscard]] const Situation& situation() const { return situation_; }

private:
    std::optional<plan::Plan>
        plan_;  ///< nothing: amps alone are at their best, the words are those of the worst end
    network::Network network_;
    Situation situation_;
};

/// The best end of all that is open; nothing where nothing is. Plan and tables of the worst end must
/// outlive it.
[[nodiscard]] BENCHFEED_API std::unique_ptr<const BestEnd> best_end(const Situation& worst);

/// What a verdict is worth that the two ends do not share: a fail at one of them alone cannot be judged, a
/// caution at one of them is a possible caution.
[[nodiscard]] Verdict held(Verdict at_worst, Verdict at_best);

/// A question that counts as a fail does: of an essential rule, or where heat, a shock or a restart would be
/// the fail.
[[nodiscard]] BENCHFEED_API bool is_grave_question(const Outcome& outcome);

}  // namespace benchfeed::rules
