#include <benchfeed/advice/stop_circuits.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/stops.hpp>

namespace benchfeed::advice {

using rules::Situation;

namespace {

bool has_buttons(const Situation& s, Index i) {
    const auto* sw = s.plan[i].as<plan::Switch>();
    return sw && rules::in_control_circuit(*sw) && !sw->kind.is(plan::SwitchKind::emergency_stop);
}

/// Why no core of the stop leads to a coil; nothing where one does.
std::string fault_of(const Situation& s, Index stop, Index coil) {
    if (!has_buttons(s, coil))
        return fmt::format(
            "its contact belongs into the line of the coil of {}, which is inside: the maker's drawing says "
            "where, and the plan has no cores there",
            s.plan[coil].words());
    if (rules::starts_at(s, coil) != rules::starts_at(s, stop))
        return fmt::format(
            "its contact belongs into the line of the coil of {}, which starts at {}: the plan has no cores "
            "from there",
            s.plan[coil].words(), s.plan[rules::starts_at(s, coil)].words());
    return "";
}

}  // namespace

std::vector<StopCircuit> stop_circuits(const Situation& s) {
    std::vector<StopCircuit> all;
    for (const rules::Stop& stop : rules::emergency_stops(s)) {
        const bool contact_alone =
            stop.known && !stop.opens.empty() &&
            std::find(stop.opens.begin(), stop.opens.end(), stop.element) == stop.opens.end();
        if (!contact_alone) continue;
        StopCircuit circuit{stop.element, stop.opens, ""};
        for (const Index coil : circuit.coils)
            if (circuit.refused.empty()) circuit.refused = fault_of(s, stop.element, coil);
        all.push_back(std::move(circuit));
    }
    const auto coils_of = [](const StopCircuit& c) {
        return std::set<Index>(c.coils.begin(), c.coils.end());
    };
    for (StopCircuit& circuit : all)
        for (const StopCircuit& other : all) {
            const auto mine = coils_of(circuit), theirs = coils_of(other);
            const bool shared =
                std::any_of(mine.begin(), mine.end(), [&](Index coil) { return theirs.contains(coil); });
            if (shared && mine != theirs && circuit.refused.empty())
                circuit.refused = fmt::format(
                    "{} drops out some of the same contactors and not others: each coil needs a "
                    "contact of each stop, which the plan does not have",
                    s.plan[other.stop].words());
        }
    return all;
}

const StopCircuit* stop_at(const std::vector<StopCircuit>& circuits, Index element) {
    const auto it = std::find_if(circuits.begin(), circuits.end(),
                                 [&](const StopCircuit& c) { return c.stop == element; });
    return it == circuits.end() ? nullptr : &*it;
}

Index stop_before(const std::vector<StopCircuit>& circuits, Index element) {
    const StopCircuit* own = stop_at(circuits, element);
    const Index coil = own ? own->coils.front() : element;
    Index before = plan::nowhere;
    for (const StopCircuit& c : circuits) {
        if (&c == own) break;
        const bool drops = std::find(c.coils.begin(), c.coils.end(), coil) != c.coils.end();
        if (c.refused.empty() && drops) before = c.stop;
    }
    return before;
}

}  // namespace benchfeed::advice
