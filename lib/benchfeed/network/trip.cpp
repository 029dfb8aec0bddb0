#include <benchfeed/network/trip.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace benchfeed::network {

using plan::DeviceStandard;
using tables::Catalogue;
using tables::Citation;
using tables::Key;
using tables::Table;

namespace {

/// From `current` on the device opens within `time`.
struct Point {
    Current current{};
    Duration time{};
    Citation source;
    Origin origin;
};

bool breaker_with_letters(const Guard& guard) {
    return guard.known && !guard.plug_fuse &&
           (guard.standard == DeviceStandard::iec_60898 || guard.standard == DeviceStandard::iec_61009);
}

/// Table of longest loop impedances at 0.4 s of a kind of fuse; nothing where none is printed.
const Table* loop_table(const Catalogue& tables, DeviceStandard standard) {
    const Table* functions = tables.table("device-functions");
    const auto word = plan::words_of<DeviceStandard>()[static_cast<std::size_t>(standard)];
    const auto row = functions ? functions->row_of("standard", word) : std::nullopt;
    return row ? tables.table(functions->text(*row, "loop_table")) : nullptr;
}

void add_breaker_points(std::vector<Point>& points, const plan::Plan& plan, const Catalogue& tables,
                        const Guard& guard) {
    const Current rated = *guard.rating;
    if (const auto band = trip_band(plan, tables, guard))
        points.push_back(
            {band->upper, band->certain.value, band->upper_multiple.source, {band->upper_multiple}});
    const Table* times = tables.table("iec-60898-times");
    if (!times) return;
    const auto up_to = [&](std::string_view fact) {
        const auto most = times->current(fact);
        return most && rated <= most->value;
    };
    const auto third = times->ratio("third_current");
    const auto longest = times->duration(up_to("third_rating_most") ? Key("third_current_longest_to_32")
                                                                    : Key("third_current_longest_over_32"));
    if (third && longest) points.push_back({rated * third->value, longest->value, longest->source, {third}});
    const auto tripping = times->ratio("tripping");
    const auto conventional = times->duration(
        up_to("conventional_rating_most") ? Key("conventional_time") : Key("conventional_time_over_63"));
    if (tripping && conventional)
        points.push_back({rated * tripping->value, conventional->value, tripping->source, {tripping}});
}

/// Zs printed for 0.4 s gives back the current: Cmin * U0 / Zs.
void add_loop_point(std::vector<Point>& points, const Catalogue& tables, const Guard& guard) {
    const Table* table = loop_table(tables, guard.standard);
    if (!table) return;
    const auto row = table->row_of("rating", in(unit::ampere, *guard.rating));
    const auto zs = row ? table->impedance(*row, "max_zs") : std::nullopt;
    const auto volts = table->voltage("u0");
    const auto cmin = table->ratio("cmin");
    const auto time = table->duration("time");
    if (zs && volts && cmin && time)
        points.push_back({Current(cmin->value * volts->value / zs->value),
                          time->value,
                          zs->source,
                          {std::nullopt, zs, cmin, volts}});
}

void add_plug_fuse_gates(std::vector<Point>& points, const Catalogue& tables, const Guard& guard) {
    const Table* gates = tables.table("bs-1362");
    if (!gates) return;
    for (std::size_t row = 0; row < gates->rows.size(); ++row) {
        const auto rating = gates->current(row, "rating"), current = gates->current(row, "current");
        const auto most = gates->duration(row, "max");
        if (rating && current && most && rating->value == *guard.rating)
            points.push_back({current->value, most->value, most->source, {}});
    }
}

std::vector<Point> points_of(const plan::Plan& plan, const Catalogue& tables, const Guard& guard) {
    std::vector<Point> points;
    if (!guard.known || !guard.rating) return points;
    if (breaker_with_letters(guard)) {
        // Without its letter the quickest point is missing, and the others alone would mislead.
        if (trip_band(plan, tables, guard)) add_breaker_points(points, plan, tables, guard);
    } else {
        add_loop_point(points, tables, guard);
        if (guard.standard == DeviceStandard::bs_1362) add_plug_fuse_gates(points, tables, guard);
    }
    return points;
}

}  // namespace

std::optional<TripBand> trip_band(const plan::Plan& plan, const Catalogue& tables, const Guard& guard) {
    if (!breaker_with_letters(guard) || !guard.rating) return std::nullopt;
    const auto* device = plan[guard.element].as<plan::Device>();
    const Table* bands = tables.table("iec-60898-instantaneous");
    if (!device || !device->curve.known() || !bands) return std::nullopt;
    const auto row = bands->row_of("curve", device->curve.word());
    const auto over = row ? bands->ratio(*row, "over") : std::nullopt,
               up_to = row ? bands->ratio(*row, "up_to") : std::nullopt;
    const auto certain = row ? bands->duration(*row, "certain_trip") : std::nullopt;
    if (!over || !up_to || !certain) return std::nullopt;
    return TripBand{*guard.rating * over->value, *guard.rating * up_to->value, *over, *up_to, *certain};
}

std::optional<Withstands> start_withstand(const plan::Plan& plan, const Catalogue& tables, const Guard& guard,
                                          bool longer_than_a_second) {
    if (!guard.known || !guard.rating) return std::nullopt;
    if (guard.standard == DeviceStandard::bs_1362) {
        const Table* gates = tables.table("bs-1362");
        const Table* thresholds = tables.table("thresholds");
        const auto wanted =
            thresholds ? thresholds->duration(longer_than_a_second ? Key("long_start") : Key("short_start"))
                       : std::nullopt;
        std::optional<Withstands> best;
        for (std::size_t row = 0; gates && wanted && row < gates->rows.size(); ++row) {
            const auto rating = gates->current(row, "rating"), current = gates->current(row, "current");
            const auto least = gates->duration(row, "min");
            if (!rating || !current || !least || rating->value != *guard.rating) continue;
            if (least->value < wanted->value || (best && best->current > current->value)) continue;
            best = Withstands{current->value, std::nullopt, least->value, least->source};
        }
        return best;
    }
    const auto band = trip_band(plan, tables, guard);
    if (!band) return std::nullopt;
    const Table* times = tables.table("iec-60898-times");
    const auto third = times ? times->ratio("third_current") : std::nullopt;
    const auto shortest = times ? times->duration("third_current_shortest") : std::nullopt;
    if (longer_than_a_second && third && shortest)
        return Withstands{*guard.rating * third->value, third, shortest->value, third->source};
    return Withstands{band->lower, band->lower_multiple, Duration{}, band->lower_multiple.source};
}

namespace {

Clearing clearing_at(const Point& point) {
    return {point.time, point.source, point.current, point.origin.multiple};
}

}  // namespace

std::optional<Clearing> latest_clearing(const plan::Plan& plan, const Catalogue& tables, const Guard& guard,
                                        Current current) {
    std::optional<Clearing> soonest;
    for (const Point& point : points_of(plan, tables, guard))
        if (current >= point.current * (1 - 1e-9) && (!soonest || point.time < soonest->latest))
            soonest = clearing_at(point);
    return soonest;
}

std::optional<Clearing> least_energy(const plan::Plan& plan, const Catalogue& tables, const Guard& guard,
                                     Current current, Duration longest) {
    std::optional<Clearing> least;
    for (const Point& point : points_of(plan, tables, guard)) {
        if (current < point.current * (1 - 1e-9) || point.time > longest * (1 + 1e-9)) continue;
        const Clearing here = clearing_at(point);
        if (!least || here.energy() < least->energy()) least = here;
    }
    return least;
}

std::optional<Opening> opens_within(const plan::Plan& plan, const Catalogue& tables, const Guard& guard,
                                    Duration time) {
    std::optional<Opening> least;
    for (const Point& point : points_of(plan, tables, guard))
        if (point.time <= time * (1 + 1e-9) && (!least || point.current < least->current))
            least = Opening{point.current, point.origin, point.source};
    return least;
}

}  // namespace benchfeed::network
