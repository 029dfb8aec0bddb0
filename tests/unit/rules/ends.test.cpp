// Both ends of what nobody gave: figures worked by hand, and the words for what the ends do not share.
#include <benchfeed/rules/ends.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using rules::Verdict;

namespace {

Judged judged(const std::string& text) {
    auto answer = check(text::Document("plan.toml", text), test::catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&answer)) FAIL(problems->front().message);
    return std::move(std::get<Judged>(answer));
}

/// A load behind a lead of so many metres and a switch for so many amps of motor.
std::string bench(const std::string& plate, const std::string& motor_rating, const std::string& more = "",
                  const std::string& length = "3 m") {
    return "format = 1\n[plan]\nregion = \"EU\"\n[supply.p]\nsystem = \"230 V\"\n"
           "[device.b]\nfrom = \"supply.p\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n"
           "[outlet.wall]\nfrom = \"device.b\"\npattern = \"CEE 7/3\"\ncable = { stock = \"c\", length = \"1 "
           "m\" }\n"
           "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
           "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = \"c\", length = \"" +
           length +
           "\" }\n"
           "[switch.s]\nfrom = \"box.b\"\npoles = 2\nrating = \"16 A\"\nmotor_rating = \"" +
           motor_rating + "\"\n[load.saw]\nfrom = \"switch.s\"\nplate = { " + plate + " }\n" + more;
}

const rules::Outcome& outcome(const Judged& bench, std::string_view rule, std::string_view at) {
    const auto& all = bench.judgement().outcomes;
    const auto it = std::find_if(all.begin(), all.end(), [&](const rules::Outcome& o) {
        return rules::registry()[o.rule].id == rule && rules::path_of(bench.plan(), o.at) == at;
    });
    REQUIRE_MESSAGE(it != all.end(), rule);
    return *it;
}
std::string headline(const Judged& bench, const rules::Outcome& o) {
    return rules::explain(bench.situation(), bench.judgement(), o).headline;
}
bool says(const std::string& text, std::string_view words) {
    return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("what two ends hold together") {
    using enum Verdict;
    for (const Verdict same : {ok, caution, cannot_judge, fail}) CHECK(rules::held(same, same) == same);
    for (const Verdict other : {ok, caution, cannot_judge}) {
        CHECK(rules::held(fail, other) == cannot_judge);
        CHECK(rules::held(other, fail) == cannot_judge);
    }
    CHECK(rules::held(caution, ok) == caution);
    CHECK(rules::held(ok, caution) == caution);
    CHECK(rules::held(ok, cannot_judge) == cannot_judge);
    CHECK(rules::held(cannot_judge, caution) == cannot_judge);
}

// By hand: 1150 W / 230 V = 5 A at a power factor of 1; of an unknown motor 0.5 is the lowest, 10 A.
TEST_CASE("watts are a range of amps: above both ends, between them, below both") {
    const std::string watts = "power_in = \"1150 W\"";
    const auto of = [&](const std::string& rating, const std::string& more = "") {
        const Judged b = judged(bench(watts + more, rating));
        const rules::Outcome& o = outcome(b, "heat.switch-motor-rating", "switch.s");
        return std::pair(o, headline(b, o));
    };
    const auto [above, above_words] = of("4 A");
    CHECK(above.verdict == Verdict::fail);
    CHECK_FALSE(above.open.has_value());
    CHECK(number(above.value) == doctest::Approx(10));
    CHECK(number(above.least) == doctest::Approx(5));
    CHECK(says(above_words, "; at least 5 A, whatever the missing facts are"));

    const auto [between, between_words] = of("8 A");
    CHECK(between.verdict == Verdict::cannot_judge);
    REQUIRE(between.open.has_value());
    CHECK(between.open->at_worst == Verdict::fail);
    CHECK(between.open->at_best == Verdict::ok);
    CHECK(between.open->decides == plan::Facts::only(plan::Fact::amps));
    CHECK(says(between_words, "at best 5 A and in order: it depends on the amps of the saw"));
    CHECK(says(between_words, "(no fail up to 8 A on the plate of the saw)"));

    CHECK(of("16 A").first.verdict == Verdict::ok);
    // Of a hand-held tool the factor is 0.9 at least: 5.56 A.
    const Judged hand = judged(bench(watts, "8 A", "form = \"hand\"\n"));
    const rules::Outcome& held = outcome(hand, "heat.switch-motor-rating", "switch.s");
    CHECK(held.verdict == Verdict::ok);
    CHECK(number(held.value) == doctest::Approx(1150 / 230.0 / 0.9));
}

// By hand, IEC 60228 and copper at 60 degC: 61 m of 1.5 mm2 have 2 * 61 * 15.85e-3 = 1.93 ohm, so 5 A
// lose 4.2 % and 10 A lose 8.4 %, of 4 % and 5 %; 11 A and 22 A lose more than 5 % at both ends.
TEST_CASE("volts that are lost fail at both ends, or at one") {
    const auto drop = [](const std::string& watts) {
        const Judged b = judged(bench("power_in = \"" + watts + "\"", "16 A", "", "60 m"));
        const rules::Outcome o = outcome(b, "volts.running-drop", "load.saw");
        return std::pair(o, headline(b, o));
    };
    const auto [both, words] = drop("2530 W");
    CHECK(both.verdict == Verdict::fail);
    CHECK(number(both.value) > number(both.least));
    CHECK(says(words, "; at least "));
    const auto one = drop("1150 W").first;
    CHECK(one.verdict == Verdict::cannot_judge);
    REQUIRE(one.open.has_value());
    CHECK(number(one.least) == doctest::Approx(4.2).epsilon(0.03));
}

TEST_CASE("volts that are left are more at the better end") {
    const Judged b = judged(bench("power_in = \"2530 W\"", "16 A", "motor = \"induction\"\n", "200 m"));
    bool seen = false;
    for (const rules::Outcome& one : b.judgement().outcomes) {
        if (one.verdict != Verdict::fail || one.bound != rules::Bound::at_least || one.least.index() == 0)
            continue;
        seen = true;
        CHECK(number(one.least) > number(one.value));
        CHECK(says(headline(b, one), "; at most "));
    }
    CHECK(seen);
}

TEST_CASE("only the kinds of fact decide that turn the verdict") {
    // Amps, latched and class are open; only whether it stays on decides a restart.
    const Judged b = judged(bench("power_in = \"1150 W\"", "16 A"));
    const rules::Outcome& restart = outcome(b, "restart.no-volt-missing", "load.saw");
    CHECK(restart.verdict == Verdict::cannot_judge);
    REQUIRE(restart.open.has_value());
    CHECK(restart.open->decides == plan::Facts::only(plan::Fact::latched));
    const auto questions = rules::explain(b.situation(), b.judgement(), restart).questions;
    REQUIRE(questions.size() == 1);
    CHECK(questions.front().path == "load.saw.latched");
    // Written, it is certain.
    const Judged stays = judged(bench("power_in = \"1150 W\"", "16 A", "latched = true\n"));
    CHECK(outcome(stays, "restart.no-volt-missing", "load.saw").verdict == Verdict::fail);
    const Judged springs = judged(bench("power_in = \"1150 W\"", "16 A", "latched = false\n"));
    CHECK(outcome(springs, "restart.no-volt-missing", "load.saw").verdict == Verdict::ok);
}

// By hand: 2300 W are 10 to 20 A; wound the cord carries a third of 16 A, run out 15 A by its mark. Less amps
// alone do not help while it may be wound, and run out it is still too little for 20 A.
TEST_CASE("where only two facts together turn the verdict both decide") {
    const Judged b = judged(bench("power_in = \"2300 W\"", "16 A", "latched = false\n",
                                  "3 m\", reel = \"unknown\", unwound_limit = \"15 A"));
    const rules::Outcome& o = outcome(b, "heat.reel-wound", "box.b");
    CHECK(o.verdict == Verdict::cannot_judge);
    REQUIRE(o.open.has_value());
    plan::Facts both = plan::Facts::only(plan::Fact::amps);
    both.add(plan::Facts::only(plan::Fact::reel));
    CHECK(o.open->decides == both);
    CHECK(says(headline(b, o), "the amps of the saw and whether the reel of the b box is fully unwound"));
}

TEST_CASE("a question behind which a fail may be counts as one, and nobody accepts it") {
    // 10 A through a cord of 16 A that may be wound: a third of it may flow then (practice).
    const Judged b = judged(bench("current = \"10 A\"", "16 A", "", "3 m\", reel = \"unknown"));
    rules::Outcome o = outcome(b, "heat.reel-wound", "box.b");
    CHECK(o.verdict == Verdict::cannot_judge);
    REQUIRE(o.open.has_value());
    CHECK(o.open->decides == plan::Facts::only(plan::Fact::reel));
    CHECK_FALSE(rules::registry()[o.rule].essential);
    CHECK(rules::is_grave_question(o));
    CHECK_FALSE(rules::acceptable(o));
    CHECK(reaches(o, FailOn::fail));
    o.open->at_worst = Verdict::caution;  // no fail behind it
    CHECK_FALSE(rules::is_grave_question(o));
    CHECK(rules::acceptable(o));
    CHECK_FALSE(reaches(o, FailOn::fail));
    // Volts warn of weak tools, and nobody is hurt by them.
    const rules::Outcome volts =
        outcome(judged(bench("power_in = \"1150 W\"", "16 A", "", "60 m")), "volts.running-drop", "load.saw");
    REQUIRE(volts.open.has_value());
    CHECK(volts.open->at_worst == Verdict::fail);
    CHECK_FALSE(rules::is_grave_question(volts));
}

TEST_CASE("a plan in which everything is given has no other end") {
    const Judged b =
        judged(bench("current = \"5 A\", power_factor = 0.95", "8 A",
                     "latched = false\nclass = \"I\"\nmotor = \"universal\"\noverload = \"hand\"\n"));
    CHECK(b.situation().best == nullptr);
    CHECK(rules::open_facts(b.situation()).none());
    CHECK(judged(bench("power_in = \"1150 W\"", "8 A")).situation().best != nullptr);
}

TEST_CASE("whether anything trips when all run at once is said of both ends") {
    // A B16 holds 1.13 times 16 A, 18.08 A, for ever (IEC 60898-1 table 7); the thin cord carries 10 A. 1200
    // W of a universal motor or of electronics: 5.22 to 10.43 A.
    const auto line_of = [](const std::string& saw, const std::string& vac) {
        std::string text =
            bench("current = \"" + saw + "\"", "16 A",
                  "motor = \"universal\"\n[load.vac]\nfrom = \"box.b\"\nplate = { " + vac +
                      " }\n[stock.thin]\ntype = \"H05VV-F\"\nsection = \"1 mm2\"\ncores = 3\n");
        const std::string cord = "plug = \"CEE 7/7\"\ncable = { stock = \"c\"";
        text.replace(text.find(cord), cord.size(), "plug = \"CEE 7/7\"\ncable = { stock = \"thin\"");
        text.insert(text.find("kind = \"circuit breaker\""), "curve = \"B\"\n");
        const Judged plan = judged(text);
        return rules::set_lines(plan.situation(), plan.judgement()).back();
    };
    const auto ends_with = [](const std::string& line, std::string_view words) {
        CAPTURE(line);
        CHECK(line.ends_with(words));
    };
    ends_with(line_of("8.5 A", "current = \"5 A\""), "too much, and nothing trips at once");
    ends_with(line_of("8.5 A", "power_in = \"1200 W\""), "too much, and perhaps nothing trips");
    ends_with(line_of("14 A", "power_in = \"1200 W\""), "too much: may trip");
    ends_with(line_of("14 A", "current = \"4 A\""), "too much, and nothing trips at once");
}
