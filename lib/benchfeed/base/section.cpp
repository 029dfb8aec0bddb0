#include <benchfeed/base/section.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed {

namespace {
/// IEC 60228 clause 4 nominal sections in mm2, up to the largest a bench could meet.
constexpr std::array metric_sizes{0.5,  0.75, 1.0,  1.5,  2.5,  4.0,  6.0,  10.0,
                                  16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0};
/// Sizes that are made and sold: even gauges, 1 AWG, 3 AWG, and the aught sizes.
constexpr std::array awg_sizes{18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3};
}  // namespace

Length awg_diameter(Awg gauge) {
    return 0.005 * std::pow(92.0, (36.0 - gauge.number) / 39.0) * unit::inch;
}

Area awg_area(Awg gauge) {
    const Length d = awg_diameter(gauge);
    return d * d * (std::numbers::pi / 4);
}

std::string awg_text(Awg gauge) {
    return gauge.number > 0 ? fmt::format("{} AWG", gauge.number) : fmt::format("{}/0 AWG", 1 - gauge.number);
}

Section section_of(Awg gauge) {
    return {awg_area(gauge), gauge};
}
Section section_of(Area area) {
    return {area, std::nullopt};
}

std::optional<Area> next_metric_size(Area at_least) {
    for (const double size : metric_sizes)
        if (size * unit::mm2 >= at_least * (1 - 1e-9)) return size * unit::mm2;
    return std::nullopt;
}

std::optional<Awg> next_awg_size(Area at_least) {
    for (const int size : awg_sizes)
        if (awg_area(Awg{size}) >= at_least * (1 - 1e-9)) return Awg{size};
    return std::nullopt;
}

namespace {
std::string mm2_text(Area area) {
    std::string number = digits(in(unit::mm2, area), 3);
    if (number.find('.') != std::string::npos) {
        number.erase(number.find_last_not_of('0') + 1);
        if (number.back() == '.') number.pop_back();
    }
    return number + " mm2";
}
}  // namespace

std::string section_text(const Section& section) {
    return section.gauge ? awg_text(*section.gauge) : mm2_text(section.area);
}

std::string section_equivalent(const Section& section) {
    if (section.gauge) {
        std::string out = fmt::format("{} = {}", awg_text(*section.gauge), mm2_text(section.area));
        if (const auto next = next_metric_size(section.area))
            out += ", next standard size " + mm2_text(*next);
        return out;
    }
    const auto above = next_awg_size(section.area);
    if (!above) return fmt::format("{} is above {}", mm2_text(section.area), awg_text(thickest_awg));
    const auto* const there = std::find(awg_sizes.begin(), awg_sizes.end(), above->number);
    if (there == awg_sizes.begin())
        return fmt::format("{} is at or below {} ({})", mm2_text(section.area), awg_text(*above),
                           mm2_text(awg_area(*above)));
    const Awg below{*(there - 1)};
    return fmt::format("{} lies between {} and {} ({} and {})", mm2_text(section.area), awg_text(below),
                       awg_text(*above), mm2_text(awg_area(below)), mm2_text(awg_area(*above)));
}

}  // namespace benchfeed
