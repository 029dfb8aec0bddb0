#include <doctest/doctest.h>

#include <benchfeed/tables/read_table.hpp>

using namespace benchfeed;
using tables::Grade;

namespace {
constexpr std::string_view head = R"([table]
id = "t"
title = "T"
family = "iec"
topic = "ampacity"
source = "s"
edition = "1"
place = "p"
status = "standard"
verified = "one source"
columns = [{ name = "section", unit = "mm2" }, { name = "A", unit = "A" }, { name = "B", unit = "A", verified = "memory" }]
)";
std::shared_ptr<const tables::Table> read_good(const std::string& rest) {
    auto read = tables::read_table("t", std::string(head) + rest);
    if (const auto* problems = std::get_if<Diagnostics>(&read)) FAIL(problems->front().message);
    return std::get<std::shared_ptr<const tables::Table>>(read);
}
std::string bad(const std::string& text) {
    auto read = tables::read_table("t", text);
    REQUIRE(std::holds_alternative<Diagnostics>(read));
    std::string all;
    for (const auto& problem : std::get<Diagnostics>(read)) all += problem.message + "\n";
    return all;
}
}  // namespace

TEST_CASE("grades are kept to the cell") {
    const auto read = read_good(
        "[data]\nrows = [[1, 10, 11], [2, 20, \"-\"]]\nrow_verified = [{ row = 2, verified = \"two sources\" "
        "}]\n"
        "cell_verified = [{ row = 1, column = \"B\", verified = \"two sources\" }]\n");
    const tables::Table& t = *read;
    CHECK(t.grade_of(0, 1) == Grade::one_source);
    CHECK(t.grade_of(0, 2) == Grade::two_sources);
    CHECK(t.grade_of(1, 1) == Grade::two_sources);
    CHECK(t.grade_of(1, 2) == Grade::memory);  // the column's grade is lower than the row's
    CHECK_FALSE(t.current(1, "B").has_value());
    CHECK(t.current(0, "A")->written == "10 A");
    CHECK(t.current(0, "A")->source.cell() == "1 mm2, A");
}

TEST_CASE("look-ups never interpolate and never convert") {
    const auto read = read_good("[data]\nrows = [[1, 10, 11], [2.5, 20, 21], [4, 30, 31]]\n");
    const tables::Table& t = *read;
    CHECK(t.row_of(section_of(2.5 * unit::mm2)) == 1);
    CHECK_FALSE(t.row_of(section_of(2.0 * unit::mm2)).has_value());
    CHECK(t.row_below(section_of(2.0 * unit::mm2)) == 0);
    CHECK_FALSE(t.row_of(section_of(Awg{14})).has_value());
    CHECK(t.row_below(section_of(Awg{14})) == 0);  // 2.08 mm2 takes the 1 mm2 row
    CHECK_FALSE(t.row_below(section_of(0.75 * unit::mm2)).has_value());
    CHECK(t.row_at_or_above("A", 10.1) == 1);
    CHECK(t.row_at_or_below("A", 29.9) == 1);
    CHECK_FALSE(t.row_at_or_above("A", 31).has_value());
}

TEST_CASE("a table with a fault is refused whole, with every fault told") {
    const std::string h(head);
    CHECK(bad(h + "[data]\nrows = [[1, 10]]\n").find("a row has 3 cells") != std::string::npos);
    CHECK(bad(h + "[data]\nrows = [[1, \"ten\", 11]]\n").find("\"ten\" stands where a number is wanted") !=
          std::string::npos);
    CHECK(bad(h + "[data]\nrows = [[1, 10, 11], [1, 10, 11]]\n").find("a second row for the same key") !=
          std::string::npos);
    CHECK(bad(h + "extra = 1\n[data]\nrows = [[1, 10, 11]]\n").find("unknown key extra") !=
          std::string::npos);
    CHECK(bad(h + "[facts]\na = { value = 1, unit = \"furlong\" }\n").find("no unit \"furlong\"") !=
          std::string::npos);
    CHECK(bad("[table]\nid = \"t\"\n").find("title must be a text") != std::string::npos);
    std::string unsure(head);
    unsure.replace(unsure.find("one source"), 10, "I am sure!");
    CHECK(bad(unsure + "[data]\nrows = [[1, 10, 11]]\n").find("verified must be one of") !=
          std::string::npos);
}
