#include <benchfeed/network/conductor.hpp>

namespace benchfeed::network {

using tables::Figure;
using tables::Key;
using tables::Table;

ImpedancePerLength resistance_at(ImpedancePerLength table, Temperature table_temperature, PerKelvin alpha,
                                 Temperature theta) {
    const TemperatureRise rise = theta - table_temperature;
    return table * (1.0 * unit::one + alpha * rise);
}

namespace {

/// NEC chapter 9 table 8 prints solid and stranded wire in rows of their own.
std::optional<std::size_t> nec_row(const Table& table, const Section& section, bool solid) {
    std::optional<std::size_t> best;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const auto size = table.section(row, "size");
        if (!size || size->value.gauge != section.gauge || !section.gauge) continue;
        if (!best || (table.number(row, "strands") == 1.0) == solid) best = row;
    }
    return best;
}

std::optional<ConductorData> nec_data(const tables::Catalogue& tables, const plan::Stock& stock) {
    const Table* table = tables.table("nec-ch9-8");
    const Table* impedance = tables.table("nec-ch9-9");
    const Table* coefficients = tables.table("conductor-temperature");
    if (!table || !coefficients) return std::nullopt;
    ConductorData data;
    Section section = *stock.section;
    auto row = nec_row(*table, section, stock.strands.is(plan::Strands::solid));
    if (!row) {
        const auto below = table->row_below(section);
        if (!below) return std::nullopt;
        data.substituted = true;
        section = table->section(*below, "size")->value;
        row = nec_row(*table, section, stock.strands.is(plan::Strands::solid));
    }
    const bool copper = stock.conductor.is(plan::Metal::copper);
    const auto resistance = table->impedance_per_length(*row, copper ? Key("r_cu") : Key("r_al"));
    const auto alpha = coefficients->per_kelvin(copper ? Key("alpha_cu_75") : Key("alpha_al_75"));
    const auto theta = table->temperature("temperature");
    if (!resistance || !alpha || !theta) return std::nullopt;
    data.table = *resistance;
    data.alpha = *alpha;
    data.table_temperature = data.temperature = theta->value;
    if (const auto line = impedance ? impedance->row_of(section) : std::nullopt)
        data.reactance = impedance->impedance_per_length(*line, "x_pvc");
    data.resistance = data.table.value;
    data.cold = resistance_at(data.table.value, data.table_temperature, data.alpha.value, celsius(20));
    data.plain = data.table;
    data.least = data.cold;
    return data;
}

std::optional<ConductorData> iec_data(const tables::Catalogue& tables, const plan::Stock& stock) {
    const Table* constructions = tables.table("cable-constructions");
    const Table* copper = tables.table("iec-60028");
    const Table* drop = tables.table("iec-60364-5-52-g");
    const auto kind = constructions ? constructions->row_of("construction", *stock.type) : std::nullopt;
    if (!kind || !copper || !stock.conductor.is(plan::Metal::copper)) return std::nullopt;
    // Whether the strands of a cord are tinned is not printed on it: the higher resistance for drops and the
    // least fault, the lower one for the highest fault.
    const bool fine = stock.strands.is(plan::Strands::fine);
    const Table* table = tables.table(fine ? Key("iec-60228-class-5") : Key("iec-60228-class-1-2"));
    if (!table) return std::nullopt;
    ConductorData data;
    auto row = table->row_of(*stock.section);
    if (!row) {
        data.substituted = true;
        row = table->row_below(*stock.section);
    }
    const auto resistance =
        row ? table->impedance_per_length(*row, fine ? Key("max_r_tinned") : Key("max_r")) : std::nullopt;
    const auto alpha = copper->per_kelvin("alpha_20");
    const auto rated = constructions->number(*kind, "conductor_temp");
    if (!resistance || !alpha || !rated) return std::nullopt;
    data.table = *resistance;
    data.alpha = *alpha;
    data.table_temperature = celsius(20);
    data.temperature = celsius(*rated);
    if (drop) data.reactance = drop->impedance_per_length("lambda");
    data.resistance =
        resistance_at(data.table.value, data.table_temperature, data.alpha.value, data.temperature);
    data.cold = data.table.value;
    data.plain = table->impedance_per_length(*row, "max_r").value_or(data.table);
    data.least = data.plain.value;
    return data;
}

}  // namespace

std::optional<ConductorData> conductor_data(const tables::Catalogue& tables, Family family,
                                            const plan::Stock& stock) {
    if (!stock.type.known() || !stock.section.known() || !stock.conductor.known()) return std::nullopt;
    return family == Family::nec ? nec_data(tables, stock) : iec_data(tables, stock);
}

std::optional<ConductorData> protective_data(const tables::Catalogue& tables, Family family,
                                             const plan::Stock& stock) {
    if (!stock.protective.is(true) || !stock.protective_section.known()) return std::nullopt;
    plan::Stock core = stock;
    core.section = stock.protective_section;
    return conductor_data(tables, family, core);
}

}  // namespace benchfeed::network
