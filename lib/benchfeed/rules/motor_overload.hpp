#pragma once
// Which motors owe protection against overload.
#include <benchfeed/base/worked.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

/// The rated power above which the region asks for it.
///
/// Source  the table that table regions names: IEC 60204-1 7.3.1, BS 7671 552.1.2, NEC 430.32(A).
[[nodiscard]] tables::Found<tables::Figure<Power>> motor_overload_above(const Situation& s);

/// All that decides whether a motor owes it.
struct MotorOwes {
    Known motor = Known::no;  ///< it has one
    Known large = Known::no;  ///< by the power at its shaft
    /// NEC: at any size, since it starts when nobody stands at it (430.32(B)) or is permanently installed
    /// (430.32(D)(1))
    Known any_size = Known::no;
    Known bare = Known::no;  ///< somebody wired it or fitted its plug: no machine as it is sold
    /// Whatever is not known.
    [[nodiscard]] bool surely() const {
        return motor == Known::yes && bare == Known::yes && (large == Known::yes || any_size == Known::yes);
    }
    /// It owes none, whatever is not known.
    [[nodiscard]] bool never() const {
        return motor == Known::no || bare == Known::no || (large == Known::no && any_size == Known::no);
    }
};
/// Power at the shaft against an edge:
///
///     P_out; hp 746 W; P_in eff; U I pf eff
///
/// Valid    what the plate does not print lies between the low end of its kind (table motor-kinds) and 1; an
///          edge between both ends is open, and so is one that no table of the region gives.
/// Omits    a peak horsepower, which says nothing.
[[nodiscard]] MotorOwes motor_owes(const Situation& s, Index load, std::optional<Power> edge);
/// A motor without a plug on a fixed bench, under the NEC.
[[nodiscard]] bool is_installed(const Situation& s, Index load);
/// The least power that the plate allows is above an edge.
[[nodiscard]] bool is_surely_large(const Situation& s, Index load, Power edge);
/// The worked comparison that shows it; nothing where it is not so.
void explain_power(const Situation& s, Working& working, Index load, const tables::Figure<Power>& edge);

}  // namespace benchfeed::rules
