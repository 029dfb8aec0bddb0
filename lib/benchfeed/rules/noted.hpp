#pragma once
// What the plan leaves open and what was assumed, grouped so that each question is asked once.
#include <string>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// Fields of one name and one meaning: "rating of the switches saw, router and jigsaw".
struct Group {
    std::string paths;    ///< "switch.saw, switch.router"
    std::string key;      ///< "rating"
    std::string meaning;  ///< "rated current"
    std::string value;    ///< of assumed fields
    std::string look;     ///< where a person finds it
    std::size_t count = 0;
};

/// A fact that a rule found without any arithmetic.
struct Noted {
    std::vector<Group> asked;
    std::vector<Group> assumed;
};

[[nodiscard]] Noted noted(const Situation& situation);

/// One value that the format assumes where the plan is silent, and what it would be written as.
struct AssumedField {
    std::string path, value, why;
};
[[nodiscard]] std::vector<AssumedField> assumed_fields(const plan::Plan& plan);

/// Whether there is anything to list, found without making the lists.
[[nodiscard]] bool anything_asked(const Situation& situation);
[[nodiscard]] bool anything_assumed(const Situation& situation);
/// One caution of the plan as a whole, if there is anything to list.
[[nodiscard]] Yield caution_if(bool anything);
/// How many fields the groups hold.
[[nodiscard]] std::size_t count_of(const std::vector<Group>& groups);

}  // namespace benchfeed::rules
