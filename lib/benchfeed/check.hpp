#pragma once
// The library in one call: a text in, a judged plan out.
#include <memory>
#include <span>
#include <variant>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/common.hpp>
#include <benchfeed/plan/read_plan.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed {

/// A plan with everything that was found about it. Holds what the outcomes point into.
class BENCHFEED_API Judged {
public:
    /// Builds the network and judges it. The catalogue must outlive the result.
    Judged(plan::Plan plan, const tables::Catalogue& tables);

    /// The plan as read, with what was assumed.
    [[nodiscard]] const plan::Plan& plan() const { return *plan_; }
    /// What writers and advice ask for beside the judgement.
    [[nodiscard]] rules::Situation situation() const {
        return {*plan_, *network_, *tables_, best_ ? &best_->situation() : nullptr};
    }
    /// What every rule said.
    [[nodiscard]] const rules::Judgement& judgement() const { return judgement_; }

private:
    std::unique_ptr<const plan::Plan> plan_;
    const tables::Catalogue* tables_;
    std::unique_ptr<const network::Network> network_;
    std::unique_ptr<const rules::BestEnd> best_;  ///< nothing: no fact is open
    rules::Judgement judgement_;
};

/// Words and usual values that the reader of plans needs, out of the tables.
[[nodiscard]] BENCHFEED_API plan::Words plan_words(const tables::Catalogue& tables);

/// Read and judge a plan.
///
/// Errors  every mistake of the text, each with its place; then nothing is judged.
/// The catalogue must outlive the result.
[[nodiscard]] BENCHFEED_API std::variant<Judged, Diagnostics> check(
    const text::Document& document, const tables::Catalogue& tables,
    std::span<const plan::Override> overrides = {});

/// The same with the words of plan_words(), for many plans.
[[nodiscard]] BENCHFEED_API std::variant<Judged, Diagnostics> check(
    const text::Document& document, const tables::Catalogue& tables, const plan::Words& words,
    std::span<const plan::Override> overrides = {});

/// The same for a plan that may name common files: what it names is put beside its text first.
/// What cannot be had of them is told as the plan's mistakes.
[[nodiscard]] BENCHFEED_API std::variant<Judged, Diagnostics> check(
    text::Document& document, const tables::Catalogue& tables, const plan::Words& words,
    plan::CommonFiles& common, std::span<const plan::Override> overrides = {});

/// What --fail-on asks for: each adds to the one before.
enum class FailOn : std::uint8_t { fail, unknown, caution };
/// True when an outcome reaches the level: a fail, or a cannot judge of an essential rule or behind which a
/// fail for heat, shock or restart may be; with `unknown`
/// every cannot judge; with `caution` every caution as well. What is accepted never does.
[[nodiscard]] BENCHFEED_API bool reaches(const rules::Outcome& outcome, FailOn level);
/// True when any outcome of a judged plan does.
[[nodiscard]] BENCHFEED_API bool fails(const rules::Judgement& judgement, FailOn level);

}  // namespace benchfeed
