#pragma once
// What a reading of the plan is held against, and which readings still count.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/plan/found.hpp>
#include <benchfeed/rules/readings.hpp>

namespace benchfeed::rules {

/// What a meter is expected to show where a reading was made, as the sheet prints it.
struct Held {
    Measure expected;       ///< none: not known, or there is no such figure
    Measure stop;           ///< beyond it something is wrong
    Measure doubt;          ///< beyond it, short of `stop`, it may be
    Measure low;            ///< below it something else is wrong
    Measure floor;          ///< below it something is wrong, beside `stop` above
    bool least = false;     ///< `stop` is the least that it may be
    bool open = false;      ///< a release on the way is open while the bench is dead: nothing is joined there
    bool fed = false;       ///< the plan has a measured value of this very place: it feeds the calculation
    std::string none = {};  ///< why nothing is compared with it at all
    std::optional<tables::Missing> missing = {};  ///< a row for want of which nobody knows
    std::vector<tables::Citation> sources = {};
};

/// By the test of a reading and its place.
///
///     loop               what the sheet expects; conductors warm: the loop that still opens in time
///     link, neutral      R out and back + 0.1 ohm; behind a release: open
///     ramp               I_dn at most, I_dn / 2 at least; class A: 6 mA and 4 mA
///     volts              volt_readings.hpp; rotation as marked
///     as printed         ohms to 0.01 ohm, volts to two digits or whole: nobody is held to
///     what no sheet shows
///
/// The wiring of a house is as found: there a loop is compared, and nothing else.
[[nodiscard]] Held held_against(const Situation& situation, const plan::MeterReading& reading);

/// How a reading compares.
enum class Standing : std::uint8_t {
    within,
    beyond,       ///< past the value at which somebody stops
    beneath,      ///< below the least that it may be
    doubtful,     ///< past the value from which on it may be too much when warm
    higher,       ///< more than the plan's own figures make
    lower,        ///< less than the conductors alone have
    early,        ///< a residual device that opens too soon
    short_range,  ///< "> 1 ohm": the range of the meter ends on the wrong side
    not_said      ///< the plan does not say enough to expect anything
};
/// Less and more than expected count from a fifth and 0.1 ohm on (table thresholds).
[[nodiscard]] Standing standing(const Situation& situation, const Held& held, const plan::Found& found,
                                const plan::MeterReading& reading);

/// @{ Readings that count, in the order of the file: an older one of the same test at the same place is
/// history.
[[nodiscard]] std::vector<const plan::MeterReading*> latest_of(
    std::vector<const plan::MeterReading*> readings);
[[nodiscard]] std::vector<const plan::MeterReading*> latest_readings(const plan::Plan& plan);
/// @}

/// Readings that nothing is compared with, and why: "insulation at the saw outlet".
struct NotHeld {
    std::string what, why;
};
[[nodiscard]] std::vector<NotHeld> not_held(const Situation& situation);

/// "protective conductor": a test in words.
[[nodiscard]] std::string_view words(plan::Test test);
/// Where a reading was made: "the saw outlet".
[[nodiscard]] std::string place_words(const Situation& situation, const plan::MeterReading& reading);
/// As a meter shows it: "0.93 ohm", "1 Mohm", "0.3 s".
[[nodiscard]] std::string shown(const Measure& measure);

}  // namespace benchfeed::rules
