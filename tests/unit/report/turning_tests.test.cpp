// The sheet of a bench with motors on three lines: which way they turn is tried, at an outlet and where they
// are wired.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/report/card.hpp>
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

/// Cells of the tests with power on that name this place, joined.
std::string live_rows(const std::string& loads, const std::string& place) {
    const std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230/400 V\"\n"
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n"
        "[box.b]\nfrom = \"device.d\"\n" +
        loads;
    const Judged result = test::judged(plan);
    const auto card =
        report::card_sheet(text::Document("plan.toml", plan), result.situation(), result.judgement(), {});
    std::string found;
    for (const auto* sections : {&card.before, &card.after})
        for (const report::SheetSection& section : *sections) {
            if (section.heading.find("LIVE") == std::string::npos) continue;
            for (const auto& row : section.tests) {
                std::string text = row.test + "|" + row.expected + "|" + row.stop + "|";
                for (const std::string& key : row.places) text += key + "|";
                if (text.find(place) != std::string::npos) found += text + "\n";
            }
        }
    return found;
}

}  // namespace

TEST_CASE("which way a motor on three lines turns is tried at its outlet, and where it is wired") {
    const std::string saw =
        "[load.saw]\nfrom = \"{}\"\nmotor = \"induction\"\nconductors = \"L1-L2-L3\"\nplate = { current = "
        "\"5 A\" }\n";
    const auto on = [&](const std::string& from) {
        std::string text = saw;
        return text.replace(text.find("{}"), 2, from);
    };
    CHECK(live_rows("[outlet.saw]\nfrom = \"box.b\"\npattern = \"IEC 60309 16 A 3P+E\"\n" + on("outlet.saw"),
                    "O1")
              .find("rotation") != std::string::npos);
    CHECK(live_rows(on("box.b"), "the saw").find("which way it turns") != std::string::npos);
    const std::string heater =
        "[load.kiln]\nfrom = \"box.b\"\nkind = \"heater\"\nmotor = \"none\"\nconductors = "
        "\"L1-L2-L3\"\nplate = { current = \"5 A\" }\n";
    CHECK(live_rows(heater, "the kiln").find("which way it turns") == std::string::npos);
}
