#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>

#include <random>

#include <benchfeed/base/worked.hpp>
#include "reference/arithmetic.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;

namespace {

void check_steps(Working& working) {
    for (const Step& step : working.finish()) {
        CAPTURE(step.numbers);
        CAPTURE(step.result);
        if (step.result.empty())
            CHECK(reference::holds(step.numbers));
        else
            CHECK(reference::recomputes(step.numbers, step.result));
    }
}

}  // namespace

TEST_CASE("arithmetic with units: dimensions are watched, compound units are understood") {
    const auto drop = evaluate("2 * 13.3 ohm/km * 5 m * 12.3 A");
    REQUIRE(drop.has_value());
    CHECK(test::agrees(drop->si, 1.6359, 1e-12));
    CHECK(drop->powers == unit_size("V")->powers);
    CHECK(evaluate("1600 W / 230 V")->powers == unit_size("A")->powers);
    CHECK(test::agrees(evaluate("7.41 ohm/km * (1 + 0.00393 /K * (70 degC - 20 degC))")->si, 7.41e-3 * 1.1965,
                       1e-12));
    CHECK(
        test::agrees(evaluate("sqrt((230 V - 4 V) ^ 2 + 3 V ^ 2)")->si, std::sqrt(226.0 * 226.0 + 9), 1e-12));
    for (const char* wrong :
         {"1 A + 1 V", "1 A +", "(1 A", "1 parsec", "", "1 A 2 A", "sqrt(2 A)", "--1", "1 ** 2"})
        CHECK_MESSAGE(!evaluate(wrong).has_value(), wrong);
    CHECK_FALSE(evaluate(std::string(5000, '(') + "1").has_value());
}

TEST_CASE("printed operands give the printed result, for many random lines") {
    std::mt19937 random(20261125);
    std::uniform_real_distribution<double> scale(0.01, 100), small(0.001, 2);
    for (int i = 0; i < 20000; ++i) {
        Working w;
        const Value amps = w.computed(scale(random), "A"), r = w.computed(small(random), "ohm"),
                    volts = w.written("230 V");
        const Value drop = w.add("dU", "R * I", "{} * {}", {r, amps}, "V");
        const Value share = w.add("dU%", "dU / U", "{} / {}", {drop, volts}, "%");
        const Value left = w.add("U_left", "sqrt((U - dU)^2 + dU^2)", "sqrt(({} - {}) ^ 2 + {} ^ 2)",
                                 {volts, drop, drop}, "V");
        const Value sum = w.add("I", "sum", "{} + {} + {}", {amps, amps, w.written("5.2 A")}, "A");
        w.compare(share, w.exact(share) > 5 ? ">" : "<=", w.written("5 %"));
        (void)left;
        (void)sum;
        const auto steps = w.finish();
        for (const Step& step : steps) {
            const bool good = step.result.empty() ? reference::holds(step.numbers)
                                                  : reference::recomputes(step.numbers, step.result);
            if (!good) FAIL(step.numbers << " = " << step.result);
        }
    }
}

TEST_CASE("a comparison is true as printed") {
    Working w;
    w.compare(w.computed(16.0004, "A"), ">", w.written("16 A"));
    const auto steps = w.finish();
    REQUIRE(steps.size() == 1);
    CHECK(steps[0].numbers == "16.0004 A > 16 A");
}

TEST_CASE("a value shows the same digits in every line") {
    Working w;
    const Value amps = w.computed(7.123456, "A");
    w.add("a", "I * 3", "{} * 3", {amps}, "A");
    w.compare(amps, ">", w.written("7.1234 A"));
    const auto steps = w.finish();
    CHECK(steps[0].numbers == "7.1235 A * 3");
    CHECK(steps[1].numbers == "7.1235 A > 7.1234 A");
}

TEST_CASE("what is written stays as it was written") {
    Working w;
    const Value iz = w.add("Iz", "table * k", "{} * {}", {w.written("27 A"), w.written("0.80")}, "A");
    w.compare(w.written("16 A"), "<=", iz);
    const auto steps = w.finish();
    CHECK(steps[0].numbers == "27 A * 0.80");
    CHECK(steps[0].result == "21.6 A");
    check_steps(w);
}

TEST_CASE("a result halfway between two printed figures does not stretch its operands") {
    // 70 * 8.866095 = 620.62665, of which 620.6267 and 620.6266 are as near: no digit of the operand settles
    // it.
    for (int i = 0; i < 400; ++i) {
        Working working;
        const double ohms = 8.866065 + i * 1e-6;
        const Value each = working.computed(ohms, "ohm");
        const Value both = working.add("R", "", "2 * 35 * {}", {each}, "ohm");
        working.add("S", "", "{} - {}", {both, working.written(fmt::format("{:.2f} ohm", 70 * ohms - 0.02))},
                    "ohm");
        const auto steps = working.finish();
        CAPTURE(steps.front().numbers);
        CHECK(steps.front().numbers.size() <= std::string("2 * 35 * 8.86609500 ohm").size());
    }
}
