#include <benchfeed/network/practice.hpp>

namespace benchfeed::network {

namespace {

/// The advice on drops: a fact of the table that the region names.
std::optional<tables::Figure<Ratio>> advised(const tables::Catalogue& tables, const tables::Table& regions,
                                             std::size_t row, tables::Key column) {
    const tables::Table* advice = tables.table(regions.text(row, "drop_table"));
    return advice ? advice->ratio(tables::Key(regions.text(row, column))) : std::nullopt;
}

}  // namespace

std::optional<Practice> practice_of(const tables::Catalogue& tables, std::string_view region) {
    const tables::Table* regions = tables.table("regions");
    const auto row = regions ? regions->row_of("region", region) : std::nullopt;
    if (!row) return std::nullopt;
    Practice p;
    p.region = region;
    p.family = regions->text(*row, "family") == "nec" ? Family::nec : Family::iec;
    const auto volts = regions->voltage(*row, "voltage");
    const auto hertz = regions->number(*row, "frequency");
    const auto lighting = advised(tables, *regions, *row, "drop_lighting"),
               other = advised(tables, *regions, *row, "drop_other");
    auto advice = advised(tables, *regions, *row, "drop_motor");
    if (!advice) advice = regions->ratio(*row, "drop_advice");
    if (!volts || !hertz || !lighting || !other || !advice) return std::nullopt;
    p.nominal = volts->value;
    p.frequency = *hertz * unit::hertz;
    p.drop_lighting = *lighting;
    p.drop_other = *other;
    p.drop_advice = *advice;
    p.four_loaded = regions->ratio(*row, "four_loaded");
    p.gg_band_is_ok = regions->text(*row, "gg_band") == "ok";
    p.colours_fixed = regions->text(*row, "colours_fixed");
    p.colours_cord = regions->text(*row, "colours_cord");
    p.not_read = regions->text(*row, "not_read");
    return p;
}

}  // namespace benchfeed::network
