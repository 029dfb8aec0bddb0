#pragma once
// What several rules share: ratings of patterns, thresholds of practice, words for people.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/network/protection.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// The same for outcomes of one rule at one place and part, in whatever set.
[[nodiscard]] std::uint64_t place_key(const Outcome& outcome);

/// Limits are compared as people add printed figures: 7.0 A + 9.0 A is not above 16 A.
inline constexpr double rounding = 1e-9;
[[nodiscard]] bool above(double value, double edge);
[[nodiscard]] bool above(Current value, Current edge);
/// What it comes to, in words that stand alone: with open facts from one end to the other, as in a row.
[[nodiscard]] std::string value_words(const Outcome& outcome);
/// The first section is less than the second.
[[nodiscard]] bool thinner(const Section& one, const Section& other);

/// A threshold of common practice, from table `thresholds`.
[[nodiscard]] std::optional<tables::Figure<Ratio>> threshold(const Situation& s, std::string_view name);
/// Rated current of a plug, inlet or outlet pattern, from table `plug-patterns`.
[[nodiscard]] std::optional<tables::Figure<Current>> rated(const Situation& s, const std::string& pattern);
/// What contacts of a pattern carry for hours, where that is less than their rating.
[[nodiscard]] std::optional<tables::Figure<Current>> carried_for_hours(const Situation& s,
                                                                       const std::string& pattern);
/// A fuse sits in plugs of this pattern.
[[nodiscard]] bool fused(const Situation& s, const std::string& pattern);
/// Amps of a mark that may be printed in watts, at the nominal volts where the element stands.
[[nodiscard]] Current amps_of(const Situation& s, Index element, const CurrentOrPower& mark);

/// The watts of a mark that is printed in watts.
[[nodiscard]] std::optional<Power> watts_of(const plan::Field<CurrentOrPower>& mark);

/// Rating of an outlet: the lowest of pattern, `rating` and (unless it is a tool socket) `limit`.
struct ContactRating {
    std::optional<Current> current;  ///< nothing: pattern or mark is unknown
    std::optional<tables::Citation> source;
    std::string written;  ///< as printed or marked: "16 A"
    Ground ground;
    std::optional<Current> doubt =
        {};  ///< above it some parts of the pattern are not approved: the mark decides
};
[[nodiscard]] ContactRating outlet_rating(const Situation& s, Index outlet);
[[nodiscard]] ContactRating plug_rating(const Situation& s, Index element);
[[nodiscard]] ContactRating inlet_rating(const Situation& s, Index element);

/// The part at which a device stands: a plug's fuse, or the device itself.
[[nodiscard]] Part part_of(const network::Guard& guard);

/// An outlet on a load, such as an extractor's socket for a tool.
[[nodiscard]] bool is_tool_socket(const Situation& s, Index element);
/// It hangs on a load: part of a machine, or plugged into one.
[[nodiscard]] bool inside_a_machine(const Situation& s, Index element);
/// A load that feeds others through its own outlet.
[[nodiscard]] bool carries_sockets(const Situation& s, Index element);
/// A tool's own cord and plug are as sold and not judged, unless the builder fitted them.
[[nodiscard]] bool as_sold(const Situation& s, Index element);
/// Cables that are judged: of the house only those with length, method and stock given.
[[nodiscard]] bool cable_is_judged(const Situation& s, Index element);
/// An outlet hangs at or below this element.
[[nodiscard]] bool feeds_outlets(const Situation& s, Index element);
/// Ways of the outlets at or below with nothing plugged in.
[[nodiscard]] int free_ways(const Situation& s, Index element);
/// All loads below at once; of loads that share a way, and of the positions of a changeover switch, those
/// that together draw most.
struct Sum {
    Current current{};
    std::vector<Index> loads;
    Index unknown = plan::nowhere;  ///< a load below of which nobody knows the current
};
[[nodiscard]] Sum all_below(const Situation& s, Index element);

// ---- remedies that change the plan ----------------------------------------------------------------
/// A larger section for the stock of the cable that feeds an element; whoever tries it finds the least. Pre:
/// the element has a cable of a stock.
[[nodiscard]] Remedy larger_section(const Situation& s, Index element, std::string text);
/// A shorter cable to an element; whoever tries it finds the longest that will do.
[[nodiscard]] Remedy shorter_cable(const Situation& s, Index element, std::string text);

// ---- words ----------------------------------------------------------------------------------------
/// "the bench plug", "the saw outlet", "the cord of the saw switch".
[[nodiscard]] std::string words(const Situation& s, At at, Part part);
/// The same with a capital, to begin a sentence.
[[nodiscard]] std::string capital(std::string text);
/// "the saw, the extractor and the lamp".
[[nodiscard]] std::string list(const Situation& s, const std::vector<Index>& elements);
[[nodiscard]] std::string list(const std::vector<std::string>& words);
/// Name of a set as a sentence begins: "Sawing".
[[nodiscard]] std::string set_words(const Situation& s, Index set);
/// A length in the unit of the region, as exact as it is: "5 m", "12.5 ft".
[[nodiscard]] std::string length_words(const Situation& s, Length length, int significant = 6);
/// "H07RN-F 3 x 1.5 mm2": construction, cores, section.
[[nodiscard]] std::string cable_words(const plan::Stock& stock);
/// Place of a field for carets: its value, else the header of its element.
[[nodiscard]] inline Span place_of(const Span& span, const plan::Element& element) {
    return span.nowhere() ? element.header : span;
}
/// Where carets go for the cable of an element: the name of its stock. Pre: it has a cable.
[[nodiscard]] inline Span cable_place(const plan::Element& element) {
    return place_of(element.cable->stock.span, element);
}
template <class T>
[[nodiscard]] Span place_of(const plan::Field<T>& field, const plan::Element& element) {
    return field.span.nowhere() ? element.header : field.span;
}

}  // namespace benchfeed::rules
