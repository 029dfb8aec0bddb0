// Printed arithmetic recomputes: every worked step of every outcome of every plan is read back, worked by an
// independent calculator from its printed operands, and compared with its printed result.
#include <doctest/doctest.h>

#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "reference/arithmetic.hpp"
#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;

namespace {

struct Seen {
    std::size_t steps = 0, finals = 0, compared = 0;
};

/// Every step of an outcome, worked; what is compared at the end is what was judged.
void work_steps(const rules::Outcome& outcome, const rules::Explanation& e, Seen& seen) {
    for (const Step& step : e.steps) {
        if (!step.words.empty()) continue;
        ++seen.steps;
        CAPTURE(e.headline);
        CAPTURE(step.numbers);
        CAPTURE(step.result);
        CHECK((step.result.empty() ? reference::holds(step.numbers)
                                   : reference::recomputes(step.numbers, step.result)));
        const bool volts = std::holds_alternative<Voltage>(outcome.value);
        if (step.result.empty() && volts && outcome.limit != plan::nowhere) {
            ++seen.compared;
            const double by_hand = std::stod(step.numbers);
            CHECK(by_hand == doctest::Approx(number(outcome.value)).epsilon(0.006));
        }
        if (step.symbol != "dU%") continue;
        ++seen.finals;
        const double by_hand = std::stod(step.result);
        if (std::holds_alternative<Ratio>(outcome.value))
            CHECK(std::abs(by_hand - number(outcome.value)) <= 0.006 * std::max(1.0, by_hand));
    }
}

}  // namespace

TEST_CASE("every worked step gives its result from its printed operands") {
    const tables::Catalogue catalogue;
    std::vector<std::filesystem::path> plans;
    for (const std::string& folder :
         {std::string(BENCHFEED_RULE_PLANS), std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios",
          std::string(BENCHFEED_DATA_DIR) + "/plans"})
        for (const auto& path : test::plans_in(folder)) plans.push_back(path);
    Seen seen;
    for (const auto& path : plans) {
        CAPTURE(path.filename().string());
        auto result = check(text::Document(path.string(), test::read_text(path)), catalogue);
        REQUIRE(std::holds_alternative<Judged>(result));
        const auto& judged = std::get<Judged>(result);
        for (const auto& outcome : judged.judgement().outcomes) {
            const auto e = rules::explain(judged.situation(), judged.judgement(), outcome);
            CHECK_FALSE(e.headline.empty());
            if (outcome.verdict == rules::Verdict::fail) {
                CHECK_FALSE(e.short_words.empty());
                CHECK_FALSE(e.consequence.empty());
                CHECK_FALSE(e.remedies.empty());
            }
            if (outcome.verdict == rules::Verdict::cannot_judge) CHECK_FALSE(e.questions.empty());
            work_steps(outcome, e, seen);
        }
    }
    CHECK(seen.steps > 2000);
    CHECK(seen.finals > 200);
    CHECK(seen.compared > 200);
}

TEST_CASE(
    "what is worked is what was judged where some power factors are known and some are not: 40 benches") {
    Seen seen;
    for (unsigned seed = 1; seed <= test::rounds(40); ++seed) {
        CAPTURE(seed);
        test::BenchDice random(seed);
        test::BenchOptions options;
        options.extras = false;
        options.whole = seed % 2 == 0;
        if (seed % 3 == 0) options.system = "230/400 V";
        std::string text = test::random_bench(random, options);
        text += "[[together]]\nname = \"some\"\nloads = [\"l0\", \"l1\", \"l2\", \"l3\"]\n";
        auto result = check(text::Document("plan.toml", text), test::catalogue());
        REQUIRE(std::holds_alternative<Judged>(result));
        const auto& judged = std::get<Judged>(result);
        for (const auto& outcome : judged.judgement().outcomes)
            work_steps(outcome, rules::explain(judged.situation(), judged.judgement(), outcome), seen);
    }
    CHECK(seen.finals > test::rounds(100));
    CHECK(seen.compared > test::rounds(20));
}
