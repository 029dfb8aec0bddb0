#include <benchfeed/rules/fault_words.hpp>

#include <fmt/format.h>

#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/cable_constructions.hpp>
#include <benchfeed/figures/iec_43a.hpp>
#include <benchfeed/network/adiabatic.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using network::Branch;
using network::Extreme;
using network::Loop;
using network::Return;

namespace {

std::string times(double passes) {
    return passes == 1 ? "" : fmt::format("{:g} * ", passes);
}

/// One run there and back: (R'_line + R'_return) * warming * L.
struct RunLines {
    std::vector<Value> resistances, reactances;
};

void explain_run(Working& working, const Situation& s, Index at, Index end, Return back, Extreme extreme,
                 RunLines& lines) {
    const Branch branch = network::run_to(s.network, at, end);
    if (!(branch.length_most > Length{})) return;
    const double there = in(unit::one, network::line_passes(branch)),
                 again = in(unit::one, network::return_passes(branch, back));
    if (there + again <= 0) return;
    const std::string name = s.plan[at].name;
    const bool cold = extreme == Extreme::most;
    const Length length = cold ? branch.length : branch.length_most;
    const Value metres = working.written(to_text(length, 4));
    const plan::Stock* stock = s.plan[at].cable && s.plan[at].cable->stock_index != plan::nowhere
                                   ? &s.plan.stocks[s.plan[at].cable->stock_index]
                                   : nullptr;
    const auto line = stock ? network::conductor_data(s.tables, s.practice().family, *stock) : std::nullopt;
    const auto core = !stock || back == Return::neutral
                          ? line
                          : network::protective_data(s.tables, s.practice().family, *stock);
    if (!line || (!core && again > 0)) {  // a run that nobody gave: what the network took for it
        const auto ohms = [&](const network::Core& c) { return cold ? c.least : c.hot; };
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
    const auto printed = [&](const network::ConductorData& data) {
        return working.written((cold ? data.plain : data.table).written);
    };
    std::vector<Value> operands{printed(*line)};
    if (again > 0) {
        pattern += " + " + times(again) + "{}";
        operands.push_back(printed(*core));
    }
    pattern += ")";
    std::string formula = "(R'_line + R'_return)";
    std::vector<std::string> sources{network::cited((cold ? line->plain : line->table).source)};
    if (!cold && line->temperature > line->table_temperature) {
        pattern += " * (1 + {} * ({} - {}))";
        formula += " * (1 + alpha * (theta - 20 degC))";
        const std::string alpha = tables::written_number(line->alpha) + " /K";
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

/// What lies before the panel: as stated, or U0 over the stated fault current where the most is asked for.
Value explain_source(Working& working, const Situation& s, Index element, Impedance source, Extreme extreme) {
    const auto& current = s.plan.supply_of(element).fault_current;
    const bool by_current =
        extreme == Extreme::most && current.known() &&
        !above(in(unit::ohm, Impedance(network::line_to_neutral(s.plan, element) / *current)),
               in(unit::ohm, source));
    if (!by_current) return working.written(to_text(source, 6));
    return working.add("Z_source", is_own_source(s, element) ? "U0 / I_source" : "U0 / I_panel", "{} / {}",
                       {working.written(to_text(network::line_to_neutral(s.plan, element), 6)),
                        working.written(to_text(*current, 6))},
                       "ohm");
}

/// The cable of an element has strands whose coating nobody knows.
bool coating_unknown(const Situation& s, Index at) {
    const auto& cable = s.plan[at].cable;
    const auto data =
        cable && cable->stock_index != plan::nowhere
            ? network::conductor_data(s.tables, s.practice().family, s.plan.stocks[cable->stock_index])
            : std::nullopt;
    return data && data->plain.value < data->table.value;
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
    std::vector<Value>& sources = loop.reactive ? lines.reactances : lines.resistances;
    if (loop.read_at != plan::nowhere)
        sources.push_back(working.computed(in(unit::ohm, loop.read), "ohm"));
    else if (loop.source)
        sources.push_back(explain_source(working, s, element, *loop.source, extreme));
    bool after = loop.read_at == plan::nowhere, coated = false;
    for (const Index at : s.plan.path_to(element)) {
        if (after) explain_run(working, s, at, element, back, extreme, lines);
        coated = coated || (after && coating_unknown(s, at));
        after = after || at == loop.read_at;
    }
    if (coated)
        working.note(extreme == Extreme::most ? "Strands of cords plain: tinned ones let less flow."
                                              : "Strands of cords tinned: plain ones let more flow.");
    const std::string symbol = back == Return::protective ? "Zs"
                               : back == Return::neutral  ? "Z_LN"
                                                          : "Z_line";
    if (lines.reactances.empty() || lines.resistances.empty()) {
        const bool real = lines.reactances.empty();
        const auto& parts = real ? lines.resistances : lines.reactances;
        return working.add(symbol, real ? "sum of R" : "Z_source", joined(parts), parts, "ohm");
    }
    std::vector<Value> operands = lines.resistances;
    operands.insert(operands.end(), lines.reactances.begin(), lines.reactances.end());
    return working.add(
        symbol,
        loop.reactive ? "sqrt((sum of R)^2 + (Z_source + sum of X)^2)" : "sqrt((sum of R)^2 + (sum of X)^2)",
        "sqrt((" + joined(lines.resistances) + ") ^ 2 + (" + joined(lines.reactances) + ") ^ 2)", operands,
        "ohm");
}

Value explain_most_current(Working& working, const Situation& s, Index element) {
    const Index above = s.plan[element].parent;
    const bool several = s.plan[element].conductors.value_or(plan::Conductors{}).lines() > 1;
    const Value z =
        explain_fault_loop(working, s, above, several ? Return::lines : Return::neutral, Extreme::most);
    return working.add("I_most", "U0 / Z", "{} / {}",
                       {working.written(to_text(network::line_to_neutral(s.plan, element), 6)), z}, "A");
}

Value explain_opening(Working& working, const network::Guard& guard, const network::Opening& opening) {
    const network::Origin& origin = opening.origin;
    const std::vector<std::string> sources{network::cited(opening.source)};
    if (origin.multiple)
        return working.add("Ia", "multiple * In", "{} * {}",
                           {working.written(tables::written_number(*origin.multiple)),
                            working.written(to_text(*guard.rating, 6))},
                           "A", sources);
    if (origin.loop && origin.cmin && origin.volts)
        return working.add("Ia", "Cmin * U0 / Zs of the table", "{} * {} / {}",
                           {working.written(tables::written_number(*origin.cmin)),
                            working.written(origin.volts->written), working.written(origin.loop->written)},
                           "A", sources);
    return working.written(to_text(opening.current, 6));
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
    if (is_own_source(s, element))
        return ask_for_rating(s, o, place_of(what.source, supply), supply.path() + ".source",
                              fmt::format("What opens a short circuit behind {}? Its fault current dies away "
                                          "before a breaker opens",
                                          source_place(s, element)),
                              "its manual: the largest breaker and cord for its outlets");
    return ask_for_rating(s, o, place_of(earth ? what.loop_impedance : what.line_impedance, supply),
                          supply.path() + (earth ? ".loop_impedance" : ".line_impedance"),
                          earth ? "What is the earth fault loop impedance at the panel?"
                                : "What is the line to neutral impedance at the panel?",
                          "an electrician's loop tester reads it in a minute; it stands in the test report");
}

std::optional<tables::Missing> missing_k(const Situation& s, Index element) {
    const auto& cable = s.plan[element].cable;
    if (!cable || cable->stock_index == plan::nowhere) return std::nullopt;
    const auto kind =
        figures::cable_constructions::at(s.tables, s.plan.stocks[cable->stock_index].type.value_or(""));
    if (!kind || kind->adiabatic().empty()) return std::nullopt;
    const auto k = figures::iec_43a::at(s.tables, kind->adiabatic());
    return k ? std::nullopt : std::optional(k.missing());
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
        {working.written(core.k.written), working.written(fmt::format("{:g}", in(unit::mm2, core.section)))},
        "A2s", {network::cited(core.k.source)});
}

bool fault_heat_is_judged(const Situation& s, Index element) {
    const auto* sw = s.plan[element].as<plan::Switch>();
    const bool control = sw && in_control_circuit(*sw) && s.plan[element].cable;
    return (control || cable_is_judged(s, element)) && !s.network.house[element] &&
           weakest_core(s, element).has_value();
}

}  // namespace benchfeed::rules
