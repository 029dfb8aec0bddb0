// Which finding is told first, and which member carries a fold.
#include <benchfeed/rules/order.hpp>

#include <doctest/doctest.h>

#include <array>
#include <string>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using rules::Danger;

namespace {

std::string plan_named(const std::string& name) {
    return test::read_text(std::string(BENCHFEED_RULE_PLANS) + "/" + name + ".toml");
}

/// A plan with one of its lines written otherwise.
std::string changed(std::string plan, const std::string& from, const std::string& to) {
    const auto at = plan.find(from);
    REQUIRE(at != std::string::npos);
    return plan.replace(at, from.size(), to);
}

Danger danger_of(std::string_view rule) {
    REQUIRE(rules::find_rule(rule));
    return rules::danger(*rules::find_rule(rule));
}

/// Rules of the findings, as a report tells them.
std::vector<std::string_view> told(const Judged& judged) {
    std::vector<std::string_view> ids;
    for (const auto& f : rules::findings(judged.situation(), judged.judgement()))
        ids.push_back(rules::registry()[f.outcome->rule].id);
    return ids;
}

}  // namespace

TEST_CASE("what a hand can meet, then what starts, then missing protection, then fire, then the rest") {
    constexpr std::array<std::string_view, 8> falling{"shock.protective-conductor",
                                                      "restart.no-volt-missing",
                                                      "shock.no-residual-protection",
                                                      "heat.cable-unprotected",
                                                      "heat.terminal-mismatch",
                                                      "volts.running-drop",
                                                      "trip.leakage",
                                                      "plan.unknown"};
    for (std::size_t i = 1; i < falling.size(); ++i) CHECK(danger_of(falling[i - 1]) < danger_of(falling[i]));
    for (const std::string_view rule :
         {"shock.one-pole-off", "shock.no-earth-contact", "shock.second-supply"})
        CHECK(danger_of(rule) == Danger::touch);
    for (const auto& rule : rules::registry()) {
        CAPTURE(rule.id);
        CHECK((rules::danger(rule) == Danger::plan) == (rule.harm == rules::Harm::plan));
    }
}

TEST_CASE("a blade that starts by itself comes before a drop limit, whatever each rests on") {
    const auto plan = changed(changed(changed(plan_named("bench-without-findings-eu"),
                                              "no_volt      = true\n", "no_volt      = false\n"),
                                      "coil         = \"230 V\"\n", ""),
                              "length = \"3 m\"", "length = \"40 m\"");
    const auto judged = test::judged(plan);
    const auto ids = told(judged);
    const auto restart = std::find(ids.begin(), ids.end(), "restart.no-volt-missing"),
               drop = std::find(ids.begin(), ids.end(), "volts.running-drop");
    REQUIRE(restart != ids.end());
    REQUIRE(drop != ids.end());
    CHECK(restart < drop);
    CHECK(rules::headline(judged.situation(), judged.judgement()).find("restarts by itself") !=
          std::string::npos);
}

TEST_CASE("an overload that nothing ends comes before one that trips") {
    const auto judged = test::judged(plan_named("plug-overloaded-fires"));
    for (const auto& o : judged.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "heat.plug-overloaded" || o.verdict != rules::Verdict::fail)
            continue;
        auto ok = o;
        ok.verdict = rules::Verdict::ok;
        CHECK(rules::danger(judged.situation(), ok) == Danger::heat);
        CHECK(rules::danger(judged.situation(), o) <= Danger::heat);
        CHECK(rules::told_before(rules::urgency(judged.situation(), o),
                                 rules::urgency(judged.situation(), ok)));
    }
}

TEST_CASE("an acceptance covers a fold by whichever of its members it names") {
    // Bench cord and run to the switch are one question about the breaker.
    const std::string plan = changed(plan_named("fault-energy-fires"), "ambient = \"30 degC\"\n",
                                     "ambient = \"30 degC\"\nrevision = \"1\"\n");
    for (const std::string at : {"box.junction", "switch.saw"}) {
        CAPTURE(at);
        const auto judged = test::judged(plan + "\n[[accept]]\nrule = \"heat.fault-energy\"\nat = \"" + at +
                                         "\"\nreason = \"looked up\"\nrevision = \"1\"\n");
        CHECK(rules::covers_something(judged.judgement(), 0));
        for (const auto& o : judged.judgement().outcomes) {
            CHECK(rules::registry()[o.rule].id != "plan.accept-unmatched");
            if (rules::registry()[o.rule].id == "heat.fault-energy" &&
                o.verdict == rules::Verdict::cannot_judge)
                CHECK(o.accepted == 0);
        }
    }
}

TEST_CASE("the cable that stands least of the energy carries the question about it") {
    // 0.75 mm2 further down, where less flows, stands a quarter of what the lead does.
    const std::string plan = changed(
        changed(plan_named("fault-energy-fires"), "[outlet.wall]",
                "[stock.thin]\ntype      = \"H07RN-F\"\nsection   = \"1.0 mm2\"\ncores     = 3\nconductor = "
                "\"copper\"\n\n[outlet.wall]"),
        "cable = { stock = \"lead\", length = \"1 m\", grouped = 1 }",
        "cable = { stock = \"thin\", length = \"1 m\", grouped = 1 }");
    const auto judged = test::judged(plan);
    std::size_t seen = 0;
    for (const auto& o : judged.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "heat.fault-energy" || o.verdict == rules::Verdict::ok) continue;
        ++seen;
        CHECK(test::at_text(judged.plan(), o.at) == "switch.saw");
    }
    CHECK(seen == 1);
}
