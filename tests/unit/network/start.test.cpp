#include <benchfeed/network/start.hpp>

#include <doctest/doctest.h>

#include <string>

#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using network::Start;
using test::agrees;
using test::catalogue;
using test::judged;
using test::prints_as;

namespace {

/// The start of a load with these fields on a supply of 230 V (EU) or 120 V (US).
std::optional<network::StartCurrent> start_of(const std::string& region, const std::string& load) {
    const Judged plan = judged(
        "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" +
        (region == "US" ? "120 V" : "230 V") + "\"\n[load.x]\nfrom = \"supply.s\"\n" + load);
    const auto s = plan.situation();
    return network::start_current(s.plan, catalogue(), s.network.loads.at(0));
}
double low(const std::optional<network::StartCurrent>& found) {
    REQUIRE(found.has_value());
    return in(unit::ampere, found->start.low);
}
double high(const std::optional<network::StartCurrent>& found) {
    REQUIRE(found.has_value());
    return in(unit::ampere, found->start.high);
}
std::string motor(const std::string& kind, const std::string& plate, const std::string& more = "") {
    return "motor = \"" + kind + "\"\n" + more + "plate = { " + plate + " }\n";
}

}  // namespace

TEST_CASE("what the plate prints is both ends of the start") {
    const auto found = start_of("EU", motor("induction", "current = \"6 A\", start_current = \"33 A\""));
    CHECK(agrees(low(found), 33, 1e-12));
    CHECK(agrees(high(found), 33, 1e-12));
    CHECK(found->start.from == Start::From::plate);
    CHECK(found->start.longer_than_a_second);
}

TEST_CASE("the kind of motor gives a range of the running current") {
    // Multiples of common practice (table motor-kinds): universal 3 to 6, induction 4 to 8, electronic 1
    // to 2.
    struct Kind {
        const char *motor, *more;
        double low, high;
        bool lasts;
    };
    for (const Kind& kind :
         {Kind{"universal", "", 3, 6, false}, Kind{"induction", "", 4, 8, true},
          Kind{"electronic", "", 1, 2, false}, Kind{"universal", "soft_start = true\n", 1, 2, false},
          Kind{"induction", "soft_start = true\n", 2, 4, false}})
        for (const int amps : {2, 10}) {
            CAPTURE(kind.motor);
            CAPTURE(kind.more);
            const auto found =
                start_of("EU", motor(kind.motor, "current = \"" + std::to_string(amps) + " A\"", kind.more));
            CHECK(agrees(low(found), kind.low * amps, 1e-12));
            CHECK(agrees(high(found), kind.high * amps, 1e-12));
            CHECK(found->start.longer_than_a_second == kind.lasts);
            CHECK(found->start.from == Start::From::motor_kind);
        }
}

TEST_CASE("an unknown kind of motor spans what every kind may do") {
    const auto unknown = start_of("EU", motor("unknown", "current = \"10 A\""));
    for (const char* kind : {"universal", "induction", "electronic"}) {
        const auto known = start_of("EU", motor(kind, "current = \"10 A\""));
        CHECK(low(unknown) <= low(known));
        CHECK(high(unknown) >= high(known));
        CHECK(in(unit::one, unknown->start.low_power_factor) <= in(unit::one, known->start.low_power_factor));
    }
    CHECK(agrees(low(unknown), 10, 1e-12));
    CHECK(agrees(high(unknown), 80, 1e-12));
    CHECK(unknown->start.longer_than_a_second);
}

TEST_CASE("what has no motor has no start") {
    CHECK_FALSE(start_of("EU", motor("none", "current = \"10 A\"")).has_value());
    CHECK_FALSE(start_of("EU", motor("none", "power_in = \"2 kW\"", "kind = \"heater\"\n")).has_value());
    CHECK_FALSE(start_of("EU", motor("unknown", "current = \"0.1 A\"", "kind = \"light\"\n")).has_value());
    CHECK(start_of("EU", motor("electronic", "current = \"0.1 A\"", "kind = \"light\"\n")).has_value());
}

TEST_CASE("a code letter gives kVA per horsepower at locked rotor") {
    // NEC Table 430.7(B): K is 8 to 8.99 kVA/hp; 1/2 hp at 115 V: 8 * 0.5 * 1000 / 115 = 34.8 A to 39.1 A.
    const auto found = start_of("US", motor("induction",
                                            "horsepower = \"1/2 hp\", horsepower_kind = \"rated\", voltage = "
                                            "\"115 V\", code_letter = \"K\""));
    CHECK(found->start.from == Start::From::code_letter);
    CHECK(prints_as(low(found), "34.8"));
    CHECK(prints_as(high(found), "39.1"));
    // NEC Table 430.251(A): 1/2 hp, 115 V: 58.8 A is the most; a letter of 13.5 kVA/hp, P.
    const auto table = start_of("US", motor("induction",
                                            "horsepower = \"1/2 hp\", horsepower_kind = \"rated\", voltage = "
                                            "\"115 V\", code_letter = \"P\""));
    CHECK(low(table) < 58.8);
    CHECK(high(table) > 58.8);
}

TEST_CASE("a letter says nothing about a peak horsepower, nor about a start that electronics soften") {
    const auto peak = start_of(
        "US",
        motor("universal",
              "current = \"12 A\", horsepower = \"6 hp\", horsepower_kind = \"peak\", code_letter = \"K\""));
    CHECK(peak->start.from == Start::From::motor_kind);
    const auto soft =
        start_of("US", motor("induction",
                             "current = \"10 A\", horsepower = \"1/2 hp\", horsepower_kind = \"rated\", "
                             "voltage = \"115 V\", code_letter = \"K\"",
                             "soft_start = true\n"));
    CHECK(soft->start.from == Start::From::motor_kind);
    CHECK(agrees(high(soft), 40, 1e-12));
}

TEST_CASE("no start draws less than the run") {
    // Letter A begins at zero kVA per horsepower.
    const auto found = start_of("US", motor("induction",
                                            "current = \"9.8 A\", horsepower = \"1/2 hp\", horsepower_kind = "
                                            "\"rated\", voltage = \"115 V\", code_letter = \"A\""));
    CHECK(agrees(low(found), 9.8, 1e-12));
    CHECK(high(found) > low(found));
}

TEST_CASE("three lines share the locked-rotor power") {
    for (const double kva : {4.0, 6.29})
        for (const double hp : {0.5, 3.0, 20.0}) {
            const Current one =
                electrical::locked_rotor_current(kva, hp * unit::horsepower, 230.0 * unit::volt, false);
            const Current three =
                electrical::locked_rotor_current(kva, hp * unit::horsepower, 230.0 * unit::volt, true);
            CHECK(agrees(in(unit::watt, Power((230.0 * unit::volt) * one)), kva * hp * 1000, 1e-12));
            CHECK(agrees(in(three, one), std::sqrt(3.0), 1e-12));
        }
}
