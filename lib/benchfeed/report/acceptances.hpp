#pragma once
// What the owners of many benches live with: every [[accept]], and whether it still holds.
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

/// An [[accept]] of a plan.
struct Acceptance {
    /// Whether it counts; rising, the worst last.
    enum class State : std::uint8_t { holds, other_revision, covers_nothing, over } state = State::holds;
    bool undated = false;  ///< it has a last day, and nobody said which day it is
    std::string plan;      ///< path
    std::uint32_t line = 0;
    std::string rule, at, set, reason, revision, until;
};
/// In the order of the plan.
[[nodiscard]] BENCHFEED_API std::vector<Acceptance> acceptances(const std::string& path,
                                                                const plan::Plan& plan,
                                                                const rules::Judgement& judgement);

[[nodiscard]] BENCHFEED_API std::string acceptances_text(std::vector<Acceptance> list, const Style& style);
[[nodiscard]] BENCHFEED_API std::string acceptances_json(const Tool& tool,
                                                         const std::vector<Acceptance>& list);

}  // namespace benchfeed::report
