// The sheet of a bench with an emergency stop: its test, and that it is no isolation.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <benchfeed/report/card.hpp>
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

std::string bench(const std::string& stop) {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n"
           "[supply.s]\nsystem = \"230 V\"\n[outlet.wall]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n"
           "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
           "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\npoles = 2\ncoil = \"230 "
           "V\"\n" +
           stop +
           "[outlet.saw]\nfrom = \"switch.k1\"\npattern = \"CEE 7/3\"\n"
           "[load.saw]\nfrom = \"outlet.saw\"\nmotor = \"universal\"\nplate = { current = \"5 A\" }\n";
}

std::string button(const std::string& stops) {
    return "[switch.red]\nfrom = \"box.b\"\nlabel = \"the red button\"\nkind = \"emergency-stop\"\nwiring = "
           "\"control\"\npoles = 2\n" +
           stops;
}

report::Sheet sheet(const std::string& plan) {
    const Judged result = test::judged(plan);
    return report::card_sheet(text::Document("plan.toml", plan), result.situation(), result.judgement(), {});
}

/// Rows of a test table that name this place, cells joined.
std::vector<std::string> rows(const report::Sheet& card, const std::string& heading,
                              const std::string& place) {
    std::vector<std::string> found;
    for (const auto* sections : {&card.before, &card.after})
        for (const report::SheetSection& section : *sections) {
            if (section.heading.find(heading) == std::string::npos) continue;
            for (const auto& row : section.tests) {
                std::string text = row.test + "|" + row.expected + "|" + row.stop + "|";
                for (const std::string& key : row.places) text += key + "|";
                if (text.find(place) != std::string::npos) found.push_back(text);
            }
        }
    return found;
}

bool says(const report::Sheet& card, const std::string& heading, const std::string& words) {
    for (const auto* sections : {&card.before, &card.after})
        for (const report::SheetSection& section : *sections)
            if (section.heading == heading &&
                std::any_of(section.lines.begin(), section.lines.end(),
                            [&](const std::string& line) { return line.find(words) != std::string::npos; }))
                return true;
    return false;
}

}  // namespace

TEST_CASE("the sheet has the two tests of an emergency stop: pressed, and pulled out again") {
    const auto tests = rows(sheet(bench(button("stops = [\"switch.k1\"]\n"))), "LIVE", "the red button");
    REQUIRE(tests.size() == 2);
    CHECK(tests[0].find("the saw: dead") != std::string::npos);
    CHECK(tests[0].find("once a month") != std::string::npos);
    CHECK(tests[1].find("stays dead") != std::string::npos);
    // What it drops out is not known: press it and write down what happens.
    const auto open = rows(sheet(bench(button(""))), "LIVE", "the red button");
    REQUIRE(open.size() == 1);
    CHECK(open[0].find("?") != std::string::npos);
    CHECK(rows(sheet(bench("")), "LIVE", "button").empty());
}

TEST_CASE("the sheet names the emergency stop: no isolation, and what to do after it") {
    const auto with = sheet(bench(button("stops = [\"switch.k1\"]\n"))), without = sheet(bench(""));
    CHECK(says(with, "", "the red button or a tripped residual device is not isolation"));
    CHECK(says(without, "", "an emergency stop or a tripped residual device is not isolation"));
    CHECK(says(with, "After a trip", "After the red button:"));
    CHECK_FALSE(says(without, "After a trip", "pull it out"));
}
