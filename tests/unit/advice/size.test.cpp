// Sizes on benches small enough to work by hand; tests/reference has every combination of random ones.
#include <benchfeed/advice/size.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/advice/size_else.hpp>
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::catalogue;
using test::judged;

namespace {

std::string bench(const std::string& region, const std::string& plug, const std::string& stocks,
                  double metres, const std::string& amps) {
    const bool uk = region == "UK";
    return "format = 1\n[plan]\nregion = \"" + region +
           "\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\nearthing = \"TN-S\"\nloop_impedance = "
           "\"0.3 ohm\"\n"
           "line_impedance = \"0.3 ohm\"\nfault_current = \"1 kA\"\n[device.d]\nfrom = \"supply.s\"\nkind = "
           "\"circuit "
           "breaker\"\ncurve = \"B\"\nrating = \"" +
           std::string(uk ? "32 A" : "16 A") +
           "\"\nresidual = { trip = \"30 mA\", wave = \"A\" }\n[stock.house]\ntype = \"PVC "
           "sheathed\"\nsection = \"4 "
           "mm2\"\ncores = 3\n" +
           stocks + "[outlet.wall]\nfrom = \"device.d\"\npattern = \"" + (uk ? "BS 1363" : "CEE 7/3") +
           "\"\nearth = \"tested\"\ncable = { stock = \"house\", length = \"5 m\", method = \"C\" "
           "}\nexisting = true\n"
           "[box.j]\nfrom = \"outlet.wall\"\nplug = \"" +
           plug + "\"\n" + (uk ? "fuse = \"13 A\"\n" : "") + "cable = { stock = \"lead\", length = \"" +
           std::to_string(metres).substr(0, 4) + " m\" }\n[outlet.a]\nfrom = \"box.j\"\npattern = \"" +
           (uk ? "BS 1363" : "CEE 7/3") +
           "\"\nearth = \"tested\"\n[load.a]\nfrom = \"outlet.a\"\nmotor = \"universal\"\nlatched = "
           "false\nplate = { "
           "current = \"" +
           amps + "\", voltage = \"230 V\" }\n";
}
const std::string thin =
    "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"0.75 mm2\"   # from the shed\ncores = 3\n";

const advice::SizedGroup& group(const advice::Sized& sized, const std::string& stock) {
    for (const auto& g : sized.groups)
        for (const auto s : g.group.stocks)
            if (sized.plan->stocks[s].name == stock) return g;
    FAIL("no group has the stock " << stock);
    return sized.groups.front();
}
bool ends_at(const advice::SizedGroup& group, std::string_view rule) {
    return std::any_of(group.binds.begin(), group.binds.end(),
                       [&](const auto& fault) { return rules::registry()[fault.rule].id == rule; });
}

}  // namespace

TEST_CASE("a short cord is sized by its breaker, a long one by its volts, and what binds it is told") {
    const Judged near = judged(bench("EU", "CEE 7/7", thin, 3, "9 A"));
    const auto short_one = advice::size(near.situation());
    CHECK(section_text(group(short_one, "lead").after) == "1.5 mm2");
    CHECK(ends_at(group(short_one, "lead"), "heat.cable-unprotected"));
    CHECK(short_one.uncured.empty());
    CHECK(short_one.proven);
    CHECK(in(unit::cm3, short_one.copper_after) == doctest::Approx(3 * 3 * 1.5));
    CHECK(in(unit::cm3, short_one.copper_before) == doctest::Approx(3 * 3 * 0.75));
    CHECK(group(short_one, "house").group.kept == "house cable is as found");

    const Judged far = judged(bench("EU", "CEE 7/7", thin, 42, "9 A"));
    const auto long_one = advice::size(far.situation());
    // 9 A over 42 m: 2 * 42 * 0.0154 * 9 = 11.6 V with 1.5 mm2 and 5 m of house besides, 5.3 %.
    CHECK(section_text(group(long_one, "lead").after) == "2.5 mm2");
    CHECK(ends_at(group(long_one, "lead"), "volts.running-drop"));
}

TEST_CASE("what no size cures is told, and the rest is sized all the same") {
    const Judged j = judged(bench("EU", "CEE 7/7", thin, 3, "17 A"));
    const auto sized = advice::size(j.situation());
    CHECK(section_text(group(sized, "lead").after) == "2.5 mm2");  // 1.5 mm2 carries 16 A
    std::set<std::string_view> left;
    for (const auto& fault : sized.uncured) left.insert(rules::registry()[fault.rule].id);
    CHECK(left.contains("heat.plug-overloaded"));
    CHECK(left.contains("heat.device-overloaded"));
    CHECK(!left.contains("heat.cable-overloaded"));
}

TEST_CASE("never more than a plug takes: a rewirable BS 1363 plug ends at its last cord") {
    const Judged j = judged(bench("UK", "BS 1363", thin, 49, "12 A"));
    const auto sized = advice::size(j.situation());
    const auto& lead = group(sized, "lead");
    CHECK(section_text(lead.group.choices.back()) == "1.5 mm2");
    REQUIRE(!lead.group.notes.empty());
    const auto& notes = lead.group.notes;
    CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
        return note.find("up to 1.5 mm2 in the bench plug") == 0;
    }));
    CHECK(std::any_of(sized.uncured.begin(), sized.uncured.end(), [](const auto& fault) {
        return rules::registry()[fault.rule].id == "volts.running-drop";
    }));
}

TEST_CASE("the longest cord of each size holds, a tenth of a metre more does not") {
    const Judged j = judged(bench("EU", "CEE 7/7", thin, 3, "9 A"));
    const auto sized = advice::size(j.situation());
    const auto cords = advice::bench_cords(j.situation());
    REQUIRE(cords.size() == 1);
    std::size_t held = 0;
    for (const auto& cord : advice::longest_cords(sized, catalogue(), cords.front())) {
        if (!cord.length || cord.at_least) continue;
        ++held;
        const auto with = [&](double metres) {
            const std::string stock = "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"" +
                                      section_text(cord.section) + "\"\ncores = 3\n";
            std::string text = bench("EU", "CEE 7/7", stock, 3, "9 A");
            const std::string length = "length = \"3.00 m\"";
            const auto at = text.find(length);
            REQUIRE(at != std::string::npos);
            text.replace(at, length.size(), "length = \"" + digits(metres, 4) + " m\"");
            return advice::faults_of(judged(text).judgement()).empty();
        };
        CHECK(with(in(unit::metre, *cord.length)));
        CHECK(!with(in(unit::metre, *cord.length) + 0.1));
    }
    CHECK(held >= 2);
}

TEST_CASE("a stock that takes its section over from another one moves with it") {
    const std::string stocks = thin + "[stock.twin]\nlike = \"stock.lead\"\ntype = \"H05VV-F\"\n";
    std::string text = bench("EU", "CEE 7/7", stocks, 3, "9 A");
    text +=
        "[outlet.b]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\ncable = { stock = "
        "\"twin\", length = "
        "\"2 m\" }\n";
    const Judged j = judged(text);
    const auto sized = advice::size(j.situation());
    CHECK(group(sized, "lead").group.stocks.size() == 2);
    CHECK(section_text(*sized.plan->stocks[group(sized, "twin").group.stocks[1]].section) == "1.5 mm2");
    CHECK(advice::edits_of(sized, j.plan()).edits.size() == 1);
}

TEST_CASE("least cost is not always least copper") {
    const Judged j = judged(bench("EU", "CEE 7/7", thin, 10, "9 A"));
    const auto read = [](const std::string& text) {
        return advice::read_prices(text::Document("prices.toml", text));
    };
    const auto list =
        std::get<advice::PriceList>(read("currency = \"EUR\"\n[price.\"H07RN-F\"]\n\"1.0 mm2\" = 1\n\"1.5 "
                                         "mm2\" = 2.4\n\"2.5 mm2\" = 2.1\n\"4 mm2\" = 5.0\n"));
    const auto sized = advice::size(j.situation(), {.prices = &list});
    CHECK(section_text(group(sized, "lead").after) == "2.5 mm2");
    CHECK(*sized.cost_after == doctest::Approx(21));
    const auto none = std::get<advice::PriceList>(read("[price.\"H05VV-F\"]\n\"1.5 mm2\" = 2.4\n"));
    CHECK(group(advice::size(j.situation(), {.prices = &none}), "lead").group.kept ==
          "the price list has no H07RN-F");
    const auto bad = read("currancy = \"EUR\"\n[price.\"H07RN-F\"]\n\"1.5 A\" = 1\n\"1.5 mm2\" = 0\n");
    REQUIRE(std::holds_alternative<Diagnostics>(bad));
    CHECK(std::get<Diagnostics>(bad).size() == 3);
}

TEST_CASE("a protective core of its own section rises in proportion") {
    const std::string stock =
        "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1 mm2\"\ncores = 3\nprotective_section = \"0.75 "
        "mm2\"\n";
    const Judged j = judged(bench("EU", "CEE 7/7", stock, 3, "9 A"));
    const auto sized = advice::size(j.situation());
    const plan::Stock& lead = sized.plan->stocks[group(sized, "lead").group.stocks.front()];
    CHECK(section_text(*lead.section) == "1.5 mm2");
    CHECK(section_text(*lead.protective_section) == "1.5 mm2");  // 1.125 mm2 is no size
    CHECK(advice::edits_of(sized, j.plan()).edits.size() == 2);
}

TEST_CASE("the longest cord is found where something else is wrong that no cord cures") {
    const std::string more =
        "[outlet.b]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"none\"\n[load.b]\nfrom = "
        "\"outlet.b\"\n"
        "motor = \"none\"\nclass = \"I\"\nplate = { current = \"1 A\", voltage = \"230 V\" }\n";
    const Judged j = judged(bench("EU", "CEE 7/7", thin, 3, "9 A") + more);
    const auto sized = advice::size(j.situation());
    REQUIRE_FALSE(sized.uncured.empty());
    const auto cords = advice::bench_cords(j.situation());
    std::size_t found = 0;
    for (const auto& cord : advice::longest_cords(sized, catalogue(), cords.front()))
        found += cord.length.has_value();
    CHECK(found > 0);
}

TEST_CASE("a cord that loses too much and that no size cures may be as long as its volts allow") {
    const Judged j = judged(bench("UK", "BS 1363", thin, 49, "12 A"));
    const auto sized = advice::size(j.situation());
    const auto cords = advice::longest_cords(sized, catalogue(), advice::bench_cords(j.situation()).front());
    REQUIRE(!cords.empty());
    REQUIRE(cords.back().length);
    CHECK(section_text(cords.back().section) == "1.5 mm2");
    CHECK(!cords.back().at_least);
    // 5 % of 230 V at 12 A is 0.958 ohm, of which the house takes a part; 2 * 0.0154 ohm/m warm, 0.0133 cold.
    CHECK(*cords.back().length < 36.0 * unit::metre);
    CHECK(*cords.back().length > 15.0 * unit::metre);
}

TEST_CASE("a search that ends at its bound says so, and every rule holds all the same") {
    const Judged j = judged(bench("EU", "CEE 7/7", thin, 42, "9 A"));
    const auto sized = advice::size(j.situation(), {.most_trials = 2});
    CHECK(!sized.proven);
    CHECK(sized.uncured.empty());
}

TEST_CASE("values are replaced at their places, all else stays byte for byte, comments keep their column") {
    const std::string text = bench("EU", "CEE 7/7", thin, 3, "9 A");
    const text::Document document("plan.toml", text);
    const Judged j = judged(text);
    const auto sized = advice::size(j.situation());
    const std::string after = advice::edited(document, advice::edits_of(sized, j.plan()).edits);
    std::string expected = text;
    expected.replace(expected.find("\"0.75 mm2\"   # from the shed"), 28, "\"1.5 mm2\"    # from the shed");
    CHECK(after == expected);
    CHECK(advice::edited(document, {}) == text);
    CHECK(advice::faults_of(judged(after).judgement()) == sized.uncured);

    const text::Document small("x", "a = \"1\"\r\nb = \"\xc3\xa4\" # c\r\n");
    CHECK(advice::edited(small, {{{2, 5, 2, 8}, "\"longer\""}, {{1, 5, 1, 8}, "\"22\""}}) ==
          "a = \"22\"\r\nb = \"longer\" # c\r\n");
}

namespace {

/// A cord of 14 AWG that loses too much, into a box of this volume.
std::string us_bench(const std::string& volume) {
    return "format = 1\n[plan]\nregion = \"US\"\nmounting = \"mobile\"\n[site]\nuse = \"dwelling\"\nroom = "
           "\"garage\"\n[supply.s]\nsystem = \"120 V\"\nearthing = \"TN-C-S\"\nline_impedance = \"0.138 "
           "ohm\"\nloop_impedance = \"0.3 ohm\"\nfault_current = \"5 kA\"\n[device.d]\nfrom = "
           "\"supply.s\"\nkind = \"circuit breaker\"\nrating = \"20 A\"\nresidual = { trip = \"5 mA\" "
           "}\n[stock.cord]\ntype = \"SJTW\"\nsection = \"14 AWG\"\ncores = 3\n[stock.house]\ntype = "
           "\"NM-B\"\nsection = \"12 AWG\"\ncores = 3\nexisting = true\n[outlet.wall]\nfrom = "
           "\"device.d\"\npattern = \"5-20\"\nearth = \"tested\"\nexisting = true\ncable = { stock = "
           "\"house\", length = \"40 ft\" }\n[box.j]\nfrom = \"outlet.wall\"\nplug = \"5-15\"\ncable = { "
           "stock = \"cord\", length = \"60 ft\" }\nmaterial = \"plastic\"\nvolume = \"" +
           volume +
           "\"\n[switch.w]\nfrom = \"box.j\"\npoles = 1\nrating = \"20 A\"\nmotor_rating = \"15 "
           "A\"\n[outlet.a]\nfrom = \"switch.w\"\npattern = \"5-15\"\nearth = \"tested\"\nways = "
           "2\n[load.router]\nfrom = \"outlet.a\"\nmotor = \"universal\"\nlatched = false\nplate = { current "
           "= \"12 A\", voltage = \"120 V\" }\n";
}
bool leaves(const advice::Sized& sized, std::string_view rule) {
    return std::any_of(sized.uncured.begin(), sized.uncured.end(),
                       [&](const auto& fault) { return rules::registry()[fault.rule].id == rule; });
}

}  // namespace

TEST_CASE("a thicker cord that fills its box is no cure; with the box that takes it, it is told") {
    const Judged roomy = judged(us_bench("21 in3"));
    CHECK(section_text(group(advice::size(roomy.situation()), "cord").after) == "12 AWG");
    const Judged j = judged(us_bench("14 in3"));
    const auto sized = advice::size(j.situation());
    CHECK(section_text(group(sized, "cord").after) == "14 AWG");
    REQUIRE(leaves(sized, "volts.running-drop"));
    const auto others = advice::other_cures(sized.situation(catalogue()), sized.uncured);
    CHECK(others.whole);
    bool boxed = false, shorter = false;
    for (const auto& cure : others.cures) {
        if (rules::registry()[cure.fault.rule].id != "volts.running-drop") continue;
        std::vector<plan::Override> changes;
        for (const auto& change : cure.changes) changes.push_back({change.path + "=" + change.value});
        const auto changed = check(text::Document("plan.toml", us_bench("14 in3")), catalogue(), changes);
        const auto left = advice::faults_of(std::get<Judged>(changed).judgement());
        CHECK(std::find(left.begin(), left.end(), cure.fault) == left.end());
        CHECK(left.size() < sized.uncured.size());
        boxed |= cure.changes.size() == 2 && cure.changes[1].path == "box.j.volume" &&
                 cure.changes[1].value == "16 in3" && cure.changes[0].value == "12 AWG";
        shorter |= !cure.thicker;
    }
    CHECK(boxed);
    CHECK(shorter);
}

TEST_CASE(
    "a junior hard cord ends at 10 AWG, and a plug that no table knows one size beyond the plan's own") {
    const auto sized = advice::size(judged(us_bench("60 in3")).situation());
    CHECK(section_text(group(sized, "cord").group.choices.back()) == "12 AWG");
    CHECK(group(sized, "cord").group.silent);
    const auto& notes = group(sized, "cord").group.notes;
    CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
        return note.find("SJTW is made from 18 AWG to 10 AWG") == 0;
    }));
}

TEST_CASE("the protective core is chosen by itself: as thick as its lines, and no line with it") {
    const std::string stock =
        "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\nprotective_section = \"1 mm2\"\ncores = "
        "3\n";
    const Judged j = judged(bench("EU", "CEE 7/7", stock, 5, "9 A"));
    const auto sized = advice::size(j.situation());
    CHECK(sized.proven);
    REQUIRE(sized.groups.back().group.protective);
    CHECK(section_text(sized.groups.back().after) == "1.5 mm2");
    CHECK(section_text(group(sized, "lead").after) == "1.5 mm2");
    CHECK(advice::edits_of(sized, j.plan()).edits.size() == 1);
}

TEST_CASE("a protective core that was enlarged with its lines is not made thinner when it is sized again") {
    // NEC 250.122(B): 14 beside 10 AWG is 12 beside 8. By table 250.122 alone 14 would do beside 8.
    std::string text = us_bench("60 in3");
    const auto put = [&](const std::string& what, const std::string& by) {
        const auto at = text.find(what);
        REQUIRE(at != std::string::npos);
        text.replace(at, what.size(), by);
    };
    put("type = \"SJTW\"\nsection = \"14 AWG\"",
        "type = \"SOOW\"\nsection = \"10 AWG\"\nprotective_section = \"14 AWG\"");
    put("rating = \"20 A\"\nresidual", "rating = \"15 A\"\nresidual");
    put("60 ft", "190 ft");
    for (int i = 0; i < 2; ++i) {
        const Judged j = judged(text);
        const auto sized = advice::size(j.situation());
        CHECK(sized.proven);
        CHECK(!leaves(sized, "volts.running-drop"));
        CHECK(section_text(group(sized, "cord").after) == "8 AWG");
        REQUIRE(sized.groups.back().group.protective);
        CHECK(section_text(sized.groups.back().after) == "12 AWG");
        text = advice::edited(text::Document("plan.toml", text), advice::edits_of(sized, j.plan()).edits);
    }
}

TEST_CASE("cautions are left and told, and cured when asked for") {
    const std::string stock = "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";
    const Judged j = judged(bench("EU", "CEE 7/7", stock, 26, "9 A"));
    const auto sized = advice::size(j.situation());
    CHECK(section_text(group(sized, "lead").after) == "1.5 mm2");
    REQUIRE(!sized.cautions.left.empty());
    REQUIRE(!sized.cautions.cured.empty());
    const auto careful = advice::size(j.situation(), {.cautions = true});
    CHECK(section_text(group(careful, "lead").after) == "2.5 mm2");
    CHECK(careful.copper_after == sized.cautions.copper);
}
