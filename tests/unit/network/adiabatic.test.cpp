#include <benchfeed/network/adiabatic.hpp>

#include <doctest/doctest.h>

#include <string>

#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::agrees;
using test::catalogue;
using test::judged;

namespace {

/// The first stock of a plan that has one cable of it.
plan::Stock stock_of(const std::string& region, const std::string& fields) {
    const std::string system = region == "US" ? "120 V" : "230 V";
    const Judged plan =
        judged("format = 1\n[plan]\nregion = \"" + region +
               "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + system + "\"\n[stock.c]\n" + fields +
               "\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"3 m\" }\n"
               "[load.x]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n");
    return plan.plan().stocks.at(0);
}
double ampere2_seconds(const network::Withstand& found) {
    return in(unit::ampere2_second, found.energy);
}

}  // namespace

TEST_CASE("a core withstands k^2 S^2 of its construction") {
    // 115 for PVC, 143 for XLPE, 141 for rubber of 60 degC (IEC 60364-4-43 Table 43A): 1.5 mm2 PVC (172.5)^2.
    struct Core {
        const char* fields;
        double withstand;
    };
    for (const Core& core : {Core{"type = \"PVC sheathed\"\nsection = \"1.5 mm2\"\ncores = 3", 29756.25},
                             Core{"type = \"H05VV-F\"\nsection = \"1.0 mm2\"\ncores = 3", 13225},
                             Core{"type = \"XLPE sheathed\"\nsection = \"2.5 mm2\"\ncores = 3", 127806.25},
                             Core{"type = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3", 44732.25}}) {
        CAPTURE(core.fields);
        const auto found = network::withstand(catalogue(), stock_of("EU", core.fields), false);
        REQUIRE(found.has_value());
        CHECK(agrees(ampere2_seconds(*found), core.withstand, 1e-12));
        CHECK(found->k.source.table == "iec-43a");
        const JouleIntegral again = network::withstood_energy(found->k.value, found->section);
        CHECK(agrees(in(unit::ampere2_second, again), core.withstand, 1e-12));
    }
}

TEST_CASE("a protective core bears what its own section bears") {
    const auto flat = stock_of("UK",
                               "type = \"flat PVC\"\nsection = \"2.5 mm2\"\ncores = 3\nprotective = true\n"
                               "protective_section = \"1.5 mm2\"");
    const auto live = network::withstand(catalogue(), flat, false),
               core = network::withstand(catalogue(), flat, true);
    REQUIRE(live.has_value());
    REQUIRE(core.has_value());
    CHECK(agrees(in(unit::mm2, core->section), 1.5, 1e-12));
    CHECK(agrees(ampere2_seconds(*live) / ampere2_seconds(*core), 25.0 / 9, 1e-12));
}

TEST_CASE("nothing is said of what no table rates") {
    const auto bears = [](const std::string& region, const std::string& fields, bool protective) {
        return network::withstand(catalogue(), stock_of(region, fields), protective).has_value();
    };
    CHECK_FALSE(bears("US", "type = \"NM-B\"\nsection = \"12 AWG\"\ncores = 3", false));
    CHECK_FALSE(bears(
        "EU", "type = \"PVC sheathed\"\nsection = \"16 mm2\"\ncores = 3\nconductor = \"aluminium\"", false));
    CHECK_FALSE(
        bears("EU", "type = \"H05VV-F\"\nsection = \"1.0 mm2\"\ncores = 2\nprotective = false", true));
    CHECK(bears("EU", "type = \"H05VV-F\"\nsection = \"1.0 mm2\"\ncores = 2\nprotective = false", false));
}

TEST_CASE("longest time and least section are two readings of one law") {
    const AdiabaticFactor k = 115.0 * unit::ampere_root_second_per_mm2;
    for (const double amps : {80.0, 200.0, 1500.0})
        for (const double seconds : {0.1, 0.4, 5.0}) {
            const Current current = amps * unit::ampere;
            const Area area = network::least_section(current, seconds * unit::second, k);
            const JouleIntegral stood = network::withstood_energy(k, area);
            CHECK(agrees(in(unit::second, network::longest_time(stood, current)), seconds, 1e-12));
            // Twice the current, a quarter of the time.
            CHECK(agrees(in(unit::second, network::longest_time(stood, current * 2.0)), seconds / 4, 1e-12));
        }
}

// IEC 60364-5-54 Table A.54.4, core of a cable: the k of the line conductors for the insulations it prints.
TEST_CASE("a protective core in the cable has the k of its line conductors") {
    const auto *line = catalogue().table("iec-43a"), *core = catalogue().table("iec-a54-4");
    const auto of = [](const tables::Table* table, std::string_view insulation, std::string_view column) {
        const auto row = table->row_of("insulation", insulation);
        REQUIRE(row.has_value());
        return *table->number(*row, column);
    };
    CHECK(of(line, "PVC 70 C", "k") == of(core, "PVC 70 C", "core_in_cable"));
    CHECK(of(line, "EPR or XLPE 90 C", "k") == of(core, "XLPE or EPR 90 C", "core_in_cable"));
}
