// The page of check --report, approved whole. To approve a changed page: BENCHFEED_APPROVE=1 ./unit_report,
// then read the difference and look at the page in a browser.
#include <benchfeed/report/check_html.hpp>

#include <doctest/doctest.h>

#include "plans/expectations.hpp"
#include "support/approved.hpp"
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

std::string page_of(const std::string& name) {
    const text::Document document(
        name + ".toml", test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml"));
    auto result = check(document, test::catalogue());
    REQUIRE(std::holds_alternative<Judged>(result));
    const auto& judged = std::get<Judged>(result);
    const auto s = judged.situation();
    const auto& judgement = judged.judgement();
    return report::check_html(document, s, judgement,
                              {advice::load_bars(s, judgement), advice::volt_pictures(s, judgement),
                               advice::start_pictures(s, judgement)},
                              {"benchfeed", "0"});
}

}  // namespace

TEST_CASE("pages of two demo plans are as approved") {
    for (const std::string name : {"heron-lane", "crooked-barn"}) {
        CAPTURE(name);
        test::holds_as_approved(std::string(BENCHFEED_TESTS_DIR) + "/unit/report/approved/" + name + ".html",
                                page_of(name));
    }
}
