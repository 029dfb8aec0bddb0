// Findings with one cause are told once; what is printed says what was worked.
#include <benchfeed/rules/causes.hpp>

#include <doctest/doctest.h>

#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

struct Report {
    explicit Report(const std::string& name)
        : judged(test::judged(test::read_text(std::string(BENCHFEED_TESTS_DIR) + "/plans/" + name))),
          found(rules::findings(judged.situation(), judged.judgement())) {}
    Judged judged;
    std::vector<rules::Finding> found;

    [[nodiscard]] const rules::Finding* of(const std::string& rule, const std::string& at) const {
        for (const auto& f : found)
            if (rules::registry()[f.outcome->rule].id == rule &&
                test::at_text(judged.plan(), f.outcome->at) == at)
                return &f;
        return nullptr;
    }
    [[nodiscard]] std::vector<std::string> under(const rules::Finding& f) const {
        std::vector<std::string> rule_and_place;
        for (const auto* o : f.follows)
            rule_and_place.push_back(std::string(rules::registry()[o->rule].id) + " " +
                                     test::at_text(judged.plan(), o->at));
        std::sort(rule_and_place.begin(), rule_and_place.end());
        return rule_and_place;
    }
};

}  // namespace

TEST_CASE("22 A through plug, wall outlet, house cable and breaker are one finding") {
    const Report report("scenarios/slate-yard-us.toml");
    std::size_t overloads = 0;
    const rules::Finding* told = nullptr;
    for (const auto& f : report.found)
        if (rules::registry()[f.outcome->rule].id.ends_with("-overloaded")) {
            ++overloads;
            told = &f;
        }
    REQUIRE(overloads == 1);
    CHECK(report.under(*told).size() == 3);
    // The switch and the router's restart have causes of their own.
    CHECK(report.of("shock.one-pole-off", "switch.collector") != nullptr);
    CHECK(report.of("restart.no-volt-missing", "load.router") != nullptr);
}

TEST_CASE("volts that one cable takes are told at the load that gets least") {
    const Report report("scenarios/slate-yard-us.toml");
    const auto* router = report.of("volts.running-drop", "load.router");
    const auto* lamp = report.of("volts.running-drop", "load.lamp");
    CHECK((router == nullptr) != (lamp == nullptr));
    CHECK(report.under(router ? *router : *lamp).size() == 1);
}

TEST_CASE("the formula of a fault loop says where its source stands") {
    const auto formulas = [](const std::string& current) {
        std::string plan = test::read_text(std::string(BENCHFEED_RULE_PLANS) + "/fault-energy-fires.toml");
        const auto at = plan.find("fault_current");
        REQUIRE(at != std::string::npos);
        plan.replace(at, plan.find('\n', at) - at, "fault_current = \"" + current + "\"");
        const Judged bench = test::judged(plan);
        std::string all;
        for (const auto& o : bench.judgement().outcomes)
            if (rules::registry()[o.rule].id == "heat.fault-energy")
                for (const Step& step : rules::explain(bench.situation(), bench.judgement(), o).steps)
                    if (step.symbol == "Z_LN") all += step.formula + " = " + step.numbers + "\n";
        return all;
    };
    CHECK(formulas("1 kA").find("sqrt((sum of R)^2 + (sum of X)^2) = sqrt((0.23") != std::string::npos);
    CHECK(formulas("1 kA").find("Z_source + sum") == std::string::npos);
    CHECK(formulas("6 kA").find("sqrt((sum of R)^2 + (Z_source + sum of X)^2) = ") != std::string::npos);
}

TEST_CASE("nothing is told under a lesser verdict, or under what is itself told elsewhere") {
    const Report report("scenarios/cedar-lane-us.toml");
    const auto lead = rules::causes(report.judged.situation(), report.judged.judgement());
    const auto& outcomes = report.judged.judgement().outcomes;
    REQUIRE(lead.size() == outcomes.size());
    std::size_t led = 0;
    for (std::size_t i = 0; i < lead.size(); ++i) {
        if (lead[i] == plan::nowhere) continue;
        ++led;
        CHECK(outcomes[lead[i]].verdict >= outcomes[i].verdict);
        CHECK(lead[lead[i]] == plan::nowhere);
        CHECK(outcomes[lead[i]].set == outcomes[i].set);
    }
    CHECK(led > 5);
}
