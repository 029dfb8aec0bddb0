#include <benchfeed/network/adiabatic.hpp>

#include <boost/units/cmath.hpp>

namespace benchfeed::network {

JouleIntegral withstood_energy(AdiabaticFactor k, Area section) {
    const auto stood = k * section;  // A s^0.5
    return JouleIntegral(stood * stood);
}

std::optional<Withstand> withstand(const tables::Catalogue& tables, const plan::Stock& stock,
                                   bool protective_core) {
    const tables::Table* constructions = tables.table("cable-constructions");
    const tables::Table* factors = tables.table("iec-43a");
    const auto& section = protective_core ? stock.protective_section : stock.section;
    if (!constructions || !factors || !stock.type.known() || !section.known() ||
        !stock.conductor.is(plan::Metal::copper) || (protective_core && !stock.protective.is(true)))
        return std::nullopt;
    const auto kind = constructions->row_of("construction", *stock.type);
    const auto row =
        kind ? factors->row_of("insulation", constructions->text(*kind, "adiabatic")) : std::nullopt;
    const auto k = row ? factors->number(*row, "k") : std::nullopt;
    if (!k) return std::nullopt;
    Withstand found;
    found.k.value = *k * unit::ampere_root_second_per_mm2;
    const std::string_view written = factors->written(*row, "k");
    found.k.written = written.substr(0, written.find(' '));
    found.k.source = factors->cite(*row, *factors->column("k"));
    found.section = section->area;
    found.energy = withstood_energy(found.k.value, found.section);
    return found;
}

Duration longest_time(JouleIntegral withstood, Current current) {
    return withstood / (current * current);
}

Area least_section(Current current, Duration time, AdiabaticFactor k) {
    return Area(current * bu::sqrt(time) / k);
}

}  // namespace benchfeed::network
