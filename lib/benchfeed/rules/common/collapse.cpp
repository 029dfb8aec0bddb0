// volts.collapse: no voltage at which what runs can run. A motor under load takes its power whatever the
// volts.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/circuit.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::collapse {
namespace {

constexpr std::uint8_t stands = 0, falls = 1, load_unknown = 2, run_unknown = 3;

/// True where so little is lost that the loads are sure to find their volts.
///
///     d = max over loads of (sum of |Z_c| from the source to it) * (sum of I) / U  <=  1/5
///
/// Every load draws at most I U / U_load. Volts within r = d / (1 - r) of the nominal ones, r <= 0.28, then
/// stay within it from one sweep to the next, and differences shrink by d / (1 - r)^2 < 2/5: there is a
/// solution, and it is found. A load on three lines draws sqrt(3) / 1.5 of its amps per pair and line: twice
/// the amps are enough for it.
bool little_is_lost(const Situation& s, const plan::RunSet& set, Index supply, Impedance source,
                    network::Extent extent) {
    Impedance most{};
    Current sum{};
    for (const Index load : set.loads) {
        const Index position = s.network.load_of[load];
        if (position == plan::nowhere || !s.network.hangs_below(load, supply)) continue;
        Impedance here = 3.0 * source;
        for (const auto& z : network::impedance_to(s.plan, s.network, load, extent)) here += magnitude(z);
        most = std::max(most, here);
        const network::LoadPoint& point = s.network.loads[position];
        sum += network::pair_of(point.conductors) ? point.current : 2.0 * point.current;
    }
    const Voltage nominal =
        magnitude(network::nominal_voltage(s.plan.supply_of(supply), plan::Conductor::l1));
    return Voltage(most * sum) <= 0.2 * nominal;
}

bool settles(const Situation& s, const plan::RunSet& set, Index supply, network::Extent extent) {
    network::CircuitChoice choice;
    choice.carrying_only = true;
    choice.extent = extent;
    choice.source = network::line_source(s.plan, supply);
    choice.motors_keep_power = true;
    if (little_is_lost(s, set, supply, choice.source.value_or(Impedance{}), extent)) return true;
    const network::Circuit circuit =
        network::circuit_of(s.plan, s.network, supply, set.loads, choice).circuit;
    return !network::wants_more_than_passes(circuit) && network::solve(circuit).converged;
}

/// The loads of a set that this supply feeds.
std::vector<Index> loads_at(const Situation& s, const plan::RunSet& set, Index supply) {
    std::vector<Index> loads;
    for (const Index load : set.loads)
        if (s.network.hangs_below(load, supply) && s.network.load_of[load] != plan::nowhere)
            loads.push_back(load);
    return loads;
}

/// The load on the way to which most is lost, of equals the first by name: where a person would look first.
Index farthest(const Situation& s, const std::vector<Index>& loads) {
    Index worst = plan::nowhere;
    Impedance most{};
    for (const Index load : loads) {
        Impedance here{};
        for (const auto& z : network::impedance_to(s.plan, s.network, load)) here += magnitude(z);
        const bool alike = worst != plan::nowhere && !above(in(unit::ohm, here), in(unit::ohm, most)) &&
                           !above(in(unit::ohm, most), in(unit::ohm, here));
        if (worst == plan::nowhere || (alike ? s.plan[load].name < s.plan[worst].name : here > most)) {
            most = here;
            worst = load;
        }
    }
    return worst;
}

/// The first by name of which nobody knows the amps.
Index unknown_load(const Situation& s, const std::vector<Index>& loads) {
    Index first = plan::nowhere;
    for (const Index load : loads) {
        if (s.network.loads[s.network.load_of[load]].known()) continue;
        if (first == plan::nowhere || s.plan[load].name < s.plan[first].name) first = load;
    }
    return first;
}

std::optional<Outcome> judge_set(const Situation& s, Index set_index, Index supply) {
    const plan::RunSet& set = s.plan.sets[set_index];
    std::vector<Index> loads = loads_at(s, set, supply);
    if (loads.empty()) return std::nullopt;
    Outcome o;
    o.at = at_element(farthest(s, loads));
    o.set = set_index;
    o.basis = Basis::physics;
    if (!settles(s, set, supply, network::Extent::near_end)) {
        o.verdict = Verdict::fail;
        o.variant = falls;
        return o;
    }
    // A question stands where its answer is, whichever way is the longest and whichever set draws most.
    if (const Index load = unknown_load(s, loads); load != plan::nowhere) {
        o.at = at_element(load);
        o.set = no_set;
        o.verdict = Verdict::cannot_judge;
        o.variant = load_unknown;
        return o;
    }
    std::erase_if(loads, [&](Index load) { return !network::feed_is_unknown(s.plan, s.network, load); });
    if (!loads.empty() && !settles(s, set, supply, network::Extent::far_end)) {
        o.at = at_element(farthest(s, loads));
        o.verdict = Verdict::cannot_judge;
        o.variant = run_unknown;
    }
    return o;
}

/// Of sets about which the same is said at one load the first is told: the one that draws most, of equals the
/// first by the names of its loads.
std::vector<Index> largest_first(const Situation& s) {
    std::vector<std::tuple<double, std::vector<std::string>, Index>> order;
    for (Index set = 0; set < s.plan.sets.size(); ++set) {
        Current sum{};
        std::vector<std::string> names;
        for (const Index load : s.plan.sets[set].loads) {
            names.push_back(s.plan[load].name);
            if (const Index position = s.network.load_of[load]; position != plan::nowhere)
                sum += s.network.loads[position].current;
        }
        std::sort(names.begin(), names.end());
        // In steps of a microampere: a sum must not depend on the order in which it was added.
        order.emplace_back(-std::round(in(unit::ampere, sum) * 1e6), std::move(names), set);
    }
    std::sort(order.begin(), order.end());
    std::vector<Index> sets;
    for (const auto& one : order) sets.push_back(std::get<Index>(one));
    return sets;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index supply = 0; supply < s.plan.elements.size(); ++supply) {
        if (s.plan[supply].kind != plan::Kind::supply) continue;
        for (const Index set : largest_first(s))
            if (const auto outcome = judge_set(s, set, supply)) yield.outcomes.push_back(*outcome);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == load_unknown) return ask_for_plate(s, o, o.at.index);
    if (o.variant == run_unknown) {
        const Index run = network::unknown_branches(s.plan, s.network, o.at.index).front();
        return ask_for_rating(
            s, o, element.header, s.plan[run].path() + ".cable.length",
            "How long is the run whose length is not known? At its longest no tool would run",
            "a tape measure along its way");
    }
    Explanation e;
    e.place = {element.header, ""};
    if (o.variant == stands) {
        e.headline = set_words(s, o.set) + ": there is a voltage at which everything runs";
        return e;
    }
    e.headline = fmt::format("{}: there is no voltage at which {} can run together", set_words(s, o.set),
                             list(s, set_of(s.plan, o.set).loads));
    e.short_words = element.words() + " cannot run at the end of this cable";
    e.consequence =
        "The more the volts fall, the more current a motor pulls: it stalls, and the cable heats.";
    Impedance loop{};
    for (const auto& z : network::impedance_to(s.plan, s.network, o.at.index)) loop += magnitude(z);
    Working working;
    working.note(
        fmt::format("On the way to {} lie {}; half of the voltage would be lost there at the most "
                    "power that can pass it. Worked in the network, motors at constant power.",
                    element.words(), to_text(loop)));
    e.steps = working.finish();
    e.remedies = {{Cost::free, "run fewer tools at a time"},
                  {Cost::cheap, "a much shorter cable, or one of much larger section"}};
    return e;
}

}  // namespace

const Rule rule{.id = "volts.collapse",
                .title = "there is no voltage at which the tools can run",
                .harm = Harm::volts,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::all, More::helps},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::collapse
