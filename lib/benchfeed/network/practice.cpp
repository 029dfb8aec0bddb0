#include <benchfeed/network/practice.hpp>

#include <benchfeed/figures/regions.hpp>

namespace benchfeed::network {

std::optional<Practice> practice_of(const tables::Catalogue& tables, std::string_view region) {
    using Regions = figures::regions;
    const auto row = Regions::at(tables, region);
    if (!row) return std::nullopt;
    auto advice = row->drop_motor(tables);
    if (!advice) advice = row->drop_advice();
    if (!advice) return std::nullopt;
    Practice p;
    p.region = region;
    p.family = row->family() == Regions::Family::nec ? Family::nec : Family::iec;
    p.nominal = row->voltage().value;
    p.frequency = row->frequency().value;
    p.drop_lighting = row->drop_lighting(tables);
    p.drop_other = row->drop_other(tables);
    p.drop_advice = *advice;
    p.four_loaded = row->four_loaded();
    p.gg_band_is_ok = row->gg_band() == Regions::GgBand::ok;
    p.colours_fixed = row->colours_fixed();
    p.colours_cord = row->colours_cord();
    p.not_read = row->not_read();
    return p;
}

}  // namespace benchfeed::network
