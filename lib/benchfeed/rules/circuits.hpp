#pragma once
// Amps by supply circuit: what hangs on different devices of a panel, or on different volts, flows in no one
// conductor and is never one figure.
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// The supply circuit of an element: the last device of the house on its way, else the first device, else the
/// supply itself. A residual current device that ends no overload is none.
[[nodiscard]] Index circuit_of(const Situation& s, Index element);

/// The plan has loads on more than one supply circuit.
[[nodiscard]] bool several_circuits(const Situation& s);

/// What some loads draw from one supply circuit, in the line that carries most.
struct CircuitAmps {
    Index at = plan::nowhere;  ///< a device, or the supply
    Current drawn{};
    std::optional<Current> rated;  ///< of the device, if it is known
    bool unknown_load = false;     ///< a load without a known current is not in it
};
/// One for each circuit that these loads hang on, the weakest first.
[[nodiscard]] std::vector<CircuitAmps> amps_by_circuit(const Situation& s, std::span<const Index> loads);
/// "12.3 A", or with several circuits in the plan "13 A of 20 A at device a, 1.33 A of 15 A at device b".
[[nodiscard]] std::string amps_words(const Situation& s, std::span<const Index> loads);

/// The element of a set that carries the greatest share of what it may, on one circuit.
struct WeakestOf {
    Index circuit = plan::nowhere;
    const Limit* limit = nullptr;
    Current drawn{}, rated{};  ///< as the limit counts them
    Current least{};           ///< drawn, with what nobody gave at its best
    Current plain{};           ///< what flows, before loads for hours are counted more than once
    bool unknown_load = false;
};
/// One for each circuit of a set with something that is rated, the weakest first; of a plan with one circuit
/// the set's weakest element.
[[nodiscard]] std::vector<WeakestOf> weakest_by_circuit(const Situation& s, const Judgement& judgement,
                                                        Index set);
/// "12.3 A of 16 A at the bench plug", "6.5 to 13 A of 16 A ..." where plates leave it open; amps that are
/// weighted say so and name what flows.
[[nodiscard]] std::string carried_words(const Situation& s, const WeakestOf& weakest);
/// The current through what a limit stands at, each load once: what flows, whatever the limit counts.
[[nodiscard]] Current plain_amps(const Situation& s, const Limit& limit, std::span<const Index> loads);

/// What keeps an essential rule about heat from a verdict on a set: the amps of a load, or a place on its
/// way. Empty where nothing does.
[[nodiscard]] std::string open_words(const Situation& s, const Judgement& judgement, Index set);

}  // namespace benchfeed::rules
