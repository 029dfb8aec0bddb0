#pragma once
// Which findings a report for people tells, in which order, and the words that every such report ends with.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

/// Findings as they are told: limits first, then what is common practice and nobody's limit.
struct Told {
    std::vector<const rules::Finding*> plain, practice;
    std::size_t same_question = 0;
};

/// A question that keeps several outcomes open is told once. The findings must outlive the result.
[[nodiscard]] Told what_is_told(const rules::Situation& s, const rules::Judgement& judgement,
                                const std::vector<rules::Finding>& found);

/// The text with a full stop, unless it ends in one or in a question mark.
[[nodiscard]] std::string sentence(std::string text);

/// What no description can show, and who decides. Short, once.
inline constexpr std::string_view closing_words =
    "Figures from secondary prints: no standard was read in the original. No plan shows a loose terminal, a "
    "damaged cord, a worn outlet or a swapped core. benchfeed advises; local codes and a licensed "
    "electrician "
    "decide. Pull the plug before you open anything.";
/// The same in two lines.
inline constexpr std::string_view short_closing_words =
    "Figures from secondary prints; no plan shows a loose terminal or a damaged cord. A "
    "licensed electrician decides. Pull the plug before you open anything.";

}  // namespace benchfeed::report
