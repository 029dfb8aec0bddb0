// What people write beside a plan: allowances, sold lengths, prices. What is taken, and what is wrong with
// the rest.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include <benchfeed/advice/allowances.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/advice/sold_lengths.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::advice;

namespace {

Allowances usual(const std::string& demo) {
    const Judged plan =
        test::judged(test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/" + demo + ".toml"));
    return usual_allowances(plan.situation());
}
/// What is wrong with one, and with which of its bytes: "waste=abc" -> "6-9: ...".
std::string fault_of(const std::string& text) {
    Allowances allowances;
    const auto fault = allow(allowances, text);
    return fault ? std::to_string(fault->from) + "-" + std::to_string(fault->to) + ": " + fault->message : "";
}

/// "3 x 1.5 mm2 H07RN-F: 5 10"
std::string sold_words(const std::string& text) {
    const auto read = read_sold_lengths(text::Document("sold.toml", text));
    std::string words;
    if (const auto* problems = std::get_if<Diagnostics>(&read)) {
        for (const auto& problem : *problems) words += problem.path + ": " + problem.message + "\n";
        return words;
    }
    const auto all = [&](const std::vector<Length>& lengths) {
        for (const Length& length : lengths) words += " " + to_text(length, 6);
        words += "\n";
    };
    for (const auto& of : std::get<SoldLengths>(read).of) {
        words += std::to_string(of.cores) + " x " + section_text(of.section) + " " + of.type + ":";
        all(of.lengths);
    }
    words += "others:";
    all(std::get<SoldLengths>(read).others);
    return words;
}

std::string price_words(const std::string& text) {
    const auto read = read_prices(text::Document("prices.toml", text));
    std::string words;
    if (const auto* problems = std::get_if<Diagnostics>(&read)) {
        for (const auto& problem : *problems) words += problem.path + ": " + problem.message + "\n";
        return words;
    }
    const auto& list = std::get<PriceList>(read);
    words = list.currency + "\n";
    for (const auto& price : list.prices)
        words +=
            price.type + " " + section_text(price.section) + " " + std::to_string(price.per_metre) + "\n";
    return words;
}

}  // namespace

TEST_CASE("usual allowances are those of the table, in the measures of the region, with their source") {
    const auto* table = test::catalogue().table("part-allowances");
    const Allowances metric = usual("heron-lane");
    CHECK(metric.free_end.value == table->length("free_end")->value);
    CHECK(metric.bends.value == table->length("bends")->value);
    CHECK(metric.service_loop.value == table->length("service_loop")->value);
    CHECK(metric.clip_spacing.value == table->length("clip_spacing")->value);
    CHECK(metric.waste.value == table->ratio("waste")->value);
    CHECK(metric.ferrules.value == table->ratio("ferrules")->value);
    CHECK(metric.spare_ways.value == static_cast<int>(*table->number("spare_ways")));
    CHECK(metric.spare_ways.source.has_value());
    CHECK(metric.free_end.source.has_value());
    CHECK(metric.free_end.written == table->length("free_end")->written);
    CHECK(allowance_names().size() == 7);
}

TEST_CASE("each allowance is set by its name, loses its source, and leaves the others") {
    for (const auto& one : allowance_names()) {
        Allowances set = usual("heron-lane");
        const Allowances before = set;
        const std::string name(one.name);
        const bool share = name == "waste" || name == "ferrules", ways = name == "spare-ways";
        CHECK_FALSE(allow(set, name + (share ? "=7 %" : ways ? "=7" : "=0.7 m")).has_value());
        const auto is = [&](const auto& now, const auto& was, auto value, const char* written,
                            std::string_view key) {
            CAPTURE(key);
            CHECK(now.source.has_value() == (key != name));
            CHECK(now.value == (key == name ? value : was.value));
            CHECK(now.written == (key == name ? written : was.written));
        };
        is(set.free_end, before.free_end, Length(0.7 * unit::metre), "0.7 m", "free-end");
        is(set.bends, before.bends, Length(0.7 * unit::metre), "0.7 m", "bends");
        is(set.service_loop, before.service_loop, Length(0.7 * unit::metre), "0.7 m", "service-loop");
        is(set.clip_spacing, before.clip_spacing, Length(0.7 * unit::metre), "0.7 m", "clip-spacing");
        is(set.waste, before.waste, Ratio(7.0 * unit::percent), "7 %", "waste");
        is(set.ferrules, before.ferrules, Ratio(7.0 * unit::percent), "7 %", "ferrules");
        is(set.spare_ways, before.spare_ways, 7, "7", "spare-ways");
    }
}

TEST_CASE("an allowance of a length may be none, a spacing of clips may not") {
    for (const char* none : {"0", "0 m", "0.0 ft", "0m", "0.00 cm"}) {
        CAPTURE(none);
        Allowances set;
        CHECK_FALSE(allow(set, std::string("bends=") + none).has_value());
        CHECK(set.bends.value == Length{});
        CHECK_FALSE(fault_of(std::string("clip-spacing=") + none).empty());
    }
    Allowances set;
    (void)allow(set, "bends=0");
    CHECK(set.bends.written == "0 m");
    (void)allow(set, "bends=0m");
    CHECK(set.bends.written == "0 m");
    (void)allow(set, "bends=0.30m");
    CHECK(set.bends.written == "0.30 m");
    CHECK(set.bends.value == 0.3 * unit::metre);
    for (const char* wrong :
         {"bends=0 A", "bends=", "bends= m", "bends=m", "bends=1", "waste=1 m", "ferrules=x"})
        CHECK_FALSE(fault_of(wrong).empty());
    CHECK(fault_of("bends=0 A").starts_with("6-9: "));
    CHECK(fault_of("waste=abc").starts_with("6-9: "));
}

TEST_CASE("ways to spare are counted") {
    for (const char* taken : {"0", "1", "100"}) CHECK(fault_of(std::string("spare-ways=") + taken).empty());
    for (const char* wrong : {"-1", "101", "1.5", "two", "", "1 m", "99999999999"})
        CHECK(fault_of(std::string("spare-ways=") + wrong).find("from 0 to 100") != std::string::npos);
}

TEST_CASE("what is no allowance is told with the seven there are") {
    for (const char* wrong : {"length=3 m", "bends", "=3 m", ""}) {
        Allowances set;
        const auto fault = allow(set, wrong);
        REQUIRE(fault);
        CHECK(fault->message.find("is no allowance") != std::string::npos);
        CHECK(fault->help ==
              "free-end, bends, service-loop, clip-spacing, waste, ferrules, spare-ways, each with =VALUE");
        CHECK(fault->from == 0);
    }
    CHECK(fault_of("length=3 m").starts_with("0-6: "));
}

TEST_CASE("a list of sold lengths is read whole") {
    CHECK(
        sold_words("others = [\"10 m\", \"50 m\"]\n[sold.\"H07RN-F\"]\n\"3 x 1.5 mm2\" = [\"5 m\"]\n"
                   "\"1x14 AWG\" = [\"100 ft\"]\n[sold.NYM]\n\" 5  x  2.5 mm2 \" = [\"25 m\"]\n") ==
        "3 x 1.5 mm2 H07RN-F: 5 m\n1 x 14 AWG H07RN-F: 30.48 m\n5 x 2.5 mm2 NYM: 25 m\nothers: 10 m 50 m\n");
    CHECK(sold_words("others = [\"10 m\"]\n") == "others: 10 m\n");
    const auto read = read_sold_lengths(
        text::Document("sold.toml", "others = [\"7 m\"]\n[sold.\"H07RN-F\"]\n\"3 x 1.5 mm2\" = [\"5 m\"]\n"));
    const auto& sold = std::get<SoldLengths>(read);
    const Section thin = section_of(1.5 * unit::mm2), thick = section_of(2.5 * unit::mm2);
    CHECK(sold.lengths_of("H07RN-F", 3, thin).front() == 5.0 * unit::metre);
    for (const auto& others : {sold.lengths_of("H07RN-F", 4, thin), sold.lengths_of("H07RN-F", 3, thick),
                               sold.lengths_of("NYM", 3, thin)}) {
        REQUIRE(others.size() == 1);
        CHECK(others.front() == 7.0 * unit::metre);
    }
}

TEST_CASE("every fault of a list of sold lengths is told") {
    CHECK(
        sold_words("x = 3\nothers = []\n[sold]\nNYM = 3\n[sold.\"H07RN-F\"]\n\"3 x 1.5 mm2\" = [\"5 A\", 5]\n"
                   "\"1.5 mm2\" = [\"5 m\"]\n\"0 x 1.5 mm2\" = [\"5 m\"]\n\"3y x 1.5 mm2\" = [\"5 m\"]\n"
                   "\"3 x 5 m\" = [\"5 m\"]\n\"3 x 4 mm2\" = \"5 m\"\n") ==
        "x: a list of sold lengths has no x; it has sold and others\n"
        "others: sold lengths are a list of lengths\n"
        "sold.NYM: lengths of a type stand in a table\n"
        "sold.H07RN-F.3 x 1.5 mm2: a sold length is a length; \"5 A\" is a current\n"
        "sold.H07RN-F.3 x 1.5 mm2: a length is a text with its unit\n"
        "sold.H07RN-F.1.5 mm2: \"1.5 mm2\" is not cores x section\n"
        "sold.H07RN-F.0 x 1.5 mm2: \"0 x 1.5 mm2\" is not cores x section\n"
        "sold.H07RN-F.3y x 1.5 mm2: \"3y x 1.5 mm2\" is not cores x section\n"
        "sold.H07RN-F.3 x 5 m: \"3 x 5 m\" is not cores x section\n"
        "sold.H07RN-F.3 x 4 mm2: sold lengths are a list of lengths\n");
    for (const char* nothing : {"", "[sold]\n", "[sold.NYM]\n"})
        CHECK(sold_words(nothing) == "sold: the list has no length\n");
    CHECK(sold_words("sold = 3\n") == "sold: a list of sold lengths has no sold; it has sold and others\n");
}

TEST_CASE("lengths of an option, and where the first fault is") {
    const auto three = read_lengths("5 m, 10m ,25 ft");
    REQUIRE(std::holds_alternative<std::vector<Length>>(three));
    CHECK(std::get<std::vector<Length>>(three) ==
          std::vector<Length>{5.0 * unit::metre, 10.0 * unit::metre, 25.0 * unit::foot});
    for (const auto& [text, from, to] :
         {std::tuple{"5 m, 0 m", 4, 8}, {"5 A,3 m", 0, 3}, {"3 m,", 4, 4}, {"", 0, 0}}) {
        const auto read = read_lengths(text);
        REQUIRE(std::holds_alternative<QuantityFault>(read));
        CHECK(std::get<QuantityFault>(read).from == static_cast<std::size_t>(from));
        CHECK(std::get<QuantityFault>(read).to == static_cast<std::size_t>(to));
    }
}

TEST_CASE("a price list is read whole, and every fault of one is told") {
    CHECK(price_words(
              "currency = \"EUR\"\n[price.\"H07RN-F\"]\n\"1.5 mm2\" = 1.5\n\"14 AWG\" = 2\n[price.NYM]\n"
              "\"4 mm2\" = 0.01\n") ==
          "EUR\nH07RN-F 1.5 mm2 1.500000\nH07RN-F 14 AWG 2.000000\nNYM 4 mm2 0.010000\n");
    CHECK(price_words(
              "currency = 3\nx = 1\n[price]\nNYM = 3\n[price.\"H07RN-F\"]\n\"1.5 m\" = 1\n\"1.5 mm2\" = 0\n"
              "\"4 mm2\" = -1\n\"6 mm2\" = \"1\"\n\"10 mm2\" = nan\n") ==
          "currency: a price list has no currency; it has currency and price\n"
          "x: a price list has no x; it has currency and price\n"
          "price.NYM: prices of a type stand in a table\n"
          "price.H07RN-F.1.5 m: the size is a section; \"1.5 m\" is a length\n"
          "price.H07RN-F.1.5 mm2: a price for a metre is a number above 0\n"
          "price.H07RN-F.4 mm2: a price for a metre is a number above 0\n"
          "price.H07RN-F.6 mm2: a price for a metre is a number above 0\n"
          "price.H07RN-F.10 mm2: a price for a metre is a number above 0\n");
    for (const char* nothing : {"", "currency = \"EUR\"\n", "[price.NYM]\n"})
        CHECK(price_words(nothing) == "price: the list has no price\n");
}
