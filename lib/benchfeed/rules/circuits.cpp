#include <benchfeed/rules/circuits.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/limits_at.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

Index circuit_of(const Situation& s, Index element) {
    Index circuit = plan::nowhere, supply = element;
    for (Index at = element; at != plan::nowhere; at = s.plan[at].parent) {
        supply = at;
        const auto* device = s.plan[at].as<plan::Device>();
        if (!device || device->kind.is(plan::DeviceKind::residual_current_device)) continue;
        circuit = at;
        if (s.network.house[at]) return at;
    }
    return circuit == plan::nowhere ? supply : circuit;
}

bool several_circuits(const Situation& s) {
    const auto& loads = s.network.loads;
    return std::any_of(loads.begin(), loads.end(), [&](const network::LoadPoint& load) {
        return circuit_of(s, load.element) != circuit_of(s, loads.front().element);
    });
}

namespace {

bool known(const Situation& s, Index load) {
    return s.network.loads[s.network.load_of[load]].known();
}

double share(const CircuitAmps& amps) {
    if (!amps.rated) return 0;
    return amps.drawn / *amps.rated;
}

Limit all_through(Index element) {
    Limit limit;
    limit.at = at_element(element);
    limit.reach = {Reach::Kind::through, element};
    return limit;
}

}  // namespace

std::vector<CircuitAmps> amps_by_circuit(const Situation& s, std::span<const Index> loads) {
    std::vector<CircuitAmps> found;
    for (const Index load : loads) {
        const Index at = circuit_of(s, load);
        const auto same = std::find_if(found.begin(), found.end(), [&](const auto& c) { return c.at == at; });
        CircuitAmps& circuit = same == found.end() ? found.emplace_back() : *same;
        circuit.at = at;
        circuit.unknown_load = circuit.unknown_load || !known(s, load);
    }
    for (CircuitAmps& circuit : found) {
        circuit.drawn = std::get<Current>(evaluate(s, all_through(circuit.at), loads).value);
        if (const auto* device = s.plan[circuit.at].as<plan::Device>(); device && device->rating.known())
            circuit.rated = *device->rating;
    }
    std::sort(found.begin(), found.end(), [&](const CircuitAmps& a, const CircuitAmps& b) {
        if (above(share(a), share(b)) || above(share(b), share(a))) return share(a) > share(b);
        return s.plan[a.at].name < s.plan[b.at].name;
    });
    return found;
}

std::string amps_words(const Situation& s, std::span<const Index> loads) {
    const bool several = several_circuits(s);
    std::string out;
    for (const CircuitAmps& circuit : amps_by_circuit(s, loads)) {
        out += (out.empty() ? "" : ", ") + to_text(circuit.drawn);
        if (!several) continue;
        if (circuit.rated) out += " of " + to_text(*circuit.rated);
        out += " at " + s.plan[circuit.at].words();
    }
    return out;
}

Current plain_amps(const Situation& s, const Limit& limit, std::span<const Index> loads) {
    Limit plain = limit;
    plain.weight.hours_factor = 1.0 * unit::one;
    return std::get<Current>(evaluate(s, plain, loads).value);
}

namespace {

WeakestOf figures_of(const Situation& s, const Limit& limit, std::span<const Index> loads) {
    const Evaluated evaluated = evaluate(s, limit, loads);
    WeakestOf weakest;
    weakest.circuit = circuit_of(s, limit.at.index);
    weakest.limit = &limit;
    weakest.drawn = std::get<Current>(evaluated.value);
    weakest.least = s.best ? std::get<Current>(evaluate(*s.best, limit, loads).value) : weakest.drawn;
    weakest.rated = std::get<Current>(limit.edge);
    weakest.plain = plain_amps(s, limit, loads);
    weakest.unknown_load = evaluated.unknown != plan::nowhere;
    return weakest;
}

double share(const WeakestOf& weakest) {
    return weakest.drawn / weakest.rated;
}

/// It stands for its circuit: by a mark before a figure of habit, then by its share.
bool stands_before(const WeakestOf& one, const WeakestOf& other) {
    const bool habit = is_of_habit(*one.limit);
    return habit == is_of_habit(*other.limit) ? above(share(one), share(other)) : !habit;
}

}  // namespace

std::vector<WeakestOf> weakest_by_circuit(const Situation& s, const Judgement& judgement, Index set) {
    const std::size_t position = set == everything_set ? judgement.weakest.size() - 1 : set;
    const Index first = judgement.weakest[position].limit;
    const std::vector<Index>& loads = set_of(s.plan, set).loads;
    if (first == plan::nowhere) return {};
    std::vector<WeakestOf> found{figures_of(s, judgement.limits[first], loads)};
    if (!several_circuits(s)) return found;
    std::map<Index, bool> circuits;
    for (const Index load : loads) circuits[circuit_of(s, load)] = true;
    LoadsBelow below(s.network, loads);
    for (const Index i : LimitsAt(s.plan, judgement.limits).on_the_way_to(loads)) {
        const Limit& limit = judgement.limits[i];
        if (!rates_an_element(limit)) continue;
        const Index circuit = circuit_of(s, limit.at.index);
        if (!circuits.contains(circuit) || circuit == found.front().circuit) continue;
        const auto counting = below.that_count_for(limit);
        if (evaluate(s, limit, counting).loads.empty()) continue;
        const WeakestOf here = figures_of(s, limit, counting);
        const auto there = std::find_if(found.begin(), found.end(),
                                        [&](const WeakestOf& one) { return one.circuit == circuit; });
        if (there == found.end())
            found.push_back(here);
        else if (stands_before(here, *there))
            *there = here;
    }
    std::stable_sort(found.begin() + 1, found.end(),
                     [](const WeakestOf& a, const WeakestOf& b) { return share(a) > share(b); });
    return found;
}

std::string carried_words(const Situation& s, const WeakestOf& weakest) {
    std::string amps = range_text(weakest.least, weakest.drawn);
    if (above(weakest.drawn, weakest.plain))
        amps =
            fmt::format("{} (counted as {}: loads that run for hours x {})", to_text(weakest.plain),
                        to_text(weakest.drawn), digits(in(unit::one, weakest.limit->weight.hours_factor), 3));
    return fmt::format("{}{} of {}{} at {}", weakest.unknown_load ? "at least " : "", amps,
                       to_text(weakest.rated), weakest.limit->weight.motors_only ? " for motors" : "",
                       words(s, weakest.limit->at, weakest.limit->part));
}

std::string open_words(const Situation& s, const Judgement& judgement, Index set) {
    const std::vector<Index>& loads = set_of(s.plan, set).loads;
    std::vector<Index> unknown;
    std::copy_if(loads.begin(), loads.end(), std::back_inserter(unknown),
                 [&](Index load) { return !known(s, load); });
    if (!unknown.empty()) return "the amps of " + list(s, unknown) + " are not known";
    for (const Outcome& o : judgement.outcomes) {
        if (o.verdict != Verdict::cannot_judge || o.at.kind != At::Kind::element) continue;
        const Rule& rule = registry()[o.rule];
        if (!rule.essential || rule.harm != Harm::heat || (o.set != no_set && o.set != set)) continue;
        if (std::any_of(loads.begin(), loads.end(),
                        [&](Index load) { return s.network.hangs_below(load, o.at.index); }))
            return fmt::format("{} could not be judged ({})", words(s, o.at, o.part), rule.id);
    }
    return "";
}

}  // namespace benchfeed::rules
