#include <benchfeed/rules/disconnection.hpp>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

std::optional<tables::Figure<Duration>> longest_time(const Situation& s, Index element) {
    const tables::Table* table = s.tables.table("iec-41-1");
    if (!table) return std::nullopt;
    const double volts = in(unit::volt, network::line_to_neutral(s.plan, element));
    const auto row = table->row_in_range("u0_over", "u0_to", volts);
    const bool tt = s.plan.supply_of(element).earthing.is(plan::Earthing::tt);
    return row ? table->duration(*row, std::string_view(tt ? "tt_ac" : "tn_ac")) : std::nullopt;
}

std::optional<ResidualDevice> residual_above(const Situation& s, Index element) {
    std::optional<ResidualDevice> best;
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* device = s.plan[up].as<plan::Device>();
        if (!device || !device->residual) continue;
        const auto trip = device->residual->trip.value;
        if (!best || (trip && (!best->trip || *trip < *best->trip))) best = ResidualDevice{up, trip};
    }
    return best;
}

std::optional<tables::Figure<Voltage>> touch_voltage(const Situation& s) {
    const tables::Table* table = s.tables.table("iec-411-5-3");
    return table ? table->voltage("touch_voltage") : std::nullopt;
}
std::optional<tables::Figure<Impedance>> stable_electrode(const Situation& s) {
    const tables::Table* table = s.tables.table("iec-411-5-3");
    return table ? table->impedance("stable_electrode") : std::nullopt;
}

LoopSearch allowed_loop(const Situation& s, Index element) {
    LoopSearch search;
    const auto time = longest_time(s, element);
    const tables::Table* condition = s.tables.table("iec-411-4-4");
    const auto cmin = condition ? condition->ratio("cmin") : std::nullopt;
    if (!time || !cmin) return search;
    for (const network::Guard& guard :
         network::guards_above(s.plan, s.tables, element, network::Place::whole)) {
        if (guard.known && !guard.short_circuit) continue;
        const auto opening = network::opens_within(s.plan, s.tables, guard, time->value);
        if (!opening) {
            search.undecided = guard.element;
            continue;
        }
        const Impedance loop =
            Impedance(cmin->value * network::line_to_neutral(s.plan, element) / opening->current);
        if (!search.best || loop > search.best->loop) search.best = AllowedLoop{loop, *opening, guard};
    }
    return search;
}

}  // namespace benchfeed::rules
