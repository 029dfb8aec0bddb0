#pragma once
// Words that nobody gave and for which something is assumed: the plan with each of them as it hurts least.
#include <cstdint>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/plan.hpp>

namespace benchfeed::plan {

/// Kinds of fact of which more than one value is plausible where a plan does not give it. What stands in the
/// plan itself is the value that hurts most; amps follow from plates (network::PlateEnd).
/// That a tool with a motor can catch a hand is no such fact: no tool is known that cannot.
enum class Fact : std::uint8_t {
    amps,              ///< of a plate that prints power alone
    latched,           ///< whether a tool's own switch stays on
    protection_class,  ///< I or II
    reel,              ///< wound or unwound
    overload,          ///< whether a motor has a protection of its own
    no_volt,           ///< whether a switch lets go when the volts fail
    snap               ///< whether a switch is a snap switch, of which the NEC asks less
};

/// A set of kinds of fact.
struct Facts {
    std::uint8_t mask = 0;
    /// This kind alone.
    [[nodiscard]] static Facts only(Fact fact) {
        return {static_cast<std::uint8_t>(1u << static_cast<unsigned>(fact))};
    }
    /// True when it is in the set.
    [[nodiscard]] bool has(Fact fact) const { return (mask & only(fact).mask) != 0; }
    /// True when nothing is in the set.
    [[nodiscard]] bool none() const { return mask == 0; }
    /// Those of this set that the other has not.
    [[nodiscard]] Facts without(Facts other) const { return {static_cast<std::uint8_t>(mask & ~other.mask)}; }
    /// Puts them into the set.
    void add(Facts other) { mask = static_cast<std::uint8_t>(mask | other.mask); }
    friend bool operator==(Facts, Facts) = default;
};
inline constexpr Fact all_facts[] = {
    Fact::amps, Fact::latched, Fact::protection_class, Fact::reel, Fact::overload, Fact::no_volt, Fact::snap};

/// Whether nobody gave this fact of this element. Never true of amps: a plan does not know them.
[[nodiscard]] bool is_open(const Element& element, Fact fact);
/// Kinds of which any element of the plan has an open one; without amps.
[[nodiscard]] Facts open_words(const Plan& plan);
/// The plan with every open fact of these kinds at the value that hurts least: a switch that springs back,
/// class II, a reel run out, a motor with a protection of its own that is reset by hand, a switch that lets
/// go, a snap switch.
[[nodiscard]] Plan at_best(Plan plan, Facts facts);

}  // namespace benchfeed::plan
