// Currents of plates: published worked examples, physics, and what a record may not hold.
#include <benchfeed/electrical/load.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "support/prints_as.hpp"

using namespace benchfeed;
using namespace benchfeed::electrical;
using test::agrees;
using test::prints_as;

namespace {

const tables::Catalogue catalogue;
const Figures iec{catalogue, CodeFamily::iec}, nec{catalogue, CodeFamily::nec};
const SupplyVolts at_230{230.0 * unit::volt}, at_115{115.0 * unit::volt};

double amps(const LoadCurrent& found) {
    return in(unit::ampere, found.current);
}

}  // namespace

TEST_CASE("plate amps stand by themselves, and printed watts beside them give the power factor") {
    Nameplate plate;
    plate.current = 5.2 * unit::ampere;
    plate.motor = Motor::universal;
    const auto alone = load_current(plate, at_230, iec);
    CHECK(alone.from == CurrentFrom::plate_current);
    CHECK(amps(alone) == 5.2);
    CHECK_FALSE(alone.power_factor_known);
    plate.power_in = 1000.0 * unit::watt;
    const auto both = load_current(plate, at_230, iec);
    CHECK(both.power_factor_known);
    CHECK(agrees(in(unit::one, both.power_factor), 1000 / (230 * 5.2), 1e-12));
    plate.power_in = 2000.0 * unit::watt;  // more than volts times amps: no power factor is above 1
    CHECK(in(unit::one, load_current(plate, at_230, iec).power_factor) == 1);
}

TEST_CASE("shaft power by power factor and efficiency") {
    // Source   UK electrical training blog, volt drop worked example: 4.5 kW, efficiency 0.75, 230 V, pf
    // 0.7: 37.3 A.
    Nameplate plate;
    plate.power_out = 4.5 * unit::kilowatt;
    plate.efficiency = 0.75 * unit::one;
    plate.power_factor = 0.7 * unit::one;
    plate.motor = Motor::induction;
    CHECK(prints_as(amps(load_current(plate, at_230, iec)), "37.3"));
    // The same watts on three lines: sqrt(3) of the volts between lines.
    const auto three = load_current(plate, {400.0 * unit::volt, true}, iec);
    CHECK(agrees(amps(three), 4500 / (std::sqrt(3.0) * 400 * 0.7 * 0.75), 1e-12));
}

TEST_CASE("a heater draws its watts by its volts, at the lower end of a printed range") {
    // Source   Trade press answer on an immersion heater from a socket-outlet: 3 kW at 230 V, 13 A.
    Nameplate plate;
    plate.power_in = 3.0 * unit::kilowatt;
    plate.motor = Motor::none;
    const auto found = load_current(plate, at_230, iec);
    CHECK(prints_as(amps(found), "13"));
    CHECK(found.power_factor_known);
    CHECK_FALSE(found.assumed_power_factor);
    plate.voltage = VoltageRange{220.0 * unit::volt, 240.0 * unit::volt};
    CHECK(agrees(amps(load_current(plate, at_230, iec)), 3000.0 / 220, 1e-12));
}

TEST_CASE("what the plate does not print is assumed at the low end of its kind, and told") {
    // Table motor-kinds: induction 0.7 and 0.6; of an unknown kind the least of all, 0.5 and 0.5.
    Nameplate plate;
    plate.power_out = 1.0 * unit::kilowatt;
    plate.motor = Motor::induction;
    const auto induction = load_current(plate, at_230, iec);
    CHECK(agrees(amps(induction), 1000 / (230 * 0.7 * 0.6), 1e-12));
    REQUIRE(induction.assumed_power_factor);
    REQUIRE(induction.assumed_efficiency);
    CHECK(induction.assumed_power_factor->source.table == "motor-kinds");
    plate.motor.reset();
    CHECK(agrees(amps(load_current(plate, at_230, iec)), 1000 / (230 * 0.5 * 0.5), 1e-12));
}

TEST_CASE("horsepower goes by the motor table of the NEC, elsewhere by watts") {
    // Source   EC&M, Motor calculations part 2 (1 hp, 115 V: 16 A); online NEC lesson (5 hp, 230 V: 28 A).
    Nameplate plate;
    plate.rated_horsepower = 1.0 * unit::horsepower;
    plate.motor = Motor::induction;
    const auto one = load_current(plate, at_115, nec);
    CHECK(one.from == CurrentFrom::horsepower_table);
    CHECK(amps(one) == 16);
    plate.rated_horsepower = 5.0 * unit::horsepower;
    CHECK(amps(load_current(plate, at_230, nec)) == 28);
    const auto watts = load_current(plate, at_230, iec);
    CHECK(watts.from == CurrentFrom::horsepower);
    CHECK(agrees(amps(watts), 5 * 746 / (230 * 0.7 * 0.6), 1e-12));
    plate.rated_horsepower = 12.0 * unit::horsepower;  // beyond the last row
    CHECK(load_current(plate, at_230, nec).from == CurrentFrom::horsepower);
    // 430.250: 3 hp on three lines of 460 V, 4.8 A; 430.248 prints nothing for them.
    const auto three = motor_table_current(nec, true, 3.0 * unit::horsepower, 460.0 * unit::volt);
    REQUIRE(three);
    CHECK(in(unit::ampere, three->value) == 4.8);
    CHECK_FALSE(motor_table_current(nec, false, 3.0 * unit::horsepower, 460.0 * unit::volt));
    CHECK_FALSE(motor_table_current(nec, true, 3.0 * unit::horsepower, 115.0 * unit::volt));
}

TEST_CASE("of an empty plate nothing is known") {
    CHECK(load_current({}, at_230, iec).from == CurrentFrom::unknown);
    CHECK_FALSE(start_current({}, at_230, {}, iec));
}

TEST_CASE("starts by the plate, by the letter and by the kind of motor") {
    Nameplate plate;
    plate.current = 9.8 * unit::ampere;
    plate.motor = Motor::induction;
    const auto running = load_current(plate, at_115, nec);
    const auto by_kind = start_current(plate, at_115, running, nec);
    REQUIRE(by_kind);  // table motor-kinds: 4 to 8 times
    CHECK(agrees(in(unit::ampere, by_kind->start.low), 4 * 9.8, 1e-12));
    CHECK(agrees(in(unit::ampere, by_kind->start.high), 8 * 9.8, 1e-12));
    // NEC Table 430.7(B): K is 8 to 8.99 kVA/hp; 1/2 hp at 115 V: 8 * 0.5 * 1000 / 115 = 34.8 A to 39.1 A.
    plate.code_letter = "K";
    plate.shaft = 0.5 * unit::horsepower;
    const auto by_letter = start_current(plate, at_115, running, nec);
    REQUIRE(by_letter);
    CHECK(prints_as(in(unit::ampere, by_letter->start.low), "34.8"));
    CHECK(prints_as(in(unit::ampere, by_letter->start.high), "39.1"));
    plate.code_letter = "I";  // no such letter: by the kind of motor
    CHECK(start_current(plate, at_115, running, nec)->start.from == Start::From::motor_kind);
    plate.start_current = 33.0 * unit::ampere;
    CHECK(in(unit::ampere, start_current(plate, at_115, running, nec)->start.high) == 33);
    plate.motor = Motor::none;
    CHECK_FALSE(start_current(plate, at_115, running, nec));
}

TEST_CASE("a record that no plate can have is refused, and says which member") {
    const double nan = std::numeric_limits<double>::quiet_NaN(),
                 inf = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, inf, -1.0}) {
        CAPTURE(bad);
        Nameplate plate;
        plate.current = bad * unit::ampere;
        CHECK_THROWS_WITH_AS((void)load_current(plate, at_230, iec),
                             "Nameplate::current: a finite number, not below zero", Refused);
        plate = {};
        plate.power_in = bad * unit::watt;
        CHECK_THROWS_AS((void)load_current(plate, at_230, iec), Refused);
        plate = {};
        plate.power_out = 1.0 * unit::kilowatt;
        plate.efficiency = bad * unit::one;
        CHECK_THROWS_WITH_AS((void)load_current(plate, at_230, iec),
                             "Nameplate::efficiency: a finite number above zero", Refused);
        CHECK_THROWS_AS((void)load_current({}, {bad * unit::volt}, iec), Refused);
        plate = {};
        plate.start_current = bad * unit::ampere;
        CHECK_THROWS_AS((void)start_current(plate, at_230, {}, iec), Refused);
    }
    Nameplate plate;
    plate.power_factor = 0.0 * unit::one;
    CHECK_THROWS_AS((void)load_current(plate, at_230, iec), Refused);
}
