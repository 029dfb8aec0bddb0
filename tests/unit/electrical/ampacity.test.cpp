// Current-carrying capacity as printed tables have it: cells and factors stand beside the checks.
#include <benchfeed/electrical/ampacity.hpp>

#include <doctest/doctest.h>

#include <limits>

#include "support/prints_as.hpp"

using namespace benchfeed;
using namespace benchfeed::electrical;
using test::agrees;
using test::prints_as;
using Lacks = Ampacity::Lacks;

namespace {

const tables::Catalogue catalogue;
const Figures iec{catalogue, CodeFamily::iec}, nec{catalogue, CodeFamily::nec};

Installation cord(const char* construction, Section section) {
    Installation found;
    found.wire = {construction, section, Metal::copper, Strands::fine};
    found.ambient = celsius(30);
    return found;
}
Installation fixed(const char* construction, Section section, std::optional<Method> method) {
    Installation found = cord(construction, section);
    found.wire.strands = Strands::solid;
    found.method = method;
    return found;
}
double amps(const Ampacity& found) {
    REQUIRE(found.value.has_value());
    return in(unit::ampere, *found.value);
}
Section mm2(double size) {
    return section_of(size * unit::mm2);
}

}  // namespace

TEST_CASE("a cord by BS 7671 Table 4F3A, hot and grouped") {
    // 1.5 mm2: 16 A single-phase, 16 A three-phase; 4F3A for 60 degC cords, 0.91 at 35 degC; B.52.17,
    // bunched: 0.8 for two.
    Installation lead = cord("H07RN-F", mm2(1.5));
    CHECK(amps(ampacity(lead, iec)) == 16);
    lead.circuits = 2;
    const auto two = ampacity(lead, iec);
    CHECK(agrees(amps(two), 16 * 0.8, 1e-12));
    REQUIRE(two.factors.size() == 1);
    CHECK(two.factors.front().symbol == "k_group");
    CHECK(two.factors.front().figure.source.table == "iec-b52-17");
    lead.ambient = celsius(35);
    const auto hot = ampacity(lead, iec);
    CHECK(hot.factors.size() == 2);
    CHECK(amps(hot) < amps(two));
    CHECK(hot.cord);
    CHECK(hot.lacks == Lacks::nothing);
}

TEST_CASE("fixed cable by its method, as IEC 60364-5-52 prints it") {
    // Table B.52.2, two loaded cores: 1.5 mm2 B1 17.5 A, 2.5 mm2 B1 24 A. B.52.14, PVC: 0.94 at 35 degC.
    CHECK(amps(ampacity(fixed("PVC sheathed", mm2(1.5), Method::b1), iec)) == 17.5);
    Installation warm = fixed("PVC sheathed", mm2(2.5), Method::b1);
    warm.ambient = celsius(35);
    CHECK(agrees(amps(ampacity(warm, iec)), 24 * 0.94, 1e-12));
    warm.ambient = celsius(33);  // the next printed row above
    CHECK(agrees(amps(ampacity(warm, iec)), 24 * 0.94, 1e-12));
    warm.ambient = celsius(20);  // cool air counts only where somebody says so
    CHECK(amps(ampacity(warm, iec)) == 24);
    warm.ambient_credit = true;
    CHECK(amps(ampacity(warm, iec)) > 24);
    Installation three = fixed("PVC sheathed", mm2(2.5), Method::c);
    three.loaded = 3;
    CHECK(amps(ampacity(three, iec)) < amps(ampacity(fixed("PVC sheathed", mm2(2.5), Method::c), iec)));
}

TEST_CASE("the NEC corrects in the column of the insulation and ends at the terminals") {
    // Source   J. Stallcup, applying correction factors: 10 AWG, 90 degC, at 120 degF 32.8 A; 110.14(C): 30
    // A.
    Installation hot = fixed("THHN", section_of(Awg{10}), Method::conduit);
    hot.ambient = fahrenheit(120);
    const auto found = ampacity(hot, nec);
    REQUIRE(found.factors.size() == 1);
    CHECK(
        prints_as(in(unit::ampere, found.base.value) * in(unit::one, found.factors[0].figure.value), "32.8"));
    CHECK(amps(found) == 30);
    // Source   EC&M Code Quiz: 12 AWG with twelve current-carrying conductors, 15 A from the 90 degC column.
    Installation twelve = fixed("THHN", section_of(Awg{12}), Method::conduit);
    twelve.circuits = 6;
    CHECK(prints_as(amps(ampacity(twelve, nec)), "15"));
}

TEST_CASE("a section between two rows carries what the smaller one does; beyond the ends it is a bound") {
    const auto between = ampacity(fixed("PVC sheathed", mm2(2.0), Method::b1), iec);
    CHECK(between.substituted);
    CHECK_FALSE(between.beyond);
    CHECK(amps(between) == 17.5);
    const auto thin = ampacity(fixed("PVC sheathed", mm2(0.5), Method::b1), iec);
    CHECK(thin.beyond);
    CHECK(thin.lacks == Lacks::section);
    CHECK_FALSE(thin.why.empty());
    Installation oven = cord("H07RN-F", mm2(1.5));
    oven.ambient = celsius(500);
    const auto baked = ampacity(oven, iec);
    CHECK(baked.beyond);
    CHECK(baked.lacks == Lacks::ambient);
    Installation bundle = cord("H07RN-F", mm2(1.5));
    bundle.circuits = 1000;
    CHECK(ampacity(bundle, iec).lacks == Lacks::grouping);
}

TEST_CASE("what is lacking is named, and nothing is found without it") {
    const auto lacks = [](const Installation& installation, const Figures& figures) {
        const Ampacity found = ampacity(installation, figures);
        CHECK_FALSE(found.value.has_value());
        CHECK_FALSE(found.why.empty());
        return found.lacks;
    };
    CHECK(lacks(cord("H09XX-F", mm2(1.5)), iec) == Lacks::construction);
    CHECK(lacks(fixed("PVC sheathed", mm2(1.5), {}), iec) == Lacks::method);
    CHECK(lacks(fixed("PVC sheathed", mm2(1.5), Method::free_air), iec) == Lacks::method);
    Installation still = cord("H07RN-F", mm2(1.5));
    still.ambient.reset();
    CHECK(lacks(still, iec) == Lacks::ambient);
    Installation light = cord("H07RN-F", mm2(1.5));
    light.wire.metal = Metal::aluminium;
    CHECK(lacks(light, iec) == Lacks::metal);
}

TEST_CASE("four loaded cores: guidance for a cord of the IEC, a factor of the NEC") {
    Installation four = cord("H07RN-F", mm2(1.5));
    four.loaded = 4;
    CHECK_FALSE(ampacity(four, iec).guidance.has_value());
    four.four_loaded = tables::Figure<Ratio>{0.75 * unit::one, {}, "0.75"};
    const auto guided = ampacity(four, iec);
    REQUIRE(guided.guidance.has_value());
    CHECK(agrees(in(unit::ampere, guided.with_guidance()), 12, 1e-12));  // of the 16 A that it is rated for
    CHECK(amps(guided) == 16);
    Installation us = cord("SJOOW", section_of(Awg{14}));
    us.loaded = 4;
    // NEC Table 400.5(A)(3): 4 to 6 conductors, 0.8 of the column for three.
    const auto found = ampacity(us, nec);
    REQUIRE(found.factors.size() == 1);
    CHECK(in(unit::one, found.factors.front().figure.value) == 0.8);
}

TEST_CASE("a cable that cannot be is refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {nan, -1.5, 0.0})
        CHECK_THROWS_AS((void)ampacity(cord("H07RN-F", mm2(bad)), iec), Refused);
    Installation none = cord("H07RN-F", mm2(1.5));
    none.circuits = 0;
    CHECK_THROWS_WITH_AS((void)ampacity(none, iec), "Installation::circuits: 1 or more", Refused);
    none.circuits = 1;
    none.loaded = 0;
    CHECK_THROWS_AS((void)ampacity(none, iec), Refused);
}
