#pragma once
// How every rule about too much current explains itself: the sum, the comparison, what to change.
#include <optional>
#include <string>

#include "rules/judge.hpp"
#include "rules/support.hpp"

namespace benchfeed::rules {

struct OverloadWords {
    std::string rating;                      ///< the limit as printed or marked: "16 A"; "" when it was computed
    std::optional<tables::Citation> source;  ///< where that rating stands; nothing for a mark in the plan
    Span place;                              ///< where the carets go
    std::string limit_words = "";            ///< what the limit is called in the headline; "" for none
};

/// Headline, worked sum of the loads, comparison with the limit, and the remedies every overload has.
[[nodiscard]] Explanation explain_overload(const Situation& s, const Outcome& outcome, const OverloadWords& words);

/// The nearest device would carry this current for an hour or for ever.
[[nodiscard]] bool nothing_trips(const Situation& s, const Outcome& outcome);

/// Explanation of a cannot judge for want of a rating.
[[nodiscard]] Explanation ask_for_rating(const Situation& s, const Outcome& outcome, Span place, std::string path,
                                         std::string ask, std::string look);

/// Explanation of an ok that would rest on a figure from memory or on a stand-in row: "look it up in ...".
[[nodiscard]] bool rests_on_memory(const Outcome& outcome);

/// The loads that count for an outcome's limit in its set, in plan order.
[[nodiscard]] std::vector<Index> loads_of(const Situation& s, const Outcome& outcome);

}  // namespace benchfeed::rules
