#include <benchfeed/network/conductor.hpp>

#include <doctest/doctest.h>
#include <benchfeed/network/ampacity.hpp>

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

TEST_CASE("only a fixed cable asks how it is laid, and what has no cable asks nothing") {
    const Judged j = test::judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "[stock.wall]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
        "[stock.cord]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
        "[box.laid]\nfrom = \"supply.s\"\ncable = { stock = \"wall\", length = \"3 m\" }\n"
        "[box.loose]\nfrom = \"box.laid\"\ncable = { stock = \"cord\", length = \"3 m\" }\n"
        "[load.l]\nfrom = \"box.loose\"\n");
    const auto asks = [&](const char* path) {
        const auto& plan = j.plan();
        for (plan::Index i = 0; i < plan.elements.size(); ++i)
            if (plan[i].path() == path) return network::ampacity_needs_method(plan, test::catalogue(), i);
        FAIL(path);
        return false;
    };
    CHECK(asks("box.laid"));
    CHECK(!asks("box.loose"));
    CHECK(!asks("load.l"));
}

TEST_CASE(
    "the amps of a section that its table does not have are those of the next smaller one, and that is "
    "said") {
    const auto of = [](const std::string& section) {
        const Judged j = test::judged(
            "format = 1\n[plan]\nregion = \"US\"\nmounting = \"mobile\"\nambient = \"30 degC\"\n[supply.s]\n"
            "system = \"120 V\"\n[stock.c]\ntype = \"SJOOW\"\nconductor = \"copper\"\nsection = \"" +
            section +
            "\"\ncores = 3\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"3 m\" "
            "}\n[load.l]\nfrom = \"box.b\"\n");
        const auto s = j.situation();
        return network::ampacity(s.plan, s.tables, s.network, s.plan.find(plan::Kind::box, "b"));
    };
    // NEC 400.5(A)(1): 2.5 mm2 lies between 14 AWG and 12 AWG.
    const auto metric = of("2.5 mm2"), gauge = of("14 AWG");
    CHECK(metric.substituted);
    CHECK(!gauge.substituted);
    REQUIRE(metric.value);
    REQUIRE(gauge.value);
    CHECK(*metric.value == *gauge.value);
}
