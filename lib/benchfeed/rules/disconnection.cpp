#include <benchfeed/rules/disconnection.hpp>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/iec_411_4_4.hpp>
#include <benchfeed/figures/iec_411_5_3.hpp>
#include <benchfeed/figures/iec_41_1.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

tables::Found<tables::Figure<Duration>> longest_time(const Situation& s, Index element) {
    const bool tt = s.plan.supply_of(element).earthing.is(plan::Earthing::tt);
    return figures::iec_41_1::in_range(s.tables, network::line_to_neutral(s.plan, element))
        .then([&](const figures::iec_41_1::Row& row) { return tt ? row.tt_ac() : row.tn_ac(); });
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

tables::Figure<Voltage> touch_voltage(const Situation& s) {
    return figures::iec_411_5_3::touch_voltage(s.tables);
}
tables::Figure<Impedance> stable_electrode(const Situation& s) {
    return figures::iec_411_5_3::stable_electrode(s.tables);
}

LoopSearch allowed_loop(const Situation& s, Index element) {
    LoopSearch search;
    const auto time = longest_time(s, element);
    const auto cmin = figures::iec_411_4_4::cmin(s.tables);
    if (!time) {
        search.missing = time.missing();
        return search;
    }
    for (const network::Guard& guard :
         network::guards_above(s.plan, s.tables, element, network::Place::whole)) {
        if (guard.known && !guard.short_circuit) continue;
        const auto opening = network::opens_within(s.tables, guard, time->value);
        if (!opening) {
            search.undecided = guard.element;
            continue;
        }
        const Impedance loop =
            Impedance(cmin.value * network::line_to_neutral(s.plan, element) / opening->current);
        if (!search.best || loop > search.best->loop) search.best = AllowedLoop{loop, *opening, guard};
    }
    return search;
}

}  // namespace benchfeed::rules
