#include <benchfeed/rules/device_demand.hpp>

#include <benchfeed/figures/bs_1363_cord.hpp>
#include <benchfeed/figures/bs_3036.hpp>
#include <benchfeed/figures/bs_433_1_204.hpp>
#include <benchfeed/figures/iec_60269_gg.hpp>
#include <benchfeed/figures/iec_60364_4_43_433.hpp>
#include <benchfeed/figures/nec_240_4_d.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using network::Ampacity;
using network::Guard;
using CableRule = electrical::Functions::CableRule;

namespace {

Demand unread() {
    Demand demand;
    demand.unread = true;
    return demand;
}

/// gG: In <= 1.45 / k2 * Iz, k2 = fusing current over rated current in the row of the rating.
Demand gg_demand(const Situation& s, Current rating) {
    using Of = figures::iec_60269_gg;
    const auto row = Of::in_range(s.tables, rating);
    Demand demand;
    const auto rows = Of::rows(s.tables);
    if (!row && rows.size() > 0 && rating < (*rows.begin()).in_from().value)
        return demand;  // below the first row: at most the ampacity, as of any device
    if (!row) return unread();
    const auto factor = figures::iec_60364_4_43_433::overload_factor(s.tables);
    demand.band = factor.value / row->fusing().value;
    demand.source = row->fusing().source;
    return demand;
}

/// BS 1363-1: the largest fuse for a cord of this section.
Demand plug_fuse_demand(const Situation& s, Index i) {
    using Of = figures::bs_1363_cord;
    Demand demand;
    const plan::Cable& cable = *s.plan[i].cable;
    if (cable.stock_index == plan::nowhere) return demand;
    const auto& section = s.plan.stocks[cable.stock_index].section;
    if (!section.known()) return demand;
    const auto exact = Of::at(s.tables, *section);
    const auto row = exact ? exact : Of::below(s.tables, *section);
    if (!row) return unread();
    demand.printed_limit = row->max_fuse().value;
    demand.by_row_alone = true;
    demand.source = row->max_fuse().source;
    return demand;
}

/// NEC 240.4(D): the largest device on a small conductor of fixed wiring, whatever its ampacity.
Demand nec_demand(const Situation& s, Index i, bool cord) {
    Demand demand;
    const plan::Cable& cable = *s.plan[i].cable;
    if (cord || cable.stock_index == plan::nowhere) return demand;
    const plan::Stock& stock = s.plan.stocks[cable.stock_index];
    using Of = figures::nec_240_4_d;
    if (!stock.section.known()) return demand;
    for (const Of::Row row : Of::rows(s.tables)) {
        const bool copper = row.material() == Of::Material::cu;
        if (row.size().value != *stock.section || copper != stock.conductor.is(plan::Metal::copper)) continue;
        demand.printed_limit = row.max_device().value;
        demand.source = row.max_device().source;
    }
    return demand;
}

/// BS 7671 433.1.204: a ring behind 30 or 32 A is covered if a leg carries 20 A as installed.
std::optional<Demand> ring_demand(const Situation& s, Index i, const Guard& guard, const Ampacity& iz) {
    const plan::Cable& cable = *s.plan[i].cable;
    if (!cable.ring.is(true)) return std::nullopt;
    using Ring = figures::bs_433_1_204;
    const auto least = Ring::device_least(s.tables), most = Ring::device_most(s.tables),
               leg = Ring::least_ampacity(s.tables);
    const auto section = Ring::least_section(s.tables);
    if (cable.stock_index == plan::nowhere) return std::nullopt;
    const auto& stock = s.plan.stocks[cable.stock_index];
    const bool thick = stock.section.known() && stock.section->area >= section.value.area * (1 - 1e-9);
    if (!thick || above(*guard.rating, most.value) || above(least.value, *guard.rating) ||
        above(leg.value, *iz.value))
        return std::nullopt;
    Demand demand;
    demand.printed_limit = most.value;
    demand.by_row_alone = true;
    demand.source = most.source;
    return demand;
}

}  // namespace

Demand demand_of(const Situation& s, Index i, const Guard& guard, const Ampacity& iz) {
    if (auto ring = ring_demand(s, i, guard, iz)) return *ring;
    if (guard.cable_rule == CableRule::gg) return gg_demand(s, *guard.rating);
    if (guard.cable_rule == CableRule::cord_fuse) return plug_fuse_demand(s, i);
    if (guard.cable_rule == CableRule::nec) return nec_demand(s, i, iz.cord);
    Demand demand;
    if (guard.cable_rule == CableRule::rewirable) {
        const auto factor = figures::bs_3036::factor(s.tables);
        demand.share = factor.value;
        demand.source = factor.source;
    }
    return demand;
}

Current largest_device(const Demand& demand, const Ampacity& iz) {
    if (demand.by_row_alone && demand.printed_limit) return *demand.printed_limit;
    const Current by_ampacity = *iz.value * demand.share;
    return demand.printed_limit && *demand.printed_limit < by_ampacity ? *demand.printed_limit : by_ampacity;
}

}  // namespace benchfeed::rules
