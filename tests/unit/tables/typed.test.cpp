// Tables by compiled names: every figure here is read from the file of its table, where it stands in print.
#include <doctest/doctest.h>

#include <benchfeed/figures/control_cores.hpp>
#include <benchfeed/figures/iec_411_3_3.hpp>
#include <benchfeed/figures/iec_41_1.hpp>
#include <benchfeed/figures/iec_54_2.hpp>
#include <benchfeed/figures/nec_250_122.hpp>
#include <benchfeed/figures/nec_314_16_b.hpp>
#include <benchfeed/figures/region_words.hpp>
#include <benchfeed/figures/regions.hpp>
#include <benchfeed/figures/residual_practice.hpp>
#include <benchfeed/figures/sheet_tests.hpp>
#include <benchfeed/figures/terminal_fit.hpp>
#include <benchfeed/figures/terminal_ranges.hpp>

using namespace benchfeed;
using namespace benchfeed::tables;

namespace {
const Catalogue catalogue;
}  // namespace

TEST_CASE("a fact has its quantity, its digits and its source") {
    const Figure<Current> trip = figures::iec_411_3_3::trip(catalogue);
    CHECK(in(unit::milliampere, trip.value) == doctest::Approx(30));
    CHECK(trip.written == "30 mA");
    CHECK(trip.source.table == "iec-411-3-3");
    CHECK(trip.source.row == "trip");
    CHECK(trip.source.grade == Grade::one_source);
    const auto formula = figures::iec_41_1::tt_note(catalogue);
    CHECK(formula.value.starts_with("TN times apply in TT"));
    CHECK(formula.source.row == "tt_note");
}

TEST_CASE("a row is found by its range, and is missing below the first") {
    const auto row = figures::iec_41_1::in_range(catalogue, 230.0 * unit::volt);
    REQUIRE(row);
    CHECK(in(unit::second, row->tn_ac().value) == 0.4);
    CHECK(in(unit::second, row->tt_ac().value) == 0.2);
    const auto open = figures::iec_41_1::in_range(catalogue, 500.0 * unit::volt);
    REQUIRE(open);
    CHECK_FALSE(open->u0_to());  // "-": open above
    CHECK(in(unit::second, open->tn_ac().value) == 0.1);
    const auto none = figures::iec_41_1::in_range(catalogue, 24.0 * unit::volt);
    REQUIRE_FALSE(none);
    CHECK(none.missing().table == "iec-41-1");
    CHECK(none.missing().row == "24 V");
}

TEST_CASE("what is missing stays so whatever would be made of it") {
    const auto time = [](const figures::iec_41_1::Row& row) { return row.tn_ac().value; };
    const Found<Duration> found = figures::iec_41_1::in_range(catalogue, 120.0 * unit::volt).then(time);
    REQUIRE(found);
    CHECK(in(unit::second, *found) == 0.8);
    const Found<Duration> none = figures::iec_41_1::in_range(catalogue, 12.0 * unit::volt).then(time);
    CHECK(none.missing().row == "12 V");
}

TEST_CASE("a word of a closed column is an enumerator, and has its row") {
    using Of = figures::control_cores;
    CHECK(in(unit::one, Of::at(catalogue, Of::Button::stop).live().value) == 2);
    CHECK(in(unit::one, Of::at(catalogue, Of::Button::start_and_stop).live().value) == 3);
    using Fit = figures::terminal_fit;
    const auto fine = Fit::at(catalogue, "cage", "fine");
    REQUIRE(fine);
    CHECK(fine->bare() == Fit::Bare::care);
    CHECK(fine->ferrule() == Fit::Ferrule::yes);
    CHECK(fine->ring() == Fit::Ring::no);
    CHECK(fine->source(Fit::Column::ferrule).grade == Grade::one_source);
    CHECK(Fit::at(catalogue, "cage", "braided").missing().row == "cage, braided");
}

TEST_CASE("sections are found as they are printed, and never converted") {
    const auto printed = figures::nec_314_16_b::at(catalogue, section_of(Awg{12}));
    REQUIRE(printed);
    CHECK(in(unit::in3, printed->volume().value) == doctest::Approx(2.25));
    CHECK(figures::nec_314_16_b::at(catalogue, section_of(2.5 * unit::mm2)).missing().row == "2.5 mm2");
    const auto below = figures::nec_314_16_b::below(catalogue, section_of(4.0 * unit::mm2));
    REQUIRE(below);  // 12 AWG is 3.31 mm2, 10 AWG 5.26 mm2
    CHECK(below->size().value.gauge == Awg{12});
    CHECK_FALSE(figures::nec_314_16_b::below(catalogue, section_of(0.5 * unit::mm2)));
    const auto thick = figures::iec_54_2::in_range(catalogue, section_of(25.0 * unit::mm2));
    REQUIRE(thick);
    CHECK(thick->pe() == figures::iec_54_2::Pe::n16);
}

TEST_CASE("rows that rise are found at, above and below a number, whatever its last bits") {
    using Of = figures::nec_250_122;
    const auto at = Of::device_at_or_above(catalogue, 20.0 * (1 + 1e-12) * unit::ampere);
    REQUIRE(at);
    CHECK(at->cu().value.gauge == Awg{12});
    const auto above = Of::device_at_or_above(catalogue, 21.0 * unit::ampere);
    REQUIRE(above);
    CHECK(in(unit::ampere, above->device().value) == 60);
    const auto below = Of::device_at_or_below(catalogue, 59.0 * unit::ampere);
    REQUIRE(below);
    CHECK(in(unit::ampere, below->device().value) == 20);
    CHECK(Of::device_at_or_above(catalogue, 1200.0 * unit::ampere).missing().row == "1200 A");
}

TEST_CASE("a table prints nothing for some rows, and says so") {
    const auto lever = figures::terminal_ranges::at(catalogue, "lever");
    const auto plug = figures::terminal_ranges::at(catalogue, "BS 1363");
    REQUIRE(lever);
    REQUIRE(plug);
    REQUIRE(lever->least());
    CHECK(in(unit::mm2, lever->least()->value.area) == doctest::Approx(0.2));
    CHECK_FALSE(plug->least());
    CHECK(in(unit::mm2, plug->most().value.area) == doctest::Approx(1.5));
}

TEST_CASE("each region has what rules ask of a region, and what a cell names is there") {
    for (const auto region : figures::regions::rows(catalogue)) {
        const auto residual = figures::residual_practice::at(catalogue, region.region());
        REQUIRE(residual);
        CHECK(residual->trip(catalogue).value > 0.0 * unit::ampere);
        CHECK(figures::region_words::at(catalogue, region.region()));
        CHECK(figures::sheet_tests::at(catalogue, region.region()));
    }
    const auto eu = figures::residual_practice::at(catalogue, "EU");
    REQUIRE(eu);
    CHECK(in(unit::milliampere, eu->trip(catalogue).value) == doctest::Approx(30));
    CHECK(in(unit::ampere, eu->outlets(catalogue)->value) == 32);
    const auto us = figures::residual_practice::at(catalogue, "US");
    REQUIRE(us);
    CHECK(in(unit::milliampere, us->trip(catalogue).value) == doctest::Approx(6));
    CHECK_FALSE(us->outlets(catalogue));
}
