// The limits of data/README.md, each with a text one beyond it; and forms of a text that are none of its
// faults.
#include <doctest/doctest.h>

#include <algorithm>

#include "plans/expectations.hpp"

using namespace benchfeed;

namespace {

plan::Reading read(std::string content) {
    static const tables::Catalogue catalogue;
    static const plan::Words words = plan_words(catalogue);
    return plan::read_plan(text::Document("limits.toml", std::move(content)), words);
}

std::size_t told(const plan::Reading& reading, std::string_view message) {
    return static_cast<std::size_t>(std::count_if(reading.problems.begin(), reading.problems.end(),
                                                  [&](const Diagnostic& d) { return d.message == message; }));
}

std::string demo() {
    return test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml");
}

std::string repeated(std::size_t times, const auto& one) {
    std::string out;
    for (std::size_t i = 0; i < times; ++i) out += one(std::to_string(i));
    return out;
}

}  // namespace

TEST_CASE("a file of more than 64 MiB is not looked into") {
    const auto reading = read(std::string((std::size_t{64} << 20) + 1, '='));
    REQUIRE(reading.problems.size() == 1);
    CHECK(reading.problems[0].message == "the file has 67108865 bytes; at most 67108864 are read");
    CHECK(reading.plan.elements.empty());
}

TEST_CASE("elements beyond 200 000 are told and not read") {
    const auto reading = read(repeated(200'001, [](const std::string& i) { return "[box.b" + i + "]\n"; }));
    CHECK(reading.plan.elements.size() == 200'000);
    CHECK(told(reading, "more than 200000 elements") == 1);
    CHECK(reading.problems.size() <= 10'000);
}

TEST_CASE("sets beyond 1000 are told and not read") {
    const auto reading = read(demo() + repeated(1001, [](const std::string& i) {
                                  return "[[together]]\nname = \"set " + i + "\"\nloads = [\"saw\"]\n";
                              }));
    CHECK(reading.plan.together.size() == 1000);
    CHECK(told(reading, "more than 1000 of [[together]]") == 1);
}

TEST_CASE("a chain of more than 64 elements is told") {
    const auto reading =
        read(demo() + repeated(70, [](const std::string& i) {
                 return "[box.deep" + i + "]\nfrom = \"" +
                        (i == "0" ? "box.junction" : "box.deep" + std::to_string(std::stoi(i) - 1)) + "\"\n";
             }));
    CHECK(std::any_of(reading.problems.begin(), reading.problems.end(),
                      [](const Diagnostic& d) { return d.message.find("64") != std::string::npos; }));
}

TEST_CASE("line ends of another system and a byte order mark change nothing") {
    const std::string plain = demo();
    std::string crlf;
    for (const char c : plain) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    const auto expected = read(plain);
    REQUIRE(expected.problems.empty());
    for (const std::string& other : {crlf, "\xef\xbb\xbf" + plain}) {
        const auto reading = read(other);
        REQUIRE(reading.problems.empty());
        REQUIRE(reading.plan.elements.size() == expected.plan.elements.size());
        for (std::size_t i = 0; i < reading.plan.elements.size(); ++i) {
            CHECK(reading.plan.elements[i].path() == expected.plan.elements[i].path());
            CHECK(reading.plan.elements[i].from.value == expected.plan.elements[i].from.value);
            CHECK(reading.plan.elements[i].header == expected.plan.elements[i].header);
        }
    }
}
