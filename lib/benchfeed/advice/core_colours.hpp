#pragma once
// Colours of the cores of a cable, by its kind and by how many it has.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::advice {

/// The cores of a stock as they look.
struct CoreColours {
    std::vector<std::string> live;       ///< "brown", "blue"; "core 1" where cores are numbered
    std::optional<std::size_t> neutral;  ///< which of them has the colour of the neutral
    std::string line_colour;             ///< what a core used as a line is marked with
    std::string neutral_colour;          ///< what a core used as the neutral is marked with
    std::string protective;              ///< "green-yellow"
    bool marked_feeds = false;  ///< the neutral's colour, used as a line, leads to a switch and never back
};

/// Source  table core-colours, the protective core by iec-60445-colours; a colour is a claim, never proof.
[[nodiscard]] CoreColours core_colours(const rules::Situation& situation, const plan::Stock& stock);

}  // namespace benchfeed::advice
