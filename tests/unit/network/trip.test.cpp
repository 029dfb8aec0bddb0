#include <benchfeed/network/trip.hpp>

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::agrees;
using test::catalogue;
using test::judged;
using test::prints_as;

namespace {

/// A plan with one device and a load behind it.
class Behind {
public:
    Behind(const std::string& region, const std::string& device)
        : plan_(judged("format = 1\n[plan]\nregion = \"" + region +
                       "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" +
                       (region == "US" ? "120 V" : "230 V") + "\"\n[device.d]\nfrom = \"supply.s\"\n" +
                       device +
                       "\n[load.x]\nfrom = \"device.d\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n")),
          guard_(network::guards_above(plan_.plan(), catalogue(), plan_.plan().find(plan::Kind::load, "x"),
                                       network::Place::whole)
                     .at(0)) {}

    [[nodiscard]] std::optional<network::TripBand> band() const {
        return network::trip_band(plan_.plan(), catalogue(), guard_);
    }
    /// Longest time at a current [s]; 0 where nothing is published.
    [[nodiscard]] double clears(double amps) const {
        const auto found = network::latest_clearing(plan_.plan(), catalogue(), guard_, amps * unit::ampere);
        return found ? in(unit::second, found->latest) : 0;
    }
    /// Least current that opens it in a time [A]; 0 where nothing is published.
    [[nodiscard]] double opens(double seconds) const {
        const auto found = network::opens_within(plan_.plan(), catalogue(), guard_, seconds * unit::second);
        return found ? in(unit::ampere, found->current) : 0;
    }
    /// Energy up to the opening, at the point below a current that has least of it [A2s]; 0 where none opens
    /// in this time.
    [[nodiscard]] double energy(double amps, double seconds = 5) const {
        const auto found = network::least_energy(plan_.plan(), catalogue(), guard_, amps * unit::ampere,
                                                 seconds * unit::second);
        return found ? in(unit::ampere2_second, found->energy()) : 0;
    }
    /// Current that it carries through a start [A]; 0 where nothing is published.
    [[nodiscard]] double carries(bool longer_than_a_second) const {
        const auto found = network::start_withstand(plan_.plan(), catalogue(), guard_, longer_than_a_second);
        return found ? in(unit::ampere, found->current) : 0;
    }

private:
    Judged plan_;
    network::Guard guard_;
};

std::string breaker(const std::string& rating, const std::string& curve,
                    const std::string& standard = "IEC 60898") {
    return "kind = \"circuit breaker\"\nstandard = \"" + standard + "\"\ncurve = \"" + curve +
           "\"\nrating = \"" + rating + " A\"";
}
std::string fuse(const std::string& standard, const std::string& rating) {
    return "kind = \"fuse\"\nstandard = \"" + standard + "\"\nrating = \"" + rating + " A\"";
}

}  // namespace

TEST_CASE("bands of breakers by letter") {
    // IEC 60898-1 Tables 2 and 7: over 3 up to 5, over 5 up to 10, over 10 up to 20 times the rating, 0.1 s.
    struct Letter {
        const char* curve;
        double lower, upper;
    };
    for (const Letter& letter : {Letter{"B", 3, 5}, Letter{"C", 5, 10}, Letter{"D", 10, 20}})
        for (const int rating : {6, 16, 32})
            for (const char* standard : {"IEC 60898", "IEC 61009"}) {
                const std::string residual = std::string(standard) == "IEC 61009"
                                                 ? "\nresidual = { trip = \"30 mA\", wave = \"A\" }"
                                                 : "";
                const Behind device("EU", breaker(std::to_string(rating), letter.curve, standard) + residual);
                const auto band = device.band();
                REQUIRE(band.has_value());
                CHECK(agrees(in(unit::ampere, band->lower), letter.lower * rating, 1e-12));
                CHECK(agrees(in(unit::ampere, band->upper), letter.upper * rating, 1e-12));
                CHECK(agrees(device.opens(0.4), letter.upper * rating, 1e-12));
                CHECK(agrees(device.clears(letter.upper * rating), 0.1, 1e-12));
                CHECK(device.clears(letter.upper * rating * 0.99) > 5);  // the band itself promises nothing
                CHECK(agrees(device.carries(false), letter.lower * rating, 1e-12));
                CHECK(agrees(device.carries(true), 2.55 * rating, 1e-12));
            }
}

TEST_CASE("breakers open in the conventional time at 1.45 times their rating") {
    // IEC 60898-1 Table 7: 1 h up to 63 A, 2 h above; 2.55 In within 60 s up to 32 A, 120 s above.
    CHECK(agrees(Behind("EU", breaker("16", "B")).clears(1.45 * 16), 3600, 1e-12));
    CHECK(agrees(Behind("EU", breaker("63", "B")).clears(1.45 * 63), 3600, 1e-12));
    CHECK(agrees(Behind("EU", breaker("80", "B")).clears(1.45 * 80), 7200, 1e-12));
    CHECK(agrees(Behind("EU", breaker("32", "B")).clears(2.55 * 32), 60, 1e-12));
    CHECK(agrees(Behind("EU", breaker("40", "B")).clears(2.55 * 40), 120, 1e-12));
    CHECK(Behind("EU", breaker("16", "B")).clears(1.44 * 16) == 0);
}

TEST_CASE("plug fuses by the gates of BS 1362") {
    // BS 1362: 13 A: 1 to 400 s at 30 A, 0.1 to 20 s at 50 A; 3 A: 0.02 to 80 s at 9 A, up to 0.1 s at 20 A,
    // up to 0.03 s at 30 A.
    const Behind thirteen("UK", fuse("BS 1362", "13")), three("UK", fuse("BS 1362", "3"));
    CHECK(agrees(thirteen.clears(30), 400, 1e-12));
    CHECK(agrees(thirteen.clears(50), 20, 1e-12));
    CHECK(agrees(thirteen.carries(true), 30, 1e-12));
    CHECK(agrees(thirteen.carries(false), 50, 1e-12));
    CHECK(agrees(three.clears(9), 80, 1e-12));
    CHECK(agrees(three.clears(20), 0.1, 1e-12));
    CHECK(agrees(three.clears(30), 0.03, 1e-12));
    CHECK(three.carries(false) == 0);  // no gate says that it lasts a tenth of a second
}

TEST_CASE("fuses open in 0.4 s at the current of their printed loop impedance") {
    // BS 7671 Table 41.2, 0.95 * 230 V / Zs: BS 1362 13 A 2.30 ohm: 95 A; 3 A 15.6 ohm: 14 A.
    CHECK(prints_as(Behind("UK", fuse("BS 1362", "13")).opens(0.4), "95"));
    CHECK(prints_as(Behind("UK", fuse("BS 1362", "3")).opens(0.4), "14.0"));
    struct Kind {
        std::string standard, table;
        double cmin;
    };
    int checked = 0;
    for (const Kind& kind : {Kind{"BS 88-2", "bs-41-2-bs88-2", 0.95}, Kind{"BS 88-3", "bs-41-2-bs88-3", 0.95},
                             Kind{"BS 3036", "bs-41-2-bs3036", 0.95},
                             Kind{"BS 1361", "bs-41-2-bs1361", 1}}) {  // of an edition that had no Cmin yet
        const auto* table = catalogue().table(kind.table);
        REQUIRE(table != nullptr);
        for (std::size_t row = 0; row < table->rows.size(); ++row, ++checked) {
            const auto rating = table->current(row, "rating");
            const Behind device("UK", fuse(kind.standard, tables::written_number(*rating)));
            CHECK(agrees(device.opens(0.4) * *table->number(row, "max_zs"), kind.cmin * 230, 1e-12));
        }
    }
    CHECK(checked > 10);
}

TEST_CASE("nothing is said of a device without a published point") {
    const Behind no_letter("EU", breaker("16", "unknown"));
    CHECK_FALSE(no_letter.band().has_value());
    CHECK(no_letter.opens(0.4) == 0);
    CHECK(no_letter.carries(false) == 0);
    CHECK(no_letter.clears(500) == 0);  // its slow points alone would make it look slow
    const Behind gg("EU", fuse("IEC 60269 gG", "16"));
    CHECK(gg.clears(500) == 0);
    CHECK(gg.opens(5) == 0);
    const Behind american("US", "kind = \"circuit breaker\"\nstandard = \"UL 489\"\nrating = \"20 A\"");
    CHECK_FALSE(american.band().has_value());
    CHECK(american.clears(5000) == 0);
    CHECK(american.carries(false) == 0);
    const Behind unrated(
        "EU", "kind = \"circuit breaker\"\nstandard = \"IEC 60898\"\ncurve = \"B\"\nrating = \"unknown\"");
    CHECK(unrated.clears(5000) == 0);
    CHECK(unrated.opens(0.4) == 0);
    CHECK(unrated.carries(false) == 0);
    CHECK_FALSE(unrated.band().has_value());
    for (const char* standard : {"BS 1362", "BS 88-2", "BS 3036"}) {
        const Behind unrated_fuse(
            "UK", "kind = \"fuse\"\nstandard = \"" + std::string(standard) + "\"\nrating = \"unknown\"");
        CHECK(unrated_fuse.clears(5000) == 0);
        CHECK(unrated_fuse.opens(0.4) == 0);
        CHECK(unrated_fuse.carries(true) == 0);
    }
}

TEST_CASE("what flows until a device opens is never more at more current") {
    const Behind b16("EU", breaker("16", "B"));
    CHECK(b16.energy(79.9) == 0);
    // 5 * 16 A for 0.1 s: 640 A2s, and so at 6 kA.
    CHECK(agrees(b16.energy(80), 640, 1e-9));
    CHECK(agrees(b16.energy(6000), 640, 1e-9));
    const Behind plug("UK", fuse("BS 1362", "3"));
    double before = plug.energy(20);
    for (const double amps : {30.0, 100.0, 1000.0}) {
        CHECK(plug.energy(amps) > 0);
        CHECK(plug.energy(amps) <= before);
        before = plug.energy(amps);
    }
}

TEST_CASE("more current never opens a device later, and the two questions agree") {
    std::vector<std::string> devices{fuse("BS 1362", "3"),  fuse("BS 1362", "13"), fuse("BS 3036", "30"),
                                     fuse("BS 88-2", "20"), fuse("BS 88-3", "32"), fuse("BS 1361", "15")};
    for (const char* curve : {"B", "C", "D"})
        for (const char* rating : {"6", "16", "40"}) devices.push_back(breaker(rating, curve));
    for (const auto& text : devices) {
        CAPTURE(text);
        const Behind device("UK", text);
        double before = 0;
        for (double amps = 1; amps < 2000; amps *= 1.07) {
            const double now = device.clears(amps);
            if (before > 0) {
                REQUIRE(now > 0);
                CHECK(now <= before);
            }
            before = now;
        }
        CHECK(before > 0);
        for (const double seconds : {0.1, 0.4, 5.0, 60.0, 3600.0})
            if (const double amps = device.opens(seconds); amps > 0) {
                CHECK(device.clears(amps) > 0);
                CHECK(device.clears(amps) <= seconds * (1 + 1e-9));
                CHECK((device.clears(amps * 0.999) == 0 || device.clears(amps * 0.999) > seconds));
            }
    }
}

TEST_CASE("a point at just the longest time counts, a shorter time leaves it out") {
    const Behind fused("UK", fuse("BS 1362", "13"));
    const double amps = fused.opens(0.4);
    CHECK(agrees(fused.energy(amps, 0.4), amps * amps * 0.4, 1e-9));
    CHECK(fused.energy(amps, 0.39) == 0);
}
