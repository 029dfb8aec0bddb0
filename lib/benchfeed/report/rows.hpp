#pragma once
// Findings as lines of a table: level, what is wrong with both figures, where, the cheapest cure. What is
// alike is one line.
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

/// Remedies of a finding, tried on the whole plan; empty: those of the rule as they are.
using Remedies = std::function<std::vector<rules::Remedy>(const rules::Outcome&)>;

/// One line of the table.
struct Row {
    rules::Verdict verdict = rules::Verdict::ok;
    std::string what;               ///< a sentence without its full stop, with both figures; a question
    std::string brief;              ///< the same with fewer words
    std::string where;              ///< "switch.saw"; of a question the field that answers it
    std::string cure_head, cure;    ///< "Cure (cheap):" and what to do; "" where no remedy is known
    bool meanwhile = false;         ///< the cure is only what to do until then
    std::string look;               ///< where the answer to the question is found
    std::vector<std::string> like;  ///< other parts of which the same is true, with their figures: the first
    std::size_t alike = 0;          ///< so many other parts there are
    std::size_t follow = 0;         ///< so many have the same cause as one of its findings
    std::size_t findings = 1;       ///< so many are in it, those that follow counted
};

/// One row for like findings on like parts, in the order of the findings. Questions about the same field of
/// several elements are one question.
[[nodiscard]] std::vector<Row> rows_of(const rules::Situation& situation, const rules::Judgement& judgement,
                                       const std::vector<rules::Finding>& found, const Remedies& remedies);

/// The row in two lines of 60 columns or more, in three of less: where it would be longer, with fewer words.
[[nodiscard]] std::string row_text(const Row& row, const Style& style);

/// What a verdict is called at the head of a row: "unknown" where nothing can be judged, as in --fail-on.
[[nodiscard]] std::string_view level_words(rules::Verdict verdict);
/// The ink of a verdict.
[[nodiscard]] Ink ink_of(rules::Verdict verdict);

}  // namespace benchfeed::report
