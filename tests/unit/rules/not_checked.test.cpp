// What a report says was not checked, where the plan or its region makes it matter.
#include <doctest/doctest.h>

#include <algorithm>

#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

/// Each line as a report has it.
std::string told(const std::string& plan) {
    const Judged j = judged(plan);
    std::string lines;
    for (const auto& one : rules::not_checked(j.situation())) lines += one.what + ": " + one.why + "\n";
    return lines;
}

bool says(const std::string& lines, std::string_view words) {
    return lines.find(words) != std::string::npos;
}

std::string bench(const std::string& region, const std::string& system, const std::string& site,
                  const std::string& rest = "") {
    return "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"mobile\"\n[site]\n" + site +
           "\n[supply.panel]\nsystem = \"" + system +
           "\"\n[device.d]\nfrom = \"supply.panel\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n"
           "[box.b]\nfrom = \"device.d\"\n[load.lamp]\nfrom = \"box.b\"\nkind = \"light\"\nmotor = \"none\"\n"
           "conductors = \"L1-N\"\n" +
           rest;
}

const std::string arc = "arc-fault", tamper = "tamper-resistant", turns = "which way",
                  welds = "withstands a short circuit";

}  // namespace

TEST_CASE("arc-fault protection is named in rooms of a dwelling in the US, and nowhere else") {
    const auto at = [](const std::string& site) { return told(bench("US", "120 V", site)); };
    CHECK(says(at("use = \"dwelling\"\nroom = \"habitable\""), arc));
    CHECK(says(at("use = \"dwelling\"\nroom = \"basement\""), arc));
    CHECK(says(at("use = \"unknown\"\nroom = \"unknown\""), arc));
    CHECK_FALSE(says(at("use = \"dwelling\"\nroom = \"garage\""), arc));
    CHECK_FALSE(says(at("use = \"workplace\"\nroom = \"workshop\""), arc));
    CHECK_FALSE(says(told(bench("UK", "230 V", "use = \"dwelling\"\nroom = \"habitable\"")), arc));
}

TEST_CASE("tamper-resistant receptacles are named in US dwellings, schools and where children are") {
    const auto at = [](const std::string& site) { return told(bench("US", "120 V", site)); };
    CHECK(says(at("use = \"dwelling\"\nroom = \"garage\""), tamper));
    CHECK(says(at("use = \"school\"\nroom = \"workshop\""), tamper));
    CHECK(says(at("use = \"workplace\"\nroom = \"workshop\"\nchildren = true"), tamper));
    CHECK_FALSE(says(at("use = \"workplace\"\nroom = \"workshop\"\nchildren = false"), tamper));
    CHECK_FALSE(says(told(bench("EU", "230 V", "use = \"school\"\nchildren = true")), tamper));
}

TEST_CASE(
    "which way a motor on three lines turns is for a test, and a changeover that reverses it is named") {
    const std::string site = "use = \"workplace\"";
    const std::string motor =
        "[load.saw]\nfrom = \"box.b\"\nmotor = \"induction\"\nconductors = \"L1-L2-L3\"\n";
    CHECK(says(told(bench("EU", "230/400 V", site, motor)), "which way the saw turns"));
    CHECK_FALSE(says(told(bench("EU", "230/400 V", site, motor)), "reverses it too"));
    const std::string reversed =
        "[switch.turn]\nfrom = \"box.b\"\nchangeover = true\nconductors = \"L1-L2-L3\"\n"
        "[load.saw]\nfrom = \"switch.turn\"\nmotor = \"induction\"\nconductors = \"L1-L2-L3\"\n";
    CHECK(says(told(bench("EU", "230/400 V", site, reversed)), "reverses it too"));
    const std::string heater =
        "[load.kiln]\nfrom = \"box.b\"\nkind = \"heater\"\nmotor = \"none\"\nconductors = \"L1-L2-L3\"\n";
    CHECK_FALSE(says(told(bench("EU", "230/400 V", site, heater)), turns));
    const std::string one_line = "[load.saw]\nfrom = \"box.b\"\nmotor = \"induction\"\n";
    CHECK_FALSE(says(told(bench("EU", "230 V", site, one_line)), turns));
}

TEST_CASE(
    "a contactor without its maker's figure is named as not checked, once the figure is there it is not") {
    const std::string site = "use = \"workplace\"",
                      contactor = "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\n";
    CHECK(says(told(bench("EU", "230 V", site, contactor)), welds));
    CHECK_FALSE(says(told(bench("EU", "230 V", site, contactor + "backup_max = \"25 A\"\n")), welds));
    CHECK_FALSE(says(told(bench("EU", "230 V", site, contactor + "backup_max = \"unknown\"\n")), welds));
    CHECK_FALSE(
        says(told(bench("EU", "230 V", site, "[switch.k1]\nfrom = \"box.b\"\nkind = \"rocker\"\n")), welds));
}
