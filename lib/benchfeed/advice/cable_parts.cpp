// Cable to buy: what is cut for each run, and from which sold lengths.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/advice/part_lists.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::advice {

using rules::Situation;

namespace {

/// Rounded up to a centimetre, or to a tenth of a foot.
Length rounded_up(const Situation& s, Length length) {
    const Length grain = s.nec() ? 0.1 * unit::foot : 0.01 * unit::metre;
    return std::ceil(in(grain, length) - 1e-6) * grain;
}

bool in_a_moving_carcass(const Situation& s, Index i) {
    return s.plan.head.mounting.is(plan::Mounting::mobile) && s.plan[i].cable->route.is(plan::Route::carcass);
}

Cut cut_for(const Situation& s, Index i, const Allowances& allowances) {
    const plan::Cable& cable = *s.plan[i].cable;
    Cut cut;
    cut.element = i;
    if (!cable.length.known()) return cut;
    cut.length = *cable.length;
    const bool loop = in_a_moving_carcass(s, i) && allowances.service_loop.value > Length{};
    Length sum = *cable.length + 2.0 * allowances.free_end.value + allowances.bends.value;
    std::string formula = "(length + 2 * free end + bends",
                numbers = fmt::format("({} + 2 * {} + {}", rules::length_words(s, *cable.length),
                                      allowances.free_end.written, allowances.bends.written);
    if (loop) {
        sum += allowances.service_loop.value;
        formula += " + service loop";
        numbers += " + " + allowances.service_loop.written;
    }
    const Length whole = sum * (1.0 + in(unit::one, allowances.waste.value));
    cut.cut = rounded_up(s, whole);
    cut.steps.push_back({"cut",
                         formula + ") * (1 + waste)",
                         fmt::format("{}) * (1 + {})", numbers, allowances.waste.written),
                         rules::length_words(s, whole),
                         {},
                         ""});
    return cut;
}

struct CoreOf {
    std::string name;
    Section section;
};

/// Conductors for which single cores are pulled. Those that the feed does not use by name are "further".
std::vector<CoreOf> single_cores(const Situation& s, Index i, const plan::Stock& stock) {
    using plan::Conductor;
    std::vector<CoreOf> cores;
    const auto conductors = s.plan[i].conductors.value_or(plan::Conductors{});
    const bool one_line = s.plan.supply_of(i).system.is(plan::System::v230) ||
                          s.plan.supply_of(i).system.is(plan::System::v240) ||
                          s.plan.supply_of(i).system.is(plan::System::v120);
    const bool protective = !stock.protective.is(false);
    const auto live = static_cast<std::size_t>(std::max(0, stock.cores.value_or(0) - (protective ? 1 : 0)));
    constexpr std::string_view names[] = {"L1", "L2", "L3", "N"};
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (conductors.has(c) && cores.size() < live)
            cores.push_back(
                {std::string(one_line && c == Conductor::l1 ? "L" : names[static_cast<std::size_t>(c)]),
                 *stock.section});
    while (cores.size() < live) cores.push_back({"further", *stock.section});
    if (protective)
        cores.push_back(
            {"protective", stock.protective_section.known() ? *stock.protective_section : *stock.section});
    return cores;
}

bool is_single_cores(const Situation& s, const plan::Stock& stock) {
    const tables::Table* table = s.tables.table("cable-constructions");
    const auto row = rules::construction_row(s, stock);
    return table && row && table->flag(*row, "single_cores").value_or(false);
}

CableLine& line_for(std::vector<CableLine>& lines, Index stock, const std::string& core, int cores,
                    const Section& section) {
    const auto it = std::find_if(lines.begin(), lines.end(),
                                 [&](const CableLine& l) { return l.stock == stock && l.core == core; });
    if (it != lines.end()) return *it;
    CableLine line;
    line.stock = stock;
    line.core = core;
    line.cores = cores;
    line.section = section;
    lines.push_back(std::move(line));
    return lines.back();
}

void finish(const Situation& s, CableLine& line, const SoldLengths* sold) {
    std::vector<Length> pieces;
    for (std::size_t i = 0; i < line.cuts.size(); ++i) {
        if (!line.cuts[i].cut) {
            ++line.unmeasured;
            continue;
        }
        line.total += *line.cuts[i].cut;
        if (!(*line.cuts[i].cut > Length{})) continue;  // "0 m" in the plan, and no allowance
        line.pieces.push_back(i);
        pieces.push_back(*line.cuts[i].cut);
    }
    if (!sold) return;
    line.sold = sold->lengths_of(s.plan.stocks[line.stock].type.value_or(""), line.cores, line.section);
    if (!line.sold.empty() && !pieces.empty()) line.packs = cut_from(pieces, line.sold);
}

}  // namespace

std::vector<CableLine> cable_lines(const Situation& s, const Allowances& allowances,
                                   const SoldLengths* sold) {
    std::vector<CableLine> lines;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!cable_is_bought(s, i)) continue;
        const Index index = s.plan[i].cable->stock_index;
        const plan::Stock& stock = s.plan.stocks[index];
        const Cut cut = cut_for(s, i, allowances);
        if (!is_single_cores(s, stock)) {
            line_for(lines, index, "", stock.cores.value_or(0), *stock.section).cuts.push_back(cut);
            continue;
        }
        for (const CoreOf& core : single_cores(s, i, stock))
            line_for(lines, index, core.name, 1, core.section).cuts.push_back(cut);
    }
    for (CableLine& line : lines) finish(s, line, sold);
    return lines;
}

}  // namespace benchfeed::advice
