// What nobody gave, in advice: a set that is too much only perhaps, a size that would do perhaps.
#include <doctest/doctest.h>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/advice/sweep.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using advice::Together;

namespace {

/// Two tools at one cord of so many metres, on outlets of 16 A behind a device of 16 A.
std::string text_of(const std::string& saw, const std::string& router, const std::string& length) {
    const auto tool = [](const std::string& name, const std::string& plate) {
        return "[switch." + name +
               "]\nfrom = \"box.b\"\npoles = 2\nrating = \"16 A\"\nmotor_rating = \"16 A\"\n" + "[load." +
               name + "]\nfrom = \"switch." + name + "\"\nplate = { " + plate +
               " }\noverload = \"hand\"\nlatched = false\nclass = \"I\"\n";
    };
    return "format = 1\n[plan]\nregion = \"EU\"\n[supply.p]\nsystem = \"230 V\"\n"
           "earthing = \"TN-S\"\nloop_impedance = \"0.5 ohm\"\nline_impedance = \"0.4 ohm\"\n"
           "fault_current = \"1 kA\"\n"
           "[device.b]\nfrom = \"supply.p\"\nkind = \"circuit breaker\"\nstandard = \"IEC 61009\"\n"
           "curve = \"B\"\nrating = \"16 A\"\nbreaking = \"6 kA\"\n"
           "residual = { trip = \"30 mA\", wave = \"A\" }\n"
           "[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
           "[outlet.wall]\nfrom = \"device.b\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
           "cable = { stock = \"house\", length = \"1 m\", method = \"C\" }\n"
           "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
           "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = \"c\", length = \"" +
           length + "\" }\n" + tool("saw", saw) + tool("router", router);
}

Judged two_tools(const std::string& saw, const std::string& router, const std::string& length = "3 m") {
    auto answer = check(text::Document("plan.toml", text_of(saw, router, length)), test::catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&answer)) FAIL(problems->front().message);
    return std::move(std::get<Judged>(answer));
}

std::vector<bool> certain_of(const advice::TogetherAnswer& answer) {
    std::vector<bool> certain;
    for (const auto& set : answer.forbidden.sets) certain.push_back(set.certain);
    return certain;
}

}  // namespace

// By hand, of 16 A: 1150 W are 5 to 10 A, 1900 W 8.3 to 16.5 A, so two of them 10 to 20 A and 16.5 A at
// least.
TEST_CASE("a set is forbidden for certain where it is too much at both ends") {
    const Judged perhaps = two_tools("power_in = \"1150 W\"", "power_in = \"1150 W\"");
    const auto open = advice::together(perhaps.situation(), perhaps.judgement());
    CHECK(open.pairs[1][0] == Together::cannot_judge);
    CHECK(certain_of(open) == std::vector<bool>{false});
    const Judged certainly = two_tools("power_in = \"1150 W\"", "current = \"12 A\"");
    const auto no = advice::together(certainly.situation(), certainly.judgement());
    CHECK(no.pairs[1][0] == Together::no);
    CHECK(certain_of(no) == std::vector<bool>{true});
    const Judged fits = two_tools("power_in = \"1150 W\"", "current = \"5 A\"");
    const auto yes = advice::together(fits.situation(), fits.judgement());
    CHECK(yes.pairs[1][0] == Together::yes);
    CHECK(yes.forbidden.sets.empty());
}

// By hand, copper at 60 degC: 45 m of 1.5 mm2 have 1.43 ohm, so 10 A lose 6.2 % of 230 V, of 2.5 mm2 3.7 %; 5
// A lose 3.1 % in 1.5 mm2. The advice is 4 %, and 5 % is too much.
TEST_CASE("sizes are those of the worse end, with what would do at the better one") {
    const auto lead_of = [](const std::string& plate) {
        const Judged bench = two_tools(plate, "current = \"0.5 A\"", "45 m");
        const advice::Sized sized = advice::size(bench.situation());
        for (const auto& group : sized.groups)
            if (!group.group.protective && bench.plan().stocks[group.group.stocks.front()].name == "c")
                return group;
        FAIL("no lead");
        return advice::SizedGroup{};
    };
    const auto watts = lead_of("power_in = \"1150 W\"");
    CHECK(section_text(watts.after) == "2.5 mm2");
    REQUIRE(watts.at_best.has_value());
    CHECK(section_text(*watts.at_best) == "1.5 mm2");
    const auto most = lead_of("current = \"10 A\"");
    CHECK(section_text(most.after) == "2.5 mm2");
    CHECK_FALSE(most.at_best.has_value());
    CHECK(section_text(lead_of("current = \"5 A\"").after) == "1.5 mm2");
}

TEST_CASE("what is tried value by value is judged as check judges it") {
    const std::string watts = "power_in = \"1150 W\"";
    const plan::Words words = plan_words(test::catalogue());
    const auto read = advice::read_try("box.b.cable.length=3 m, 30 m, 45 m");
    REQUIRE(std::holds_alternative<advice::Try>(read));
    const auto result = advice::sweep(
        {text::Document("plan.toml", text_of(watts, watts, "3 m")), test::catalogue(), words, {}},
        std::get<advice::Try>(read));
    const auto* sweep = std::get_if<advice::Sweep>(&result);
    REQUIRE(sweep);
    REQUIRE(sweep->tried.size() == 3);
    for (const auto& one : sweep->tried) {
        CAPTURE(one.value);
        const auto judged = two_tools(watts, watts, one.value);
        const auto counts = rules::count_findings(rules::findings(judged.situation(), judged.judgement()));
        CHECK(one.tally.fail == counts.fail);
        CHECK(one.tally.cannot_judge == counts.cannot_judge);
        CHECK(one.tally.caution == counts.caution);
    }
}
