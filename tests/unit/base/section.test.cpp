#include <doctest/doctest.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/base/section.hpp>
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::prints_as;

// Source   ASTM B258: diameters to four decimals of an inch, and circular mils of NEC chapter 9 table 8.
TEST_CASE("AWG diameters and areas are those of the printed tables") {
    struct Row {
        int gauge;
        const char* inches;
        double circular_mils;  // NEC prints them rounded to four digits
    };
    for (const Row& row : {Row{18, "0.0403", 1620}, Row{14, "0.0641", 4110}, Row{12, "0.0808", 6530},
                           Row{10, "0.1019", 10380}, Row{6, "0.1620", 26240}, Row{-3, "0.4600", 211600}}) {
        CAPTURE(row.gauge);
        CHECK(prints_as(in(unit::inch, awg_diameter(Awg{row.gauge})), row.inches));
        CHECK(test::agrees(in(unit::circular_mil, awg_area(Awg{row.gauge})), row.circular_mils, 0.003));
    }
}

TEST_CASE("AWG and mm2 in both directions, and the next standard size") {
    CHECK(prints_as(in(unit::mm2, awg_area(Awg{12})), "3.31"));
    CHECK(prints_as(in(unit::mm2, awg_area(Awg{14})), "2.08"));
    CHECK(prints_as(in(unit::mm2, awg_area(Awg{0})), "53.5"));
    CHECK(section_equivalent(section_of(Awg{12})) == "12 AWG = 3.31 mm2, next standard size 4 mm2");
    CHECK(section_equivalent(section_of(1.5 * unit::mm2)) ==
          "1.5 mm2 lies between 16 AWG and 14 AWG (1.31 mm2 and 2.08 mm2)");
    CHECK(next_metric_size(2.6 * unit::mm2) == 4.0 * unit::mm2);
    CHECK(next_metric_size(2.5 * unit::mm2) == 2.5 * unit::mm2);
    CHECK_FALSE(next_metric_size(121.0 * unit::mm2).has_value());
    CHECK(next_awg_size(2.0 * unit::mm2) == Awg{14});
    CHECK(next_awg_size(2.1 * unit::mm2) == Awg{12});
    CHECK(section_text(section_of(Awg{0})) == "1/0 AWG");
    CHECK_FALSE(section_of(Awg{14}) == section_of(awg_area(Awg{14})));  // never taken for one another
}

TEST_CASE("a lower gauge number is always the thicker wire") {
    for (int gauge = 36; gauge > -3; --gauge) CHECK(awg_area(Awg{gauge}) < awg_area(Awg{gauge - 1}));
}
