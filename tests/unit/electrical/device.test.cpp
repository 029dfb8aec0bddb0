// Bands and points of devices, by the figures of their standards.
#include <benchfeed/electrical/device.hpp>

#include <doctest/doctest.h>

#include <limits>

#include "support/prints_as.hpp"

using namespace benchfeed;
using namespace benchfeed::electrical;
using test::agrees;
using test::prints_as;

namespace {

const tables::Catalogue catalogue;

ProtectiveDevice breaker(double amps, std::optional<Curve> curve) {
    return {DeviceStandard::iec_60898, amps * unit::ampere, curve};
}
ProtectiveDevice fuse(DeviceStandard standard, double amps) {
    return {standard, amps * unit::ampere, {}};
}
double seconds(const std::optional<Clearing>& found) {
    return found ? in(unit::second, found->latest) : 0;
}
double opens(const ProtectiveDevice& device, double within) {
    const auto found = opens_within(device, catalogue, within * unit::second);
    return found ? in(unit::ampere, found->current) : 0;
}

}  // namespace

TEST_CASE("bands of breakers by letter") {
    // IEC 60898-1 Tables 2 and 7: over 3 up to 5, over 5 up to 10, over 10 up to 20 times the rating, 0.1 s.
    const auto b = trip_band(breaker(16, Curve::b), catalogue),
               c = trip_band(breaker(16, Curve::c), catalogue),
               d = trip_band(breaker(16, Curve::d), catalogue);
    REQUIRE(b);
    REQUIRE(c);
    REQUIRE(d);
    CHECK(in(unit::ampere, b->lower) == 48);
    CHECK(in(unit::ampere, b->upper) == 80);
    CHECK(in(unit::ampere, c->upper) == 160);
    CHECK(in(unit::ampere, d->upper) == 320);
    CHECK(b->certain.written == "0.1 s");
    CHECK(b->upper_multiple.source.table == "iec-60898-instantaneous");
    CHECK_FALSE(trip_band(breaker(16, {}), catalogue));
    CHECK_FALSE(trip_band({DeviceStandard::ul_489, 20.0 * unit::ampere, Curve::b}, catalogue));
    CHECK_FALSE(trip_band(fuse(DeviceStandard::iec_60269_gg, 16), catalogue));
}

TEST_CASE("a B16 at 80 A opens in a tenth of a second, at 1.45 In in an hour") {
    const ProtectiveDevice b16 = breaker(16, Curve::b);
    CHECK(seconds(latest_clearing(b16, catalogue, 80.0 * unit::ampere)) == 0.1);
    CHECK(seconds(latest_clearing(b16, catalogue, 79.0 * unit::ampere)) == 60);  // 2.55 In, up to 32 A
    CHECK(seconds(latest_clearing(b16, catalogue, 23.2 * unit::ampere)) == 3600);
    CHECK_FALSE(latest_clearing(b16, catalogue, 23.1 * unit::ampere));
    CHECK(seconds(latest_clearing(breaker(80, Curve::b), catalogue, 116.0 * unit::ampere)) == 7200);
    CHECK(seconds(latest_clearing(breaker(40, Curve::b), catalogue, 102.0 * unit::ampere)) == 120);
    // 5 * 16 A for 0.1 s: 640 A2s, and so at 6 kA.
    const auto energy = least_energy(b16, catalogue, 6.0 * unit::kiloampere, 5.0 * unit::second);
    REQUIRE(energy);
    CHECK(agrees(in(unit::ampere2_second, energy->energy()), 640, 1e-12));
}

TEST_CASE("plug fuses by the gates of BS 1362") {
    // 13 A: 1 to 400 s at 30 A, 0.1 to 20 s at 50 A; 3 A: 0.02 to 80 s at 9 A, up to 0.1 s at 20 A.
    const auto thirteen = fuse(DeviceStandard::bs_1362, 13), three = fuse(DeviceStandard::bs_1362, 3);
    CHECK(seconds(latest_clearing(thirteen, catalogue, 30.0 * unit::ampere)) == 400);
    CHECK(seconds(latest_clearing(thirteen, catalogue, 50.0 * unit::ampere)) == 20);
    CHECK(seconds(latest_clearing(three, catalogue, 20.0 * unit::ampere)) == 0.1);
    CHECK(in(unit::ampere, start_withstand(thirteen, catalogue, true)->current) == 30);
    CHECK(in(unit::ampere, start_withstand(thirteen, catalogue, false)->current) == 50);
    CHECK_FALSE(start_withstand(three, catalogue, false));  // no gate says that it lasts a tenth of a second
}

TEST_CASE("fuses open in 0.4 s at the current of their printed loop impedance") {
    // BS 7671 Table 41.2, 0.95 * 230 V / Zs: BS 1362 13 A 2.30 ohm: 95 A; 3 A 15.6 ohm: 14.0 A; BS 88-3 16 A,
    // BS 88-2 20 A.
    CHECK(prints_as(opens(fuse(DeviceStandard::bs_1362, 13), 0.4), "95"));
    CHECK(prints_as(opens(fuse(DeviceStandard::bs_1362, 3), 0.4), "14.0"));
    CHECK(opens(fuse(DeviceStandard::bs_88_3, 16), 0.4) > 0);
    CHECK(opens(fuse(DeviceStandard::bs_88_2, 20), 0.4) > 0);
    CHECK(opens(fuse(DeviceStandard::bs_3036, 30), 0.4) > 0);
    CHECK(opens(fuse(DeviceStandard::bs_1361, 15), 0.4) > 0);
    CHECK(opens(fuse(DeviceStandard::iec_60269_gg, 16), 0.4) == 0);  // nobody prints one
    CHECK(opens(fuse(DeviceStandard::bs_1362, 12), 0.4) == 0);       // no such rating is printed
}

TEST_CASE("what devices of a standard do") {
    using Rule = Functions::CableRule;
    const auto of = [](DeviceStandard standard) { return functions_of(standard, catalogue); };
    CHECK(of(DeviceStandard::iec_60898).overload);
    CHECK(of(DeviceStandard::iec_60898).cable_rule == Rule::at_most_ampacity);
    CHECK(of(DeviceStandard::iec_61009).always_residual);
    CHECK_FALSE(of(DeviceStandard::iec_61008).overload);
    CHECK(of(DeviceStandard::iec_60269_gg).cable_rule == Rule::gg);
    CHECK_FALSE(of(DeviceStandard::iec_60269_am)
                    .overload);  // it protects a motor's cable against short circuit alone
    CHECK(of(DeviceStandard::iec_60269_am).short_circuit);
    CHECK(of(DeviceStandard::bs_1362).cable_rule == Rule::cord_fuse);
    CHECK(of(DeviceStandard::bs_3036).cable_rule == Rule::rewirable);
    CHECK(of(DeviceStandard::ul_489).cable_rule == Rule::nec);
    CHECK(of(DeviceStandard::ul_943).always_residual);
}

TEST_CASE("a rating that no device can have is refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN(),
                 inf = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, inf, -16.0, 0.0}) {
        CAPTURE(bad);
        const ProtectiveDevice device = breaker(bad, Curve::b);
        CHECK_THROWS_WITH_AS((void)trip_band(device, catalogue),
                             "ProtectiveDevice::rating: a finite number above zero", Refused);
        CHECK_THROWS_AS((void)start_withstand(device, catalogue, true), Refused);
        CHECK_THROWS_AS((void)latest_clearing(device, catalogue, 80.0 * unit::ampere), Refused);
        CHECK_THROWS_AS((void)opens_within(device, catalogue, 0.4 * unit::second), Refused);
    }
    CHECK_THROWS_AS((void)latest_clearing(breaker(16, Curve::b), catalogue, nan * unit::ampere), Refused);
    CHECK_THROWS_AS((void)opens_within(breaker(16, Curve::b), catalogue, -0.4 * unit::second), Refused);
}
