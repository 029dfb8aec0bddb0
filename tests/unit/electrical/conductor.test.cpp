// Resistance, drop, loops and heat of conductors: printed figures and physics.
#include <benchfeed/electrical/conductor.hpp>

#include <doctest/doctest.h>

#include <limits>

#include "support/prints_as.hpp"

using namespace benchfeed;
using namespace benchfeed::electrical;
using test::agrees;
using test::prints_as;

namespace {

const tables::Catalogue catalogue;
const Figures iec{catalogue, CodeFamily::iec}, nec{catalogue, CodeFamily::nec};

Wire metric(const char* construction, double mm2, Strands strands) {
    return {construction, section_of(mm2 * unit::mm2), Metal::copper, strands};
}
double per_kilometre(ImpedancePerLength r) {
    return in(unit::ohm_per_kilometre, r);
}

}  // namespace

TEST_CASE("copper by IEC 60228, warm as the cable is rated") {
    // Class 5, 1.5 mm2: 13.3 ohm/km plain and 13.7 tinned at 20 degC; 0.00393 1/K (IEC 60028); cords count 60
    // degC.
    const auto cord = conductor_data(metric("H07RN-F", 1.5, Strands::fine), iec);
    REQUIRE(cord);
    CHECK(agrees(per_kilometre(cord->cold), 13.7, 1e-12));
    CHECK(agrees(per_kilometre(cord->least), 13.3, 1e-12));
    CHECK(agrees(per_kilometre(cord->resistance), 13.7 * (1 + 0.00393 * 40), 1e-12));
    CHECK_FALSE(cord->substituted);
    // Class 1, 2.5 mm2: 7.41 ohm/km.
    const auto fixed = conductor_data(metric("PVC sheathed", 2.5, Strands::solid), iec);
    REQUIRE(fixed);
    CHECK(agrees(per_kilometre(fixed->cold), 7.41, 1e-12));
    CHECK(agrees(in_celsius(fixed->temperature), 70, 1e-12));
    // A section that is not printed has the resistance of the next smaller one, and says so.
    const auto between = conductor_data(metric("PVC sheathed", 2.0, Strands::solid), iec);
    REQUIRE(between);
    CHECK(between->substituted);
    CHECK(agrees(per_kilometre(between->cold), 12.1, 1e-12));
}

TEST_CASE("chapter 9 prints copper and aluminium, solid and stranded, at 75 degC") {
    // NEC chapter 9 Table 8, 12 AWG: copper solid 1.93, stranded 1.98 ohm/kft.
    const auto r = [](Strands strands) {
        const auto found = conductor_data({"NM-B", section_of(Awg{12}), Metal::copper, strands}, nec);
        REQUIRE(found);
        return in(unit::ohm_per_kilofoot, found->resistance);
    };
    CHECK(agrees(r(Strands::solid), 1.93, 1e-12));
    CHECK(agrees(r(Strands::stranded), 1.98, 1e-12));
    const auto aluminium =
        conductor_data({"THHN", section_of(Awg{12}), Metal::aluminium, Strands::stranded}, nec);
    REQUIRE(aluminium);
    CHECK(in(unit::ohm_per_kilofoot, aluminium->resistance) > 3);
}

TEST_CASE("what the tables do not have is missing, and named") {
    CHECK(conductor_data(metric("H09XX-F", 1.5, Strands::fine), iec).missing().row == "H09XX-F");
    CHECK(conductor_data(metric("PVC sheathed", 0.1, Strands::solid), iec).missing().table ==
          "iec-60228-class-1-2");
    CHECK_FALSE(conductor_data(
        {"PVC sheathed", section_of(16.0 * unit::mm2), Metal::aluminium, Strands::solid}, iec));
    CHECK(
        withstand({"NM-B", section_of(Awg{12}), Metal::copper, Strands::solid}, catalogue).missing().table ==
        "iec-43a");
}

TEST_CASE("a drop is current times the length there and back") {
    // Source   Electrician training course, Table 8 resistance 4.99 ohm/kft: 100 ft of 16 AWG, 4 A lose 4.0
    // V.
    const Run run{4.99 * unit::ohm_per_kilofoot, {}, 100.0 * unit::foot};
    CHECK(prints_as(in(unit::volt, voltage_drop(run, 4.0 * unit::ampere)), "4.0"));
    // With reactance 3 and 4 make 5, whatever the angle of the current.
    const Run slanted{3.0 * unit::ohm_per_kilometre, 4.0 * unit::ohm_per_kilometre, 100.0 * unit::metre, 1};
    CHECK(agrees(in(unit::volt, voltage_drop(slanted, 10.0 * unit::ampere)), 5, 1e-12));
    const auto phasor = rectangular(6.0 * unit::ampere, -8.0 * unit::ampere);
    const VoltagePhasor lost = voltage_drop(slanted, phasor);
    CHECK(agrees(in(unit::volt, magnitude(lost)), 5, 1e-12));
    CHECK(agrees(in(unit::volt, real_part(lost)), 6 * 0.3 + 8 * 0.4, 1e-12));
    CHECK(in(unit::volt, voltage_drop(run, 0.0 * unit::ampere)) == 0);
}

TEST_CASE("a loop is the source and every run of it, and the current what the volts drive through it") {
    // 0.35 ohm at the panel, 20 m of 1.5 mm2 (12.1 ohm/km) and its 1.0 mm2 protective core (18.1 ohm/km),
    // cold.
    const FaultLoop loop{0.35 * unit::ohm,
                         {{12.1 * unit::ohm_per_kilometre, {}, 20.0 * unit::metre, 1},
                          {18.1 * unit::ohm_per_kilometre, {}, 20.0 * unit::metre, 1}}};
    CHECK(agrees(in(unit::ohm, fault_loop(loop)), 0.35 + 0.242 + 0.362, 1e-12));
    // Source   T. Linsley, Basic Electrical Installation Work, p. 251: 1.15 ohm at 230 V are 200 A.
    CHECK(prints_as(in(unit::ampere, fault_current(230.0 * unit::volt, 1.15 * unit::ohm)), "200"));
    CHECK(agrees(in(unit::ampere, fault_current(230.0 * unit::volt, 1.15 * unit::ohm, 0.95 * unit::one)), 190,
                 1e-12));
}

TEST_CASE("a core withstands k^2 S^2 of its construction") {
    // IEC 60364-4-43 Table 43A: 115 for PVC, 143 for XLPE, 141 for rubber of 60 degC: 1.5 mm2 PVC (172.5)^2.
    const auto stands = [](const char* construction, double mm2) {
        const auto found = withstand(metric(construction, mm2, Strands::solid), catalogue);
        REQUIRE(found);
        return in(unit::ampere2_second, found->energy);
    };
    CHECK(agrees(stands("PVC sheathed", 1.5), 29756.25, 1e-12));
    CHECK(agrees(stands("H05VV-F", 1.0), 13225, 1e-12));
    CHECK(agrees(stands("XLPE sheathed", 2.5), 127806.25, 1e-12));
    CHECK(agrees(stands("H07RN-F", 1.5), 44732.25, 1e-12));
}

TEST_CASE("longest time and least section are two readings of one law") {
    const AdiabaticFactor k = 115.0 * unit::ampere_root_second_per_mm2;
    for (const double amps : {80.0, 200.0, 1500.0})
        for (const double seconds : {0.1, 0.4, 5.0}) {
            const Current current = amps * unit::ampere;
            const JouleIntegral stood =
                withstood_energy(k, least_section(current, seconds * unit::second, k));
            CHECK(agrees(in(unit::second, longest_time(stood, current)), seconds, 1e-12));
        }
}

TEST_CASE("lengths, resistances and sections that no run has are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {nan, -1.0}) {
        CAPTURE(bad);
        CHECK_THROWS_WITH_AS((void)impedance_of({12.1 * unit::ohm_per_kilometre, {}, bad * unit::metre}),
                             "Run::length: a finite number, not below zero", Refused);
        CHECK_THROWS_AS((void)impedance_of({bad * unit::ohm_per_kilometre, {}, 1.0 * unit::metre}), Refused);
        CHECK_THROWS_AS(
            (void)voltage_drop({12.1 * unit::ohm_per_kilometre, {}, 1.0 * unit::metre}, bad * unit::ampere),
            Refused);
        CHECK_THROWS_AS((void)fault_loop({bad * unit::ohm, {}}), Refused);
        CHECK_THROWS_AS((void)fault_current(230.0 * unit::volt, bad * unit::ohm), Refused);
        CHECK_THROWS_AS((void)conductor_data(metric("H07RN-F", bad, Strands::fine), iec), Refused);
        CHECK_THROWS_AS((void)withstand(metric("H07RN-F", bad, Strands::fine), catalogue), Refused);
    }
    CHECK_THROWS_AS((void)fault_current(230.0 * unit::volt, 0.0 * unit::ohm), Refused);
}
