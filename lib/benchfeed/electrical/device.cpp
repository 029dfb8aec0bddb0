#include <benchfeed/electrical/device.hpp>

#include <vector>

#include <benchfeed/figures/bs_1362.hpp>
#include <benchfeed/figures/bs_41_2_bs1361.hpp>
#include <benchfeed/figures/bs_41_2_bs1362.hpp>
#include <benchfeed/figures/bs_41_2_bs3036.hpp>
#include <benchfeed/figures/bs_41_2_bs88_2.hpp>
#include <benchfeed/figures/bs_41_2_bs88_3.hpp>
#include <benchfeed/figures/device_functions.hpp>
#include <benchfeed/figures/iec_60898_instantaneous.hpp>
#include <benchfeed/figures/iec_60898_times.hpp>
#include <benchfeed/figures/thresholds.hpp>

namespace benchfeed::electrical {

using tables::Catalogue;
using tables::Citation;
using Standards = figures::device_functions;
using Bands = figures::iec_60898_instantaneous;
using Times = figures::iec_60898_times;
using Gates = figures::bs_1362;

namespace {

template <class Row, class Own>
constexpr bool same(Row row, Own own) {
    return static_cast<int>(row) == static_cast<int>(own);
}
static_assert(same(Standards::Standard::iec_60898, DeviceStandard::iec_60898) &&
              same(Standards::Standard::iec_61009, DeviceStandard::iec_61009) &&
              same(Standards::Standard::iec_61008, DeviceStandard::iec_61008) &&
              same(Standards::Standard::iec_60947_2, DeviceStandard::iec_60947_2) &&
              same(Standards::Standard::iec_60934, DeviceStandard::iec_60934) &&
              same(Standards::Standard::iec_60269_gg, DeviceStandard::iec_60269_gg) &&
              same(Standards::Standard::bs_88_3, DeviceStandard::bs_88_3) &&
              same(Standards::Standard::bs_1361, DeviceStandard::bs_1361) &&
              same(Standards::Standard::bs_1362, DeviceStandard::bs_1362) &&
              same(Standards::Standard::bs_3036, DeviceStandard::bs_3036) &&
              same(Standards::Standard::ul_489, DeviceStandard::ul_489) &&
              same(Standards::Standard::ul_943, DeviceStandard::ul_943) &&
              same(Standards::Standard::ul_1077, DeviceStandard::ul_1077) &&
              same(Standards::Standard::ul_248, DeviceStandard::ul_248) &&
              same(Standards::Standard::iec_60269_am, DeviceStandard::iec_60269_am) &&
              same(Standards::Standard::iec_61540, DeviceStandard::iec_61540) &&
              same(Standards::Standard::bs_88_2, DeviceStandard::bs_88_2));
static_assert(same(Bands::Curve::b, Curve::b) && same(Bands::Curve::c, Curve::c) &&
              same(Bands::Curve::d, Curve::d));
static_assert(same(Standards::CableRule::in_iz, Functions::CableRule::at_most_ampacity) &&
              same(Standards::CableRule::none, Functions::CableRule::none) &&
              same(Standards::CableRule::gg, Functions::CableRule::gg) &&
              same(Standards::CableRule::bs_1363_cord, Functions::CableRule::cord_fuse) &&
              same(Standards::CableRule::n0_725, Functions::CableRule::rewirable) &&
              same(Standards::CableRule::nec_240, Functions::CableRule::nec));

Standards::Row row_of(DeviceStandard standard, const Catalogue& tables) {
    return Standards::at(tables, static_cast<Standards::Standard>(standard));
}

/// From `current` on the device opens within `time`.
struct Point {
    Current current{};
    Duration time{};
    Citation source;
    Origin origin;
};

void refuse(const ProtectiveDevice& device) {
    refuse_all_but_positive("ProtectiveDevice::rating", device.rating);
}

/// Without its letter the quickest point is missing, and the others alone would mislead.
void add_breaker_points(std::vector<Point>& points, const ProtectiveDevice& device, const Catalogue& tables) {
    const auto band = trip_band(device, tables);
    if (!band) return;
    const Current rated = device.rating;
    points.push_back({band->upper, band->certain.value, band->upper_multiple.source, {band->upper_multiple}});
    const auto third = Times::third_current(tables);
    const auto longest = rated <= Times::third_rating_most(tables).value
                             ? Times::third_current_longest_to_32(tables)
                             : Times::third_current_longest_over_32(tables);
    points.push_back({rated * third.value, longest.value, longest.source, {third}});
    const auto tripping = Times::tripping(tables);
    const auto conventional = rated <= Times::conventional_rating_most(tables).value
                                  ? Times::conventional_time(tables)
                                  : Times::conventional_time_over_63(tables);
    points.push_back({rated * tripping.value, conventional.value, tripping.source, {tripping}});
}

/// Zs printed for 0.4 s gives back the current: Cmin * U0 / Zs. Ratings that the table does not print have no
/// point.
template <class Loops>
void add_loop_point(std::vector<Point>& points, Current rating, const Catalogue& tables) {
    const auto row = Loops::at(tables, rating);
    if (!row) return;
    const auto zs = row->max_zs();
    const auto volts = Loops::u0(tables);
    const auto cmin = Loops::cmin(tables);
    points.push_back({Current(cmin.value * volts.value / zs.value),
                      Loops::time(tables).value,
                      zs.source,
                      {std::nullopt, zs, cmin, volts}});
}

void add_fuse_points(std::vector<Point>& points, const ProtectiveDevice& device, const Catalogue& tables) {
    const auto loops = row_of(device.standard, tables).loop_table();
    if (!loops) return;
    switch (*loops) {
        case Standards::LoopTable::bs_41_2_bs88_2:
            return add_loop_point<figures::bs_41_2_bs88_2>(points, device.rating, tables);
        case Standards::LoopTable::bs_41_2_bs88_3:
            return add_loop_point<figures::bs_41_2_bs88_3>(points, device.rating, tables);
        case Standards::LoopTable::bs_41_2_bs1361:
            return add_loop_point<figures::bs_41_2_bs1361>(points, device.rating, tables);
        case Standards::LoopTable::bs_41_2_bs1362:
            return add_loop_point<figures::bs_41_2_bs1362>(points, device.rating, tables);
        case Standards::LoopTable::bs_41_2_bs3036:
            return add_loop_point<figures::bs_41_2_bs3036>(points, device.rating, tables);
    }
}

void add_plug_fuse_gates(std::vector<Point>& points, const ProtectiveDevice& device,
                         const Catalogue& tables) {
    for (const Gates::Row gate : Gates::rows(tables))
        if (gate.rating().value == device.rating)
            points.push_back({gate.current().value, gate.max().value, gate.max().source, {}});
}

std::vector<Point> points_of(const ProtectiveDevice& device, const Catalogue& tables) {
    refuse(device);
    std::vector<Point> points;
    add_breaker_points(points, device, tables);
    add_fuse_points(points, device, tables);
    if (device.standard == DeviceStandard::bs_1362) add_plug_fuse_gates(points, device, tables);
    return points;
}

Clearing clearing_at(const Point& point) {
    return {point.time, point.source, point.current, point.origin.multiple};
}

/// Of the gates that last as long as the start, the one with the most current.
std::optional<Withstands> fuse_withstand(const ProtectiveDevice& device, const Catalogue& tables,
                                         Duration wanted) {
    std::optional<Withstands> best;
    for (const Gates::Row gate : Gates::rows(tables)) {
        if (gate.rating().value != device.rating) continue;
        const auto current = gate.current();
        const auto least = gate.min();
        if (least.value < wanted || (best && best->current > current.value)) continue;
        best = Withstands{current.value, std::nullopt, least.value, least.source};
    }
    return best;
}

}  // namespace

Functions functions_of(DeviceStandard standard, const Catalogue& tables) {
    const Standards::Row row = row_of(standard, tables);
    return {row.overload(), row.short_circuit(), row.residual() == Standards::Residual::yes,
            static_cast<Functions::CableRule>(row.cable_rule())};
}

std::optional<TripBand> trip_band(const ProtectiveDevice& device, const Catalogue& tables) {
    refuse(device);
    const bool with_letters =
        device.standard == DeviceStandard::iec_60898 || device.standard == DeviceStandard::iec_61009;
    if (!with_letters || !device.curve) return std::nullopt;
    const Bands::Row row = Bands::at(tables, static_cast<Bands::Curve>(*device.curve));
    const auto over = row.over(), up_to = row.up_to();
    return TripBand{device.rating * over.value, device.rating * up_to.value, over, up_to, row.certain_trip()};
}

std::optional<Withstands> start_withstand(const ProtectiveDevice& device, const Catalogue& tables,
                                          bool longer_than_a_second) {
    refuse(device);
    using Of = figures::thresholds;
    if (device.standard == DeviceStandard::bs_1362)
        return fuse_withstand(
            device, tables, (longer_than_a_second ? Of::long_start(tables) : Of::short_start(tables)).value);
    const auto band = trip_band(device, tables);
    if (!band) return std::nullopt;
    const auto third = Times::third_current(tables);
    if (longer_than_a_second)
        return Withstands{device.rating * third.value, third, Times::third_current_shortest(tables).value,
                          third.source};
    return Withstands{band->lower, band->lower_multiple, Duration{}, band->lower_multiple.source};
}

std::optional<Clearing> latest_clearing(const ProtectiveDevice& device, const Catalogue& tables,
                                        Current current) {
    refuse_negative("current", current);
    std::optional<Clearing> soonest;
    for (const Point& point : points_of(device, tables))
        if (current >= point.current * (1 - 1e-9) && (!soonest || point.time < soonest->latest))
            soonest = clearing_at(point);
    return soonest;
}

std::optional<Clearing> least_energy(const ProtectiveDevice& device, const Catalogue& tables, Current current,
                                     Duration longest) {
    refuse_negative("current", current);
    std::optional<Clearing> least;
    for (const Point& point : points_of(device, tables)) {
        if (current < point.current * (1 - 1e-9) || point.time > longest * (1 + 1e-9)) continue;
        const Clearing here = clearing_at(point);
        if (!least || here.energy() < least->energy()) least = here;
    }
    return least;
}

std::optional<Opening> opens_within(const ProtectiveDevice& device, const Catalogue& tables, Duration time) {
    refuse_all_but_positive("time", time);
    std::optional<Opening> least;
    for (const Point& point : points_of(device, tables))
        if (point.time <= time * (1 + 1e-9) && (!least || point.current < least->current))
            least = Opening{point.current, point.origin, point.source};
    return least;
}

}  // namespace benchfeed::electrical
