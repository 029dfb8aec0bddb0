#pragma once
// Plans with more than one supply: whether their neutrals are kept apart. What a generator or an inverter
// gives.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/worked.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

/// Something of the bench itself hangs below: a load that stands in a wall outlet by itself is not of it.
[[nodiscard]] bool feeds_the_bench(const Situation& s, Index supply);

/// A generator or an inverter: what holds for a public network does not hold for it.
[[nodiscard]] bool is_own_source(const Situation& s, Index element);
/// Where the current of an element comes from, as people point at it: "the panel", "the generator", "the
/// inverter".
[[nodiscard]] std::string source_place(const Situation& s, Index element);

/// Where its first device sits: "in the panel", "on the generator".
[[nodiscard]] std::string on_source(const Situation& s, Index element);
/// The neutral of a generator or an inverter is bonded to nothing: no residual device sees a first fault.
[[nodiscard]] bool is_floating(const Situation& s, Index element);

/// Where it is found how the neutral of a generator or an inverter stands.
inline constexpr std::string_view earthing_of_a_source =
    "its manual or plate: neutral floating is \"IT\", neutral bonded to the frame is \"TN-S\"";

/// What a generator or an inverter gives in each of its lines, and the plate it comes from.
struct SourceAmps {
    Current amps{};                    ///< of each line; of a power in W those at a power factor of 1
    std::optional<SourcePower> power;  ///< from which they follow; nothing: amps are printed
    Voltage volts{};                   ///< line to neutral
    int lines = 1;                     ///< that share the power
    /// The plate is in W: at a lower power factor it gives more amps, if its winding bears them.
    [[nodiscard]] bool active() const { return power && std::holds_alternative<Power>(*power); }
};
/// @{ For hours, printed amps before power; and while a motor starts. Nothing: not known.
[[nodiscard]] std::optional<SourceAmps> amps_for_hours(const Situation& s, Index supply);
[[nodiscard]] std::optional<SourceAmps> power_for_hours(const Situation& s, Index supply);
[[nodiscard]] std::optional<SourceAmps> amps_for_starts(const Situation& s, Index supply);
/// @}
/// Worked: the amps of a plate, at a power factor where that is below 1.
Value explain_source_amps(Working& working, const SourceAmps& source, Ratio power_factor = 1.0 * unit::one);
/// "2800 W", "3000 VA" or "12 A", as the plate has it.
[[nodiscard]] std::string plate_words(const SourceAmps& source);

/// Two supplies that both feed the bench, and whether the plan keeps them apart.
struct SupplyPair {
    Index first = plan::nowhere, second = plan::nowhere;  ///< as the plan has them
    Known separate = Known::open;                         ///< no: one of them lists others but not this one
};
[[nodiscard]] std::vector<SupplyPair> supply_pairs(const Situation& s);

}  // namespace benchfeed::rules
