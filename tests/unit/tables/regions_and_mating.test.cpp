// Tables that are one whole: every plug with every outlet, every region with all that is asked of one.
#include <doctest/doctest.h>

#include <set>
#include <string>
#include <utility>

#include <benchfeed/check.hpp>
#include <benchfeed/network/practice.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using tables::Table;
using test::catalogue;

namespace {

using Pairs = std::set<std::pair<std::string, std::string>>;

Pairs pairs_of(const Table& table) {
    Pairs pairs;
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        pairs.emplace(table.text(row, "plug"), table.text(row, "outlet"));
    return pairs;
}

const Table& table_of(std::string_view id) {
    const Table* table = catalogue().table(id);
    REQUIRE_MESSAGE(table, id);
    return *table;
}

template <class E>
bool is_word(std::string_view word) {
    const auto words = plan::words_of<E>();
    return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

TEST_CASE("every plug with every outlet of its system is decided once") {
    const Table& patterns = table_of("plug-patterns");
    const Pairs mates = pairs_of(table_of("plug-mating")), refused = pairs_of(table_of("plug-refused"));
    CHECK(mates.size() == table_of("plug-mating").rows.size());
    CHECK(refused.size() == table_of("plug-refused").rows.size());
    std::size_t decided = 0;
    for (std::size_t a = 0; a < patterns.rows.size(); ++a) {
        if (patterns.text(a, "gender") == "outlet") continue;
        for (std::size_t b = 0; b < patterns.rows.size(); ++b) {
            if (patterns.text(b, "gender") == "plug") continue;
            const std::pair<std::string, std::string> pair(patterns.text(a, "pattern"),
                                                           patterns.text(b, "pattern"));
            CAPTURE(pair.first);
            CAPTURE(pair.second);
            const bool one_system = patterns.text(a, "system") == patterns.text(b, "system");
            const auto said = mates.count(pair) + refused.count(pair);
            CHECK(said <= 1);
            if (one_system) CHECK(said == 1);
            if (!one_system) CHECK(refused.count(pair) == 0);
            decided += said;
        }
    }
    // No row names something that is no plug or no outlet.
    CHECK(decided == mates.size() + refused.size());
}

TEST_CASE("a plug that goes in keeps its poles, and never carries more than its outlet of one system") {
    const Table& patterns = table_of("plug-patterns");
    const Table& matings = table_of("plug-mating");
    for (std::size_t row = 0; row < matings.rows.size(); ++row) {
        const auto plug = patterns.row_of("pattern", matings.text(row, "plug")),
                   outlet = patterns.row_of("pattern", matings.text(row, "outlet"));
        REQUIRE(plug);
        REQUIRE(outlet);
        CAPTURE(matings.text(row, "plug"));
        CAPTURE(matings.text(row, "outlet"));
        if (patterns.text(*plug, "system") == patterns.text(*outlet, "system"))
            CHECK(patterns.current(*plug, "rated")->value <= patterns.current(*outlet, "rated")->value);
        // An earth contact that mates needs one on both sides.
        if (matings.flag(row, "earth").value_or(false)) {
            CHECK(patterns.flag(*plug, "earth").value_or(false));
            CHECK(patterns.flag(*outlet, "earth").value_or(false));
        }
    }
}

TEST_CASE("no terminal is called right from memory") {
    const Table& fit = table_of("terminal-fit");
    std::size_t right = 0;
    for (std::size_t row = 0; row < fit.rows.size(); ++row) {
        CHECK(is_word<plan::Terminals>(fit.text(row, "terminals")));
        CHECK(is_word<plan::Strands>(fit.text(row, "strands")));
        for (const std::string_view column : {"bare", "ferrule", "ring"}) {
            const auto word = fit.text(row, column);
            CAPTURE(row);
            CAPTURE(column);
            CHECK((word == "yes" || word == "care" || word == "no"));
            if (word != "yes") continue;
            ++right;
            CHECK(fit.grade_of(row, *fit.column(column)) > tables::Grade::memory);
        }
    }
    CHECK(right >= 10);
    CHECK(fit.rows.size() ==
          plan::words_of<plan::Terminals>().size() * plan::words_of<plan::Strands>().size());
}

TEST_CASE("every region has all that is asked of one") {
    const Table& regions = table_of("regions");
    const Table& patterns = table_of("plug-patterns");
    const Table& colours = table_of("iec-60445-colours");
    CHECK(regions.rows.size() == 5);
    for (std::size_t row = 0; row < regions.rows.size(); ++row) {
        const std::string name(regions.text(row, "region"));
        CAPTURE(name);
        const auto practice = network::practice_of(catalogue(), name);
        REQUIRE(practice);
        CHECK(colours.row_of("region", practice->colours_fixed));
        CHECK(colours.row_of("region", practice->colours_cord));
        // The advice on drops is cited where it is printed, not as a custom of the region.
        CHECK(practice->drop_lighting.source.table == regions.text(row, "drop_table"));
        CHECK(practice->drop_other.source.status == tables::Status::recommendation);
        for (const std::string_view column : {"breaker", "breaker_residual", "fuse", "residual_device"})
            CHECK(is_word<plan::DeviceStandard>(regions.text(row, column)));
        CHECK(is_word<plan::SwitchKind>(regions.text(row, "usual_switch")));
        const auto earthing = regions.text(row, "earthing");
        CHECK((earthing.empty() || is_word<plan::Earthing>(earthing)));
        std::size_t outlets = 0;
        for (std::size_t p = 0; p < patterns.rows.size(); ++p)
            outlets += patterns.text(p, "gender") != "plug" &&
                       (" " + std::string(patterns.text(p, "regions")) + " ").find(" " + name + " ") !=
                           std::string::npos;
        CHECK(outlets > 0);
    }
}

TEST_CASE("what only memory says of a region is graded so") {
    const Table& regions = table_of("regions");
    for (const std::string_view region : {"CH", "AU"}) {
        const auto row = regions.row_of("region", region);
        REQUIRE(row);
        for (const std::string_view column : {"drop_advice", "breaker", "fuse"}) {
            CAPTURE(column);
            CHECK(regions.grade_of(*row, *regions.column(column)) == tables::Grade::memory);
        }
        const auto practice = network::practice_of(catalogue(), region);
        REQUIRE(practice);
        CHECK(practice->drop_other.source.grade > tables::Grade::memory);
    }
}

TEST_CASE("a report says which national rules are not in this version") {
    const auto says = [](const std::string& plan, const std::string& words) {
        const auto judged =
            test::judged(test::read_text(std::string(BENCHFEED_RULE_PLANS) + "/" + plan + ".toml"));
        const auto list = rules::not_checked(judged.situation());
        return std::any_of(list.begin(), list.end(),
                           [&](const auto& item) { return item.what.find(words) != std::string::npos; });
    };
    CHECK(says("bench-without-findings-ch", "NIN SN 411000"));
    CHECK(says("bench-without-findings-au", "AS/NZS 3000 and 3008"));
    CHECK_FALSE(says("bench-without-findings-eu", "asks for more"));
    // Ways of terminals that nobody counted are told too.
    CHECK(says("bench-without-findings-eu", "the junction box have enough ways"));
    CHECK_FALSE(says("box-overfilled-ways-holds", "enough ways"));
}
