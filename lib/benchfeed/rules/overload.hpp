#pragma once
// How every rule about too much current explains itself: the sum, the comparison, what to change.
#include <optional>
#include <string>
#include <string_view>

#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

/// Words of an overload rule.
struct OverloadWords {
    std::string rating;  ///< the limit as printed or marked: "16 A"; "" when it was computed
    std::optional<tables::Citation> source;  ///< where that rating stands; nothing for a mark in the plan
    Span place;                              ///< where the carets go
    std::string limit_words = "";            ///< what the limit is called in the headline; "" for none
    std::optional<Power> watts = {};         ///< the mark is in watts: the limit is watts over volts
    std::optional<SourceAmps> source_plate = {};  ///< the limit is what a generator or an inverter gives
    Ratio at_factor = 1.0 * unit::one;            ///< ... in W, at this power factor
    std::optional<tables::Figure<Current>> allowed = {};  ///< a code's own limit, where it is the caution
    std::string receptacle = "";  ///< ... and the rating of the receptacle that it is for
    bool names_the_part = false;  ///< the rule itself says what to fit instead
};

/// Puts the code's own limit for a receptacle into the words of a caution that rests on it.
void allow_by_code(const Situation& s, const Outcome& outcome, OverloadWords& words);
/// The caution rests on it.
[[nodiscard]] bool by_code(const Outcome& outcome, const OverloadWords& words);
/// What such a caution means.
inline constexpr std::string_view over_the_code =
    "It works, with little left, and it is more than the code lets plugged-in loads draw there: an inspector "
    "may refuse it. No further tool.";

/// Headline, worked sum of the loads, comparison with the limit, and the remedies every overload has.
[[nodiscard]] Explanation explain_overload(const Situation& s, const Outcome& outcome, const Limit& limit,
                                           const OverloadWords& words);

/// The worked sum of loads, each with the line that gives its amps; weighted as `limit` says.
Value sum_of(Working& working, const Situation& s, const std::vector<Index>& loads, const std::string& symbol,
             const Limit* limit = nullptr);

/// The nearest device would carry this current for an hour or for ever.
[[nodiscard]] bool nothing_trips(const Situation& s, const Outcome& outcome);

/// Explanation of a cannot judge for want of a rating.
[[nodiscard]] Explanation ask_for_rating(const Situation& s, const Outcome& outcome, Span place,
                                         std::string path, std::string ask, std::string look);

/// Explanation of a cannot judge for want of a load's current.
[[nodiscard]] Explanation ask_for_plate(const Situation& s, const Outcome& outcome, Index load);

/// Explanation of a cannot judge for want of what a load does when power comes: stays its switch on, can it
/// catch?
[[nodiscard]] Explanation ask_whether_it_catches(const Situation& s, const Outcome& outcome, Index load);

/// An ok that would rest on a figure from memory or on a stand-in row, and is no ok for that.
[[nodiscard]] bool rests_on_memory(const Outcome& outcome);
/// Its explanation: "look it up in ...".
[[nodiscard]] Explanation rests_on_memory_words(const Situation& s, const Outcome& outcome, Span place,
                                                std::vector<tables::Citation> sources);

/// The loads that count for an outcome's limit in its set, in plan order.
[[nodiscard]] std::vector<Index> loads_of(const Situation& s, const Outcome& outcome, const Limit& limit);

/// What a kind of device asks of a cable: In at most `share` of Iz, or a printed row.
struct Demanded {
    Ratio share = 1.0 * unit::one;
    std::optional<Current> printed_limit;  ///< a table names the largest device itself
    bool by_row_alone = false;             ///< ... and the ampacity does not matter (plug fuses)
    std::optional<tables::Citation> source;
};
/// The line that compares a device with a cable.
void explain_demand(Working& working, const Outcome& outcome, const Demanded& demand, Value capacity,
                    Value rating);

}  // namespace benchfeed::rules
