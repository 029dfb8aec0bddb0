// What a meter showed, as people write it down.
#include <benchfeed/plan/found.hpp>

#include <doctest/doctest.h>

#include <regex>
#include <string>

using namespace benchfeed;
using plan::Found;
using plan::Test;

namespace {

constexpr Test tests[] = {Test::loop,
                          Test::protective,
                          Test::link,
                          Test::neutral,
                          Test::insulation,
                          Test::fall,
                          Test::residual,
                          Test::residual_high,
                          Test::ramp,
                          Test::lines,
                          Test::line_to_neutral,
                          Test::line_to_earth,
                          Test::neutral_to_earth,
                          Test::rise,
                          Test::rotation};

}  // namespace

TEST_CASE("a reading has its unit, in whatever size the meter shows it") {
    const auto value = [](const char* text) { return number(plan::read_found(text).value().value); };
    CHECK(value("0.9 ohm") == doctest::Approx(0.9).scale(0));
    CHECK(value("900mohm") == doctest::Approx(0.9).scale(0));
    CHECK(value("500 kohm") == doctest::Approx(5e5).scale(0));
    CHECK(value("> 500 Mohm") == doctest::Approx(5e8).scale(0));
    CHECK(value("<0.1 Ω") == doctest::Approx(0.1).scale(0));
    CHECK(value("28 ms") == doctest::Approx(0.028).scale(0));
    CHECK(value("0.3 s") == doctest::Approx(0.3).scale(0));
    CHECK(value("22 mA") == doctest::Approx(0.022).scale(0));
    CHECK(value(" 9.4 V ") == doctest::Approx(9.4).scale(0));
    CHECK(plan::read_found("> 500 Mohm")->kind == Found::Kind::above);
    CHECK(plan::read_found("< 0.1 ohm")->kind == Found::Kind::below);
    CHECK(plan::read_found("open")->kind == Found::Kind::open);
    CHECK(plan::read_found("no trip")->kind == Found::Kind::no_trip);
    CHECK(plan::read_found("as marked")->kind == Found::Kind::as_marked);
    CHECK(plan::read_found(" backwards")->kind == Found::Kind::backwards);
}

TEST_CASE("what is no reading is refused") {
    for (const char* text : {"",          " ",
                             "0.9",       "ohm",
                             "0,9 ohm",   "-1 ohm",
                             "+1 ohm",    "1e3 ohm",
                             "1. ohm",    ".5 ohm",
                             "0.9 Ohm",   "0.9 mΩhm",
                             "500 mohms", ">",
                             "> open",    "<> 1 ohm",
                             "nan ohm",   "inf ohm",
                             "OPEN",      "no  trip",
                             "1 ohm 2",   "99999999999999999999 ohm",
                             "1 m"}) {
        CAPTURE(text);
        CHECK_FALSE(plan::read_found(text));
    }
}

TEST_CASE("the pattern of a schema and the reader take the same") {
    for (const Test test : tests) {
        const std::regex pattern(plan::pattern_of(test));
        for (const char* text :
             {"0.9 ohm", "> 500 Mohm", "<1 kohm", "28 ms",     "0.3 s",       "22 mA",     "1 A",
              "9.4 V",   "open",       "no trip", "as marked", " backwards ", "As marked", "backwards 2",
              "1. ohm",  "0.9",        "0,9 ohm", " 1 ohm ",   "> open",      "5 W"}) {
            CAPTURE(text);
            CAPTURE(static_cast<int>(test));
            const auto found = plan::read_found(text);
            CHECK(std::regex_match(text, pattern) == (found && plan::fits(test, *found)));
        }
        // What is given as an example is one.
        const std::string such(plan::such_as(test));
        for (std::size_t from = such.find('"'); from != std::string::npos;) {
            const std::size_t to = such.find('"', from + 1);
            const auto found = plan::read_found(such.substr(from + 1, to - from - 1));
            CHECK((found && plan::fits(test, *found)));
            from = such.find('"', to + 1);
        }
    }
}
