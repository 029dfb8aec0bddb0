#include "rules/fault_words.hpp"

#include <fmt/format.h>

#include <vector>

#include "base/quantity_text.hpp"
#include "network/adiabatic.hpp"
#include "network/ampacity.hpp"
#include "network/conductor.hpp"
#include "rules/overload.hpp"
#include "rules/support.hpp"

namespace benchfeed::rules {

using network::Branch;
using network::Extreme;
using network::Loop;
using network::Return;

namespace {

std::string times(double passes) {
    return passes == 1 ? "" : fmt::format("{:g} * ", passes);
}

double passes_of(const Branch& branch, Return back) {
    return in(unit::one, back == Return::neutral ? branch.passes[static_cast<std::size_t>(plan::Conductor::n)]
                                                 : branch.protective_passes);
}

/// One run there and back: (R'_line + R'_return) * warming * L.
struct RunLines {
    std::vector<Value> resistances, reactances;
};

void explain_run(Working& working, const Situation& s, Index at, Return back, Extreme extreme,
                 RunLines& lines) {
    const Branch& branch = s.network.branches[at];
    if (!(branch.length_most > Length{})) return;
    const double there =
                     in(unit::one, branch.passes[0] > branch.passes[1] ? branch.passes[0] : branch.passes[1]),
                 again = passes_of(branch, back);
    if (there + again <= 0) return;
    const std::string name = s.plan[at].name;
    const bool cold = extreme == Extreme::most;
    const Length length = cold ? branch.length : branch.length_most;
    const Value metres = working.written(digits(in(unit::metre, length), 4) + " m");
    const plan::Stock* stock = s.plan[at].cable && s.plan[at].cable->stock_index != plan::nowhere
                                   ? &s.plan.stocks[s.plan[at].cable->stock_index]
                                   : nullptr;
    const auto line = stock ? network::conductor_data(s.tables, s.practice().family, *stock) : std::nullopt;
    const auto core = !stock || back == Return::neutral
                          ? line
                          : network::protective_data(s.tables, s.practice().family, *stock);
    if (!line || (!core && again > 0)) {  // a run that nobody gave: what the network took for it
        const auto ohms = [&](const network::Core& c) { return cold ? c.cold : c.hot; };
        const auto both =
            in(unit::ohm_per_kilometre, ohms(branch.line)) * there +
            in(unit::ohm_per_kilometre,
               ohms(back == Return::neutral || !branch.protective ? branch.line : *branch.protective)) *
                again;
        lines.resistances.push_back(working.add("R_" + name, "R' there and back * L", "{} * {}",
                                                {working.computed(both, "ohm/km"), metres}, "ohm"));
        return;
    }
    std::string pattern = "(" + times(there) + "{}";
    std::vector<Value> operands{working.written(line->table.written)};
    if (again > 0) {
        pattern += " + " + times(again) + "{}";
        operands.push_back(working.written(core->table.written));
    }
    pattern += ")";
    std::string formula = "(R'_line + R'_return)";
    std::vector<std::string> sources{network::cited(line->table.source)};
    if (!cold && line->temperature > line->table_temperature) {
        pattern += " * (1 + {} * ({} - {}))";
        formula += " * (1 + alpha * (theta - 20 degC))";
        const std::string alpha = line->alpha.written.substr(0, line->alpha.written.find(' ')) + " /K";
        operands.insert(operands.end(), {working.written(alpha), working.written(to_text(line->temperature)),
                                         working.written(to_text(line->table_temperature))});
        sources.push_back(network::cited(line->alpha.source));
    }
    operands.push_back(metres);
    lines.resistances.push_back(
        working.add("R_" + name, formula + " * L", pattern + " * {}", operands, "ohm", sources));
    if (line->reactance)
        lines.reactances.push_back(working.add("X_" + name, fmt::format("{:g} * X' * L", there + again),
                                               fmt::format("{:g} * {{}} * {{}}", there + again),
                                               {working.written(line->reactance->written), metres}, "ohm",
                                               {network::cited(line->reactance->source)}));
}

std::string joined(const std::vector<Value>& values) {
    std::string pattern;
    for (std::size_t i = 0; i < values.size(); ++i) pattern += i == 0 ? "{}" : " + {}";
    return pattern;
}

}  // namespace

Value explain_fault_loop(Working& working, const Situation& s, Index element, Return back, Extreme extreme) {
    const Loop loop = network::fault_loop(s.plan, s.tables, s.network, element, back, extreme);
    RunLines lines;
    if (loop.read_at != plan::nowhere)
        lines.resistances.push_back(working.computed(in(unit::ohm, loop.read), "ohm"));
    else if (loop.source)
        lines.resistances.push_back(working.written(to_text(*loop.source, 6)));
    bool after = loop.read_at == plan::nowhere;
    for (const Index at : s.plan.path_to(element)) {
        if (after) explain_run(working, s, at, back, extreme, lines);
        after = after || at == loop.read_at;
    }
    std::vector<Value> operands = lines.resistances;
    std::string pattern = joined(lines.resistances);
    if (!lines.reactances.empty()) {
        pattern = "sqrt((" + pattern + ") ^ 2 + (" + joined(lines.reactances) + ") ^ 2)";
        operands.insert(operands.end(), lines.reactances.begin(), lines.reactances.end());
    }
    return working.add(back == Return::neutral ? "Z_LN" : "Zs",
                       lines.reactances.empty() ? "sum of R" : "sqrt((sum of R)^2 + (sum of X)^2)", pattern,
                       operands, "ohm");
}

Explanation ask_for_loop(const Situation& s, const Outcome& o, Index element, Return back) {
    const Loop loop = network::fault_loop(s.plan, s.tables, s.network, element, back, Extreme::least);
    const Index run = loop.missing != plan::nowhere ? loop.missing : loop.uncertain;
    if (run != plan::nowhere && (loop.source || loop.read_at != plan::nowhere)) {
        const plan::Element& at = s.plan[run];
        return ask_for_rating(s, o, at.cable ? cable_place(at) : at.header, at.path() + ".cable",
                              "How long is " + words(s, at_element(run), Part::cable) +
                                  ", and of what? The fault loop depends on it",
                              "a tape measure along its way; or a meter's loop impedance at the outlet");
    }
    const plan::Element& supply = s.plan[s.plan.supply_index_of(element)];
    const auto& what = *supply.as<plan::Supply>();
    const bool earth = back == Return::protective;
    return ask_for_rating(s, o, place_of(earth ? what.loop_impedance : what.line_impedance, supply),
                          supply.path() + (earth ? ".loop_impedance" : ".line_impedance"),
                          earth ? "What is the earth fault loop impedance at the panel?"
                                : "What is the line to neutral impedance at the panel?",
                          "an electrician's loop tester reads it in a minute; it stands in the test report");
}

std::optional<WeakestCore> weakest_core(const Situation& s, Index element) {
    const auto& cable = s.plan[element].cable;
    if (!cable || cable->stock_index == plan::nowhere) return std::nullopt;
    const plan::Stock& stock = s.plan.stocks[cable->stock_index];
    std::optional<WeakestCore> weakest;
    for (const bool protective : {false, true}) {
        const auto found = network::withstand(s.tables, stock, protective);
        if (found && (!weakest || found->energy < weakest->energy))
            weakest = WeakestCore{found->k, found->section, found->energy, protective};
    }
    return weakest;
}

Value explain_withstand(Working& working, const WeakestCore& core) {
    working.note("k in A s^0.5 / mm2 and S in mm2.");
    return working.add(
        "k^2 S^2", "(k * S)^2", "({} * {}) ^ 2 * 1 A2s",
        {working.written(core.k.written), working.written(digits(in(unit::mm2, core.section), 4))}, "A2s",
        {network::cited(core.k.source)});
}

bool fault_heat_is_judged(const Situation& s, Index element) {
    return cable_is_judged(s, element) && !s.network.house[element] && weakest_core(s, element).has_value();
}

}  // namespace benchfeed::rules
