#include "network/adiabatic.hpp"

#include <boost/units/pow.hpp>

namespace benchfeed::network {

std::optional<Adiabatic> adiabatic(const tables::Catalogue& tables, const plan::Stock& stock,
                                   bool protective_core) {
    const auto& section = protective_core ? stock.protective_section : stock.section;
    if (!stock.type.known() || !section.known() || !stock.conductor.is(plan::Metal::copper))
        return std::nullopt;
    if (protective_core && !stock.protective.is(true)) return std::nullopt;
    const tables::Table* constructions = tables.table("cable-constructions");
    const tables::Table* factors = tables.table("iec-43a");
    const auto kind = constructions ? constructions->row_of("construction", *stock.type) : std::nullopt;
    if (!kind || !factors) return std::nullopt;
    const auto row = factors->row_of("insulation", constructions->text(*kind, "adiabatic"));
    const auto wide = factors->section("wide_section_from");
    const auto until = factors->duration("adiabatic_until");
    if (!row || !wide || !until) return std::nullopt;
    const Area area = section->area;
    const auto k = factors->adiabatic_factor(*row, area > wide->value.area ? "k_over_300" : "k");
    if (!k) return std::nullopt;
    return Adiabatic{*k, *until, area, JouleIntegral(k->value * k->value * area * area)};
}

Duration longest_time(JouleIntegral withstand, Current current) {
    return withstand / (current * current);
}

Area least_section(Current current, Duration time, AdiabaticFactor k) {
    return current * bu::root<2>(time) / k;
}

}  // namespace benchfeed::network
