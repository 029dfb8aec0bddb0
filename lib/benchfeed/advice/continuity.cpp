#include <benchfeed/advice/continuity.hpp>
#include <benchfeed/rules/readings.hpp>

namespace benchfeed::advice {

Continuity::Continuity(const Schedule& schedule, const std::vector<Stand>& stands) {
    for (const Run& run : schedule.runs)
        for (const Core& core : run.cores) join(core.from, core.to);
    for (const Gate& gate : schedule.gates) {
        const bool stop = gate.b.point == Point::button_between, start = gate.b.point == Point::button_out;
        const Stand& stand = stands[gate.element];
        const bool on = stand.closed && gate.b.position == stand.position;
        if (stop ? on || !gate.stays_open : !start && on) join(gate.a, gate.b);
    }
}

std::size_t Continuity::group_of(const Terminal& terminal) const {
    std::size_t group = number_.at(terminal);
    while (above_[group] != group) group = above_[group];
    return group;
}

void Continuity::join(const Terminal& a, const Terminal& b) {
    for (const Terminal& terminal : {a, b})
        if (number_.try_emplace(terminal, above_.size()).second) above_.push_back(above_.size());
    above_[group_of(a)] = group_of(b);
}

bool Continuity::joined(const Terminal& a, const Terminal& b) const {
    if (a == b) return true;
    return number_.contains(a) && number_.contains(b) && group_of(a) == group_of(b);
}

std::vector<Stand> stands_when_dead(const plan::Plan& plan) {
    std::vector<Stand> stands;
    for (const plan::Element& e : plan.elements) {
        const auto* sw = e.as<plan::Switch>();
        const bool turns = sw && sw->changeover.is(true) && !e.children.empty();
        stands.push_back({!sw || !rules::open_when_dead(*sw), turns ? e.children.front() : plan::nowhere});
    }
    return stands;
}

}  // namespace benchfeed::advice
