#pragma once
// The connection schedule: which core of which cable ends at which terminal.
#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::advice {

using plan::Index;

/// A kind of place at which a conductor ends.
enum class Point : std::uint8_t {
    source,     ///< terminal of the supply
    pin,        ///< of the plug at the supply end of an element's feed
    inlet,      ///< of the coupler at which a loose lead ends
    bank,       ///< terminals of one potential in a box
    contact,    ///< of an outlet
    in,         ///< pole of a switch or a device, supply side
    out,        ///< the same, load side
    passing,    ///< a joint at a switch or a device, by which a conductor goes on unswitched
    returned,   ///< terminals for what comes back from a switch wired out and back; `element` is the switch
    coil,       ///< end of a coil, a lamp or electronics that no pole feeds
    coil_fed,   ///< end of a coil that the buttons feed
    holding,    ///< holding contact of a contactor
    button_in,  ///< line side of the stop button
    button_between,  ///< between stop and start
    button_out,      ///< load side of the start button
    stopped,         ///< terminals behind the contact of an emergency stop; `element` is the stop
    load,            ///< terminal of a load that is wired on
    metal,           ///< a metal part; `element` counts the plan's metal parts
};

/// One place at which a conductor ends.
struct Terminal {
    Point point = Point::bank;
    Index element = plan::nowhere;
    plan::Conductor conductor = plan::Conductor::l1;
    Index position = plan::nowhere;  ///< of a changeover switch: the element that this `out` feeds
    friend bool operator==(const Terminal&, const Terminal&) = default;
    /// Some order, for maps.
    friend bool operator<(const Terminal& a, const Terminal& b) {
        return std::tie(a.point, a.element, a.conductor, a.position) <
               std::tie(b.point, b.element, b.conductor, b.position);
    }
};
/// "terminal L of the junction box", "pin N of the plug", "L out of the saw switch".
[[nodiscard]] std::string words(const rules::Situation& s, const Terminal& terminal);
/// The same for somebody who stands there: "terminals L", "pin N", "L out".
[[nodiscard]] std::string words_there(const rules::Situation& s, const Terminal& terminal);
/// Where a terminal is: "the junction box", "the plug".
[[nodiscard]] std::string place_words(const rules::Situation& s, const Terminal& terminal);
/// "L", "L1", "N", "PE": L alone in a system of one line.
[[nodiscard]] std::string conductor_words(const rules::Situation& s, Index element, plan::Conductor c);

/// One conductor of a run: how it looks, what it does, between which terminals.
struct Core {
    std::string colour;  ///< "brown"; "core 3" where cores are numbered; "" of a link
    std::string marked;  ///< what both ends are to be marked as, where the colour says something else
    std::string means;   ///< "L", "L back from the saw switch", "N for its coil"
    Terminal from, to;
};

/// How an element's feed is made.
enum class Means : std::uint8_t {
    cable,     ///< of a stock of the plan
    link,      ///< mounted at the same place: short links of the builder
    own_cord,  ///< of a load that is wired on
    mated,     ///< plugged in: contacts that touch
};

/// All connections between two places.
struct Run {
    Index element = plan::nowhere;  ///< whose feed it is; of a bond nowhere
    Index from = plan::nowhere;     ///< element at which it starts
    Means means = Means::cable;
    std::vector<Core> cores;
    std::vector<std::string> spare;  ///< colours of cores with nothing to do
    std::string refused;             ///< why it cannot be connected; then there are no cores
};

/// A pair of terminals that a switch, a device or a button joins and opens.
struct Gate {
    Terminal a, b;
    Index element = plan::nowhere;
    bool stays_open = false;  ///< once it is pressed: an emergency stop
};

/// Terminals of one potential, and how many conductors end there.
struct Ways {
    Terminal terminal;
    Index box = plan::nowhere;
    int wires = 0;
};

/// Who is wired to whom.
struct Schedule {
    std::vector<Run> runs;  ///< parents before children; bonds of metal parts last
    std::vector<Gate> gates;
    std::vector<Ways> ways;               ///< of every box, in plan order
    [[nodiscard]] bool complete() const;  ///< nothing was refused
};

/// Core by core: everything of the plan that somebody wires, from the bench plug (or the supply of a fixed
/// bench) to the contacts of the outlets. What stands already and the inside of machines are left out.
///
/// Method  each conductor that arrives at an element is followed: switches open the poles that the plan gives
///         them, what they do not open passes by at a joint, a switch out and back sends its poles to the
///         terminals of the box where it starts, a contactor in the box is worked by the buttons at the end
///         of its cable, and those are fed through the contact of the emergency stop that drops it out.
/// Colours table core-colours; more cores than it knows are numbered. A colour is a claim: prove dead.
/// Refuses a cable with fewer cores than that takes, and a switch whose poles nobody knows.
[[nodiscard]] Schedule schedule(const rules::Situation& situation);

}  // namespace benchfeed::advice
