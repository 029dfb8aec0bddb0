#include <benchfeed/rules/device_demand.hpp>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using network::Ampacity;
using network::Guard;

namespace {

Demand unread() {
    Demand demand;
    demand.unread = true;
    return demand;
}

/// gG: In <= 1.45 / k2 * Iz, k2 = fusing current over rated current in the row of the rating.
Demand gg_demand(const Situation& s, Current rating) {
    const tables::Table* fuses = s.tables.table("iec-60269-gg");
    const tables::Table* overload = s.tables.table("iec-60364-4-43-433");
    if (!fuses || !overload) return unread();
    Demand demand;
    const auto row = fuses->row_in_range("in_from", "in_to", in(unit::ampere, rating));
    const auto factor = overload->ratio("overload_factor");
    const auto k2 = row ? fuses->ratio(*row, "fusing") : std::nullopt;
    if (k2 && factor) {
        demand.band = factor->value / k2->value;
        demand.source = fuses->cite(*row, *fuses->column("fusing"));
    }
    return demand;
}

/// BS 1363-1: the largest fuse for a cord of this section.
Demand plug_fuse_demand(const Situation& s, Index i) {
    const tables::Table* cords = s.tables.table("bs-1363-cord");
    if (!cords) return unread();
    Demand demand;
    const plan::Cable& cable = *s.plan[i].cable;
    if (cable.stock_index == plan::nowhere) return demand;
    const auto& section = s.plan.stocks[cable.stock_index].section;
    auto row = section.known() ? cords->row_of(*section) : std::nullopt;
    if (!row && section.known()) row = cords->row_below(*section);
    if (!row) return demand;
    if (const auto largest = cords->current(*row, "max_fuse")) {
        demand.printed_limit = largest->value;
        demand.by_row_alone = true;
        demand.source = largest->source;
    }
    return demand;
}

/// NEC 240.4(D): the largest device on a small conductor of fixed wiring, whatever its ampacity.
Demand nec_demand(const Situation& s, Index i, bool cord) {
    Demand demand;
    const plan::Cable& cable = *s.plan[i].cable;
    if (cord || cable.stock_index == plan::nowhere) return demand;
    const plan::Stock& stock = s.plan.stocks[cable.stock_index];
    const tables::Table* caps = s.tables.table("nec-240-4-d");
    if (!caps) return unread();
    for (std::size_t row = 0; stock.section.known() && row < caps->rows.size(); ++row) {
        const bool copper = caps->text(row, "material") == "Cu";
        const auto size = caps->section(row, "size");
        if (!size || size->value != *stock.section || copper != stock.conductor.is(plan::Metal::copper))
            continue;
        if (const auto cap = caps->current(row, "max_device")) {
            demand.printed_limit = cap->value;
            demand.source = cap->source;
        }
    }
    return demand;
}

/// BS 7671 433.1.204: a ring behind 30 or 32 A is covered if a leg carries 20 A as installed.
std::optional<Demand> ring_demand(const Situation& s, Index i, const Guard& guard, const Ampacity& iz) {
    const plan::Cable& cable = *s.plan[i].cable;
    if (!cable.ring.is(true)) return std::nullopt;
    const tables::Table* ring = s.tables.table("bs-433-1-204");
    if (!ring) return unread();
    const auto least = ring->current("device_least"), most = ring->current("device_most"),
               leg = ring->current("least_ampacity");
    const auto section = ring->section("least_section");
    if (!least || !most || !leg || !section || cable.stock_index == plan::nowhere) return std::nullopt;
    const auto& stock = s.plan.stocks[cable.stock_index];
    const bool thick = stock.section.known() && stock.section->area >= section->value.area * (1 - 1e-9);
    if (!thick || above(*guard.rating, most->value) || above(least->value, *guard.rating) ||
        above(leg->value, *iz.value))
        return std::nullopt;
    Demand demand;
    demand.printed_limit = most->value;
    demand.by_row_alone = true;
    demand.source = most->source;
    return demand;
}

}  // namespace

Demand demand_of(const Situation& s, Index i, const Guard& guard, const Ampacity& iz) {
    if (auto ring = ring_demand(s, i, guard, iz)) return *ring;
    if (guard.cable_rule == "gG") return gg_demand(s, *guard.rating);
    if (guard.cable_rule == "bs-1363-cord") return plug_fuse_demand(s, i);
    if (guard.cable_rule == "nec-240") return nec_demand(s, i, iz.cord);
    Demand demand;
    if (guard.cable_rule == "0.725") {
        const tables::Table* table = s.tables.table("bs-3036");
        if (!table) return unread();
        if (const auto factor = table->ratio("factor")) {
            demand.share = factor->value;
            demand.source = factor->source;
        }
    }
    return demand;
}

Current largest_device(const Demand& demand, const Ampacity& iz) {
    if (demand.by_row_alone && demand.printed_limit) return *demand.printed_limit;
    const Current by_ampacity = *iz.value * demand.share;
    return demand.printed_limit && *demand.printed_limit < by_ampacity ? *demand.printed_limit : by_ampacity;
}

}  // namespace benchfeed::rules
