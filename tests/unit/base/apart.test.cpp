#include <benchfeed/base/apart.hpp>

#include <doctest/doctest.h>

#include <string>
#include <utility>

using benchfeed::Apart;

namespace {
struct Large {
    std::string words = "as made";
    double room[100] = {};
};
}  // namespace

TEST_CASE("a value that is kept apart is copied, moved and dropped as one that stands in its place") {
    Apart<Large> first;
    CHECK(!first);
    CHECK(!first.has_value());
    CHECK(sizeof first == sizeof(void*));
    first.emplace().words = "first";
    Apart<Large> second = first;
    REQUIRE(second);
    second->words = "second";
    CHECK(first->words == "first");
    first = second;
    second->words = "changed";
    CHECK(std::as_const(first)->words == "second");
    CHECK((*std::as_const(second)).words == "changed");
    Apart<Large>& same = first;
    first = same;
    CHECK(first->words == "second");

    const Apart<Large> none;
    second = none;
    CHECK(!second);
    second = Large{"by value", {}};
    CHECK(second->words == "by value");
    const Apart<Large> third = std::move(second);
    CHECK(third->words == "by value");
    CHECK(!second);  // NOLINT(bugprone-use-after-move): nothing is left there
    first.emplace();
    CHECK(first->words == "as made");
    first.reset();
    CHECK(!first);
}
