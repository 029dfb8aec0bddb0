#pragma once
// Motors that are wired without a plug, and what the NEC's article on motors lets stand before them.
#include <optional>

#include <benchfeed/network/protection.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// Current that the table of motors gives for the rated horsepower of a load; nothing: none is printed.
///
/// Source  NEC Table 430.248, Table 430.250.
[[nodiscard]] std::optional<tables::Figure<Current>> motor_table_amps(const Situation& s, Index load);
/// Rated horsepower; a peak says nothing about the current.
[[nodiscard]] std::optional<Power> rated_horsepower(const plan::Load& load);

/// The one load at which a cable ends, wired all the way: through isolators, boxes and devices from which
/// nothing else branches off. Nowhere: an outlet or a plug stands in the way, or more than one load.
[[nodiscard]] Index one_load_behind(const Situation& s, Index element);

/// The largest device that may stand before a motor against short circuits: a share of its current, and the
/// next standard rating up.
///
/// Source  NEC 430.52(C)(1) with exception 1, 240.6(A).
struct MotorDevice {
    Current most{};
    Ratio share{};
    bool by_plate = false;  ///< no horsepower: its plate stands in for the table, which gives no less
    std::optional<tables::Citation> source;
};
/// Nothing: neither horsepower nor amps are known.
[[nodiscard]] std::optional<MotorDevice> largest_motor_device(const Situation& s, Index load,
                                                              const network::Guard& guard);

}  // namespace benchfeed::rules
