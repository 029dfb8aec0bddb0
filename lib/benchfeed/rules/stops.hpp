#pragma once
// What an emergency stop opens, and what a control circuit hangs on.
#include <optional>
#include <string_view>
#include <vector>

#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

/// An emergency stop and what it opens when it is pressed.
struct Stop {
    Index element = plan::nowhere;
    std::vector<Index>
        opens;          ///< contactors that it drops out; itself where its own contacts carry the power
    bool known = true;  ///< false: nobody says which contactors it drops out
};

/// Every emergency stop of the plan, in its order.
[[nodiscard]] std::vector<Stop> emergency_stops(const Situation& s);
/// True when an element loses supply while the stop is pressed.
[[nodiscard]] bool acts_on(const Situation& s, const Stop& stop, Index element);
/// Something can run behind what it opens.
[[nodiscard]] bool opens_something(const Situation& s, const Stop& stop);
/// Loads that lose supply while the stop is pressed, in the order of the plan.
[[nodiscard]] std::vector<Index> stopped_by(const Situation& s, const Stop& stop);

/// The switch stands in a coil's circuit: its cable carries the coil's current alone.
[[nodiscard]] bool in_control_circuit(const plan::Switch& sw);

/// The cable of an element carries the current of coils alone: that of a switch in a control circuit, or of a
/// box or control fuse behind which only such switches hang. A lamp, an outlet or another load behind it
/// makes it an ordinary circuit. Pre: it has a cable.
[[nodiscard]] bool carries_coils_alone(const Situation& s, Index element);

/// A control fuse where the control circuit leaves; nothing for a cable that carries more than coils.
[[nodiscard]] std::optional<Remedy> control_fuse(const Situation& s, Index element);

/// Where the coil of a contactor or release hangs.
enum class Seat : std::uint8_t {
    line_to_neutral,
    line_to_line,
    too_low,   ///< it is made for less than is there: a transformer feeds it, or it is the wrong coil
    too_high,  ///< it is made for more than is there
};
/// The coil of a contactor, a no-volt switch or a portable residual device with undervoltage release.
struct Coil {
    Seat seat = Seat::line_to_neutral;
    Voltage there{};                   ///< nominal volts at its seat; of a coil that fits none, the nearest
    Voltage made_for{};                ///< its mark; where nobody wrote it, the same as `there`
    std::vector<network::Pair> pairs;  ///< conductors between which it may hang
    tables::Figure<Ratio> hold;        ///< share below which it may let go
};
/// Nothing for an element that has no coil.
[[nodiscard]] std::optional<Coil> coil_of(const Situation& s, Index element);

}  // namespace benchfeed::rules
