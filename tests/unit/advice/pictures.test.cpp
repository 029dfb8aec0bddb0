// What a report draws: the figures by which check judges, and those worked by hand.
#include <benchfeed/advice/pictures.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using test::judged;

namespace {

std::string demo(const std::string& name) {
    return test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml");
}

}  // namespace

TEST_CASE("the weakest bar is the weakest element of the judgement, and there is one") {
    for (const std::string name : {"heron-lane", "crooked-barn", "maple-row", "hawthorn-yard"}) {
        CAPTURE(name);
        const Judged bench = judged(demo(name));
        const auto bars = advice::load_bars(bench.situation(), bench.judgement());
        double most = 0;
        for (std::size_t set = 0; set < bench.plan().sets.size(); ++set)
            most = std::max(most, bench.judgement().weakest[set].share);
        CHECK(std::count_if(bars.begin(), bars.end(), [](const auto& bar) { return bar.weakest; }) == 1);
        for (const auto& bar : bars) {
            CHECK(in(unit::one, bar.share) <= most * (1 + 1e-3));
            if (bar.weakest) CHECK(in(unit::one, bar.share) == doctest::Approx(most));
        }
    }
}

TEST_CASE("volts at a load are those of volts.running-drop, and never rise along the way") {
    std::size_t compared = 0;
    for (const std::string name : {"heron-lane", "crooked-barn", "maple-row", "hawthorn-yard"}) {
        CAPTURE(name);
        const Judged bench = judged(demo(name));
        const auto s = bench.situation();
        for (const auto& picture : advice::volt_pictures(s, bench.judgement())) {
            for (const auto& path : picture.paths) {
                for (std::size_t i = 1; i < path.places.size(); ++i)
                    CHECK(picture.places[path.places[i]].volts <= picture.places[path.places[i - 1]].volts);
                CHECK(in(unit::volt, picture.places[path.places.front()].volts) ==
                      doctest::Approx(in(unit::volt, picture.nominal)));
                for (const auto& o : bench.judgement().outcomes) {
                    const bool here = rules::registry()[o.rule].id == "volts.running-drop" &&
                                      o.set == picture.set && o.at == rules::at_element(path.load) &&
                                      std::holds_alternative<Ratio>(o.value);
                    if (!here) continue;
                    CHECK(in(unit::one, picture.places[path.places.back()].lost) ==
                          doctest::Approx(in(unit::one, std::get<Ratio>(o.value))));
                    ++compared;
                }
            }
        }
    }
    CHECK(compared >= 12);
}

TEST_CASE("volts of a chain, by hand") {
    const Judged bench = judged(demo("heron-lane"));
    const auto pictures = advice::volt_pictures(bench.situation(), bench.judgement());
    REQUIRE(pictures.size() == 3);
    const auto& sawing = pictures.front();
    // 12.34 A through 18 m of 2.5 mm2 at 70 degC: 2 * 18 * 12.34 * 7.41 mohm/m * 1.1965 = 3.94 V.
    REQUIRE(sawing.places.size() == 8);
    CHECK(in(unit::volt, sawing.places[1].volts) == doctest::Approx(230 - 3.94).epsilon(1e-3));
    REQUIRE(sawing.edge.has_value());
    CHECK(sawing.edge->fails);
    CHECK(in(unit::volt, sawing.edge->volts) == doctest::Approx(218.5));
}

TEST_CASE("a start against its device, by hand") {
    const Judged bench = judged(demo("heron-lane"));
    const auto starts = advice::start_pictures(bench.situation(), bench.judgement());
    REQUIRE(starts.pictures.size() == 1);
    const auto& saw = starts.pictures.front();
    // B16: 3 and 5 times 16 A. Soft start: twice 7 A at most, with 5.34 A of extractor and lamp.
    CHECK(in(unit::ampere, saw.carries) == doctest::Approx(48));
    REQUIRE(saw.trips.has_value());
    CHECK(in(unit::ampere, *saw.trips) == doctest::Approx(80));
    CHECK(in(unit::ampere, saw.high) == doctest::Approx(19.34));
    // Plates give the power factors: sqrt((6.957 + 5.2 + 0.130)^2 + (0.776 + 0.051)^2) = 12.31.
    CHECK(in(unit::ampere, saw.running) == doctest::Approx(12.315).epsilon(1e-4));
    CHECK_FALSE(saw.longer_than_a_second);
    CHECK(starts.without.empty());
    const Judged us = judged(demo("maple-row"));
    const auto none = advice::start_pictures(us.situation(), us.judgement());
    CHECK(none.pictures.empty());  // no band is published for UL 489
    CHECK(none.without.size() == 1);
}
