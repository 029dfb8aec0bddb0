#include <benchfeed/rules/least_protective.hpp>

#include <benchfeed/figures/iec_54_2.hpp>
#include <benchfeed/figures/nec_250_122.hpp>
#include <benchfeed/figures/uk_flat_protective.hpp>
#include <benchfeed/network/protection.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

namespace {

tables::Found<LeastProtective> least_iec(const Situation& s, const plan::Stock& stock) {
    const auto row = construction_row(s, stock);
    if (row && s.tables.table("cable-constructions")->flag(*row, "flat_pvc").value_or(false))
        if (const auto flat = figures::uk_flat_protective::at(s.tables, *stock.section))
            return LeastProtective{flat->protective().value, flat->protective().source, {}};
    using Of = figures::iec_54_2;
    const auto found = Of::in_range(s.tables, *stock.section);
    if (!found) return found.missing();
    const auto of = [&](const Section& section) {
        return LeastProtective{section, found->source(Of::Column::pe), {}};
    };
    switch (found->pe()) {
        case Of::Pe::s:
            return of(*stock.section);
        case Of::Pe::n16:  // what the lines have where this row begins
            return of(found->line_over().value);
        case Of::Pe::s_2:
            break;
    }
    return of(section_of(Area(stock.section->area * 0.5)));
}

tables::Found<std::optional<LeastProtective>> least_nec(const Situation& s, Index i,
                                                        const plan::Stock& stock) {
    using Of = figures::nec_250_122;
    const auto by_conductor_to = Of::cord_by_conductor_to(s.tables);
    if (is_cord(s, stock) && !thinner(by_conductor_to.value, *stock.section))
        return std::optional(LeastProtective{*stock.section, by_conductor_to.source, {}});
    const auto guard = network::overload_guard(s.plan, s.tables, i, network::Place::cable).found;
    if (!guard || !guard->rating) return std::optional<LeastProtective>();
    return Of::device_at_or_above(s.tables, *guard->rating).then([&](const Of::Row& row) {
        const auto figure = stock.conductor.is(plan::Metal::aluminium) ? row.al() : row.cu();
        const bool line_is_less = stock.section->area < figure.value.area;
        return std::optional(
            LeastProtective{line_is_less ? *stock.section : figure.value, figure.source, guard->rating});
    });
}

}  // namespace

tables::Found<std::optional<LeastProtective>> least_protective(const Situation& s, Index cable) {
    const plan::Stock& stock = *stock_of(s, cable);
    if (!stock.section.known()) return std::optional<LeastProtective>();
    if (s.nec()) return least_nec(s, cable, stock);
    return least_iec(s, stock).then([](const LeastProtective& least) { return std::optional(least); });
}

}  // namespace benchfeed::rules
