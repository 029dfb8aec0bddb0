#include <benchfeed/advice/sweep.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include <cstdlib>

#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

const char* const plan_text =
    "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\nearthing = "
    "\"TN-S\"\n"
    "loop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 ohm\"\nfault_current = \"1 kA\"\n[device.d]\nfrom "
    "= \"supply.s\"\n"
    "kind = \"circuit breaker\"\ncurve = \"B\"\nrating = \"16 A\"\nresidual = { trip = \"30 mA\", wave = "
    "\"A\" }\n"
    "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n[switch.main]\nfrom = "
    "\"device.d\"\nkind "
    "= \"isolator\"\npoles = 2\nrating = \"16 A\"\nmotor_rating = \"16 A\"\nisolating = true\nlockable = "
    "true\n[box.j]\nfrom = \"switch.main\"\ncable "
    "= { stock = "
    "\"lead\", length = \"5 m\" }\n[outlet.a]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = "
    "\"tested\"\n[load.a]\nfrom = "
    "\"outlet.a\"\nmotor = \"universal\"\nlatched = false\nplate = { current = \"9 A\", voltage = \"230 V\" "
    "}\n";

advice::Try tried(const std::string& text) {
    const auto read = advice::read_try(text);
    if (const auto* problem = std::get_if<Diagnostic>(&read)) FAIL(problem->message);
    return std::get<advice::Try>(read);
}
std::variant<advice::Sweep, Diagnostics> swept(const std::string& text) {
    static const plan::Words words = plan_words(catalogue());
    return advice::sweep({text::Document("plan.toml", plan_text), catalogue(), words, {}}, tried(text));
}
rules::Verdict verdict_with(const std::string& override_text) {
    const std::vector<plan::Override> overrides{{override_text}};
    return std::get<Judged>(check(text::Document("plan.toml", plan_text), catalogue(), overrides))
        .judgement()
        .verdict;
}

}  // namespace

TEST_CASE("a range is tried at round steps, and findings change where bisection says, not at a step") {
    const auto result = std::get<advice::Sweep>(swept("box.j.cable.length=\"1 m to 61 m\""));
    std::vector<std::string> values;
    for (const auto& one : result.tried) values.push_back(one.value);
    CHECK(values == std::vector<std::string>{"1 m", "10 m", "20 m", "30 m", "40 m", "50 m", "60 m", "61 m"});
    CHECK(result.tried.front().drop->lost < result.tried.back().drop->lost);
    CHECK(result.tried[0].weakest->share == doctest::Approx(9.0 / 16));
    REQUIRE(!result.crossings.empty());
    for (const auto& crossing : result.crossings) {
        CHECK(!(crossing.tally_before == crossing.tally_after));
        CHECK(verdict_with("box.j.cable.length=" + crossing.last) == crossing.before);
        CHECK(verdict_with("box.j.cable.length=" + crossing.first) == crossing.after);
        const double last = std::strtod(crossing.last.c_str(), nullptr),
                     first = std::strtod(crossing.first.c_str(), nullptr);
        CHECK(first > last);
        CHECK(first - last < 0.0101);
        CHECK(crossing.rule != plan::nowhere);
    }
    // 5 % of 230 V for 9 A: 11.5 V / (9 A * 2 * 13.7 mohm/m * 1.157) = 40.3 m
    const auto& fail = *std::find_if(result.crossings.begin(), result.crossings.end(),
                                     [](const auto& c) { return c.after == rules::Verdict::fail; });
    CHECK(fail.after == rules::Verdict::fail);
    CHECK(rules::registry()[fail.rule].id == "volts.running-drop");
    CHECK(std::strtod(fail.first.c_str(), nullptr) == doctest::Approx(40.3).epsilon(0.01));
}

TEST_CASE("with other faults in the plan, too, a range tells where one more begins") {
    // 1.0 mm2 behind 16 A fails at every length: the verdict is the same, and still the drop crosses its
    // limit.
    std::string faulty = plan_text;
    faulty.replace(faulty.find("section = \"1.5 mm2\""), 19, "section = \"1.0 mm2\"");
    static const plan::Words words = plan_words(catalogue());
    const auto answer = advice::sweep({text::Document("plan.toml", faulty), catalogue(), words, {}},
                                      tried("box.j.cable.length=\"5 m to 45 m\""));
    const auto& result = std::get<advice::Sweep>(answer);
    for (const auto& one : result.tried) CHECK(one.verdict == rules::Verdict::fail);
    REQUIRE(!result.crossings.empty());
    const auto drop = std::find_if(result.crossings.begin(), result.crossings.end(), [](const auto& c) {
        return rules::registry()[c.rule].id == "volts.running-drop" &&
               c.tally_after.fail > c.tally_before.fail;
    });
    REQUIRE(drop != result.crossings.end());
    // 11.5 V / (9 A * 2 * 20 mohm/m * 1.157) = 27.6 m: 20 ohm/km is IEC 60228, Table 3, tinned, 1 mm2
    CHECK(std::strtod(drop->first.c_str(), nullptr) == doctest::Approx(27.6).epsilon(0.01));
}

TEST_CASE("a list is tried value by value") {
    const auto result = std::get<advice::Sweep>(swept("stock.lead.section=\"0.75 mm2, 1.5 mm2, 2.5 mm2\""));
    REQUIRE(result.tried.size() == 3);
    CHECK(result.tried[0].verdict == rules::Verdict::fail);
    CHECK(result.tried[1].verdict < rules::Verdict::fail);
    CHECK(result.crossings.empty());
    CHECK(result.tried[2].drop->lost < result.tried[1].drop->lost);
}

TEST_CASE("what cannot be tried is told") {
    for (const char* text :
         {"box.j.cable.length", "=1 m", "box.j.cable.length=", "box.j.cable.length=30 m to 1 m",
          "box.j.cable.length=1 m to 30 ft", "box.j.cable.length=a to b"})
        CHECK(std::holds_alternative<Diagnostic>(advice::read_try(text)));
    CHECK(std::holds_alternative<Diagnostics>(swept("box.j.cable.length=\"1 A, 2 A\"")));
    CHECK(std::holds_alternative<Diagnostics>(swept("box.gone.ways=\"1, 2\"")));
}

TEST_CASE("the drop beside a value is that of the load that loses most, wherever it stands in the plan") {
    const std::string lamp =
        "[outlet.b]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.b]\nfrom = "
        "\"outlet.b\"\n"
        "motor = \"none\"\nplate = { current = \"1 A\", voltage = \"230 V\" }\n";
    const std::string saw = std::string(plan_text).substr(std::string(plan_text).find("[outlet.a]"));
    const std::string rest = std::string(plan_text).substr(0, std::string(plan_text).find("[outlet.a]"));
    static const plan::Words words = plan_words(catalogue());
    for (const std::string& text : {rest + saw + lamp, rest + lamp + saw}) {
        const text::Document document("plan.toml", text);
        const auto result =
            advice::sweep({document, catalogue(), words, {}}, tried("box.j.cable.length=\"5 m, 6 m\""));
        const auto judged = check(document, catalogue());
        for (const auto& one : std::get<advice::Sweep>(result).tried) {
            REQUIRE(one.drop);
            CHECK(std::get<Judged>(judged).plan()[one.drop->load].name == "a");
        }
    }
}
