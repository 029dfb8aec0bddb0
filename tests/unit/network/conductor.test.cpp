#include <benchfeed/network/conductor.hpp>

#include <doctest/doctest.h>

#include <string>

#include "support/judged.hpp"

using namespace benchfeed;

namespace {

/// What the tables of a region say of a cord of that section.
std::optional<network::ConductorData> data_of(const std::string& section) {
    const Judged j = test::judged(
        "format = 1\n[plan]\nregion = \"US\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"120 V\"\n"
        "[stock.c]\ntype = \"SJOOW\"\nsection = \"" +
        section +
        "\"\ncores = 3\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"3 m\" "
        "}\n[load.l]\nfrom = \"box.b\"\n");
    return network::conductor_data(test::catalogue(), network::Family::nec, j.plan().stocks.front());
}

}  // namespace

TEST_CASE("a metric cord in the US has at most the resistance of the gauge below it") {
    // 2.5 mm2 lies between 14 AWG (2.08 mm2) and 12 AWG (3.31 mm2): NEC chapter 9 table 8.
    const auto metric = data_of("2.5 mm2"), below = data_of("14 AWG");
    REQUIRE(metric);
    REQUIRE(below);
    CHECK(metric->substituted);
    CHECK(!below->substituted);
    CHECK(metric->table.written == below->table.written);
    // Smaller than any gauge of the table: nothing is known.
    CHECK(!data_of("0.5 mm2"));
}
