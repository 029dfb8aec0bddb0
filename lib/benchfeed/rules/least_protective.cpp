#include <benchfeed/rules/least_protective.hpp>

#include <benchfeed/network/protection.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

namespace {

std::optional<LeastProtective> least_iec(const Situation& s, const plan::Stock& stock) {
    const auto row = construction_row(s, stock);
    const tables::Table* flat = s.tables.table("uk-flat-protective");
    if (row && flat && s.tables.table("cable-constructions")->flag(*row, "flat_pvc").value_or(false))
        if (const auto at = flat->row_of(*stock.section))
            if (const auto figure = flat->section(*at, "protective"))
                return LeastProtective{figure->value, figure->source, {}};
    const tables::Table* table = s.tables.table("iec-54-2");
    const double line = in(unit::mm2, stock.section->area);
    const auto at = table ? table->row_in_range("line_over", "line_to", line) : std::nullopt;
    if (!at) return std::nullopt;
    const std::string rule(table->text(*at, "pe"));
    const tables::Citation source = table->cite(*at, *table->column("pe"));
    if (rule == "S") return LeastProtective{*stock.section, source, {}};
    if (rule == "S/2") return LeastProtective{section_of(Area(stock.section->area * 0.5)), source, {}};
    return LeastProtective{section_of(std::stod(rule) * unit::mm2), source, {}};
}

std::optional<LeastProtective> least_nec(const Situation& s, Index i, const plan::Stock& stock) {
    const tables::Table* table = s.tables.table("nec-250-122");
    if (!table) return std::nullopt;
    const auto by_conductor_to = table->section("cord_by_conductor_to");
    if (is_cord(s, stock) && by_conductor_to && !thinner(by_conductor_to->value, *stock.section))
        return LeastProtective{*stock.section, by_conductor_to->source, {}};
    const auto guard = network::overload_guard(s.plan, s.tables, i, network::Place::cable).found;
    if (!guard || !guard->rating) return std::nullopt;
    const auto row = table->row_at_or_above("device", in(unit::ampere, *guard->rating));
    const auto figure =
        row ? table->section(*row, std::string_view(stock.conductor.is(plan::Metal::aluminium) ? "al" : "cu"))
            : std::nullopt;
    if (!figure) return std::nullopt;
    const bool line_is_less = stock.section->area < figure->value.area;
    return LeastProtective{line_is_less ? *stock.section : figure->value, figure->source, guard->rating};
}

}  // namespace

std::optional<LeastProtective> least_protective(const Situation& s, Index cable) {
    const plan::Stock& stock = *stock_of(s, cable);
    if (!stock.section.known()) return std::nullopt;
    return s.nec() ? least_nec(s, cable, stock) : least_iec(s, stock);
}

}  // namespace benchfeed::rules
