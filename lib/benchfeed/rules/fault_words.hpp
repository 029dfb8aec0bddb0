#pragma once
// Worked lines of a fault loop, and the questions that one leaves open.
#include <optional>
#include <string>

#include <benchfeed/network/fault.hpp>
#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// Worked: what lies before the panel (or a reading), each run there and back, and |Z|. Pre: the loop is
/// known.
Value explain_fault_loop(Working& working, const Situation& s, Index element, network::Return back,
                         network::Extreme extreme);

/// Worked: the highest current where the cable of an element starts. Pre: it is known, the element is no
/// supply.
Value explain_most_current(Working& working, const Situation& s, Index element);

/// Worked: the current that opens a device, from its rating or from the table that prints its longest loop.
Value explain_opening(Working& working, const network::Guard& guard, const network::Opening& opening);

/// Question for what keeps a loop from being known: the source, or a run.
[[nodiscard]] Explanation ask_for_loop(const Situation& s, const Outcome& o, Index element,
                                       network::Return back);

/// Section and k of the weaker of live and protective core of the cable that feeds an element.
struct WeakestCore {
    tables::Figure<AdiabaticFactor> k;
    Area section{};
    JouleIntegral energy{};
    bool protective = false;
};
/// The row that gives the k of a cable's construction and that its table does not have.
[[nodiscard]] std::optional<tables::Missing> missing_k(const Situation& s, Index element);
[[nodiscard]] std::optional<WeakestCore> weakest_core(const Situation& s, Index element);
/// Worked: (k S)^2 of that core.
Value explain_withstand(Working& working, const WeakestCore& core);

/// Cables of the bench that have a core whose heating is judged: those of the house are as found.
[[nodiscard]] bool fault_heat_is_judged(const Situation& s, Index element);

}  // namespace benchfeed::rules
