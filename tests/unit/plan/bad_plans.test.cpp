// Plans that cannot be read, named after their fault, each with its approved message: every mistake of a file
// in one run, with file:line:column, the line, carets and what to write instead. To approve changed messages:
// BENCHFEED_APPROVE=1 ./unit_plan, then read the difference.
#include <doctest/doctest.h>

#include <benchfeed/report/style.hpp>
#include "plans/expectations.hpp"
#include "support/approved.hpp"

using namespace benchfeed;

TEST_CASE("bad plans give their approved messages") {
    const tables::Catalogue catalogue;
    const auto plans = test::plans_in(std::string(BENCHFEED_TESTS_DIR) + "/plans/bad");
    REQUIRE(plans.size() >= 190);
    for (const auto& path : plans) {
        CAPTURE(path.filename().string());
        const text::Document document(path.filename().string(), test::read_text(path));
        const auto result = check(document, catalogue);
        REQUIRE(std::holds_alternative<Diagnostics>(result));
        const std::string said = report::diagnostics_text(document, std::get<Diagnostics>(result), {});
        auto approved = path;
        approved.replace_extension(".said");
        test::holds_as_approved(approved, said);
        for (std::size_t at = 0; at < said.size();) {
            const std::size_t end = said.find('\n', at);
            CHECK(report::columns(std::string_view(said).substr(at, end - at)) <= 80);
            at = end + 1;
        }
    }
}

TEST_CASE("ten mistakes of one file are told in one run") {
    const tables::Catalogue catalogue;
    const std::string path = std::string(BENCHFEED_TESTS_DIR) + "/plans/bad/everything-at-once.toml";
    const auto result = check(text::Document(path, test::read_text(path)), catalogue);
    REQUIRE(std::holds_alternative<Diagnostics>(result));
    CHECK(std::get<Diagnostics>(result).size() >= 10);
    for (const auto& problem : std::get<Diagnostics>(result)) CHECK_FALSE(problem.labels.empty());
}
