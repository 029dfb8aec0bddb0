// The page of check --report, approved whole. To approve a changed page: BENCHFEED_APPROVE=1 ./unit_report,
// then read the difference and look at the page in a browser.
#include <benchfeed/report/check_html.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "plans/expectations.hpp"
#include "support/approved.hpp"
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

std::string page_of_text(const std::string& name, std::string plan) {
    const text::Document document(name + ".toml", std::move(plan));
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

std::string page_of(const std::string& name) {
    return page_of_text(name, test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml"));
}

}  // namespace

TEST_CASE("of many rated parts a page shows those that carry the greatest share") {
    // Outlets of one circuit, each with a cable: the more its lamp draws, the greater the share.
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\n[supply.s]\nsystem = \"230 V\"\n[device.d]\nfrom = "
        "\"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"100 A\"\n"
        "[stock.run]\ntype = \"H05VV-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";
    constexpr int lamps = 150;
    for (int i = 1; i <= lamps; ++i)
        plan += fmt::format(
            "[outlet.o{0}]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\ncable = {{ stock = \"run\", length "
            "= \"1 m\" }}\n[load.l{0}]\nfrom = \"outlet.o{0}\"\nmotor = \"none\"\nplate = {{ current = "
            "\"{1:.3f} A\", voltage = \"230 V\" }}\n",
            i, 0.01 * i);
    const std::string page = page_of_text("lamps", plan);
    const auto bars = [&](const std::string& of) {
        std::size_t count = 0;
        for (std::size_t at = 0; (at = page.find(of, at)) != std::string::npos; ++at) ++count;
        return count;
    };
    CHECK(bars("data-part=") == 200);
    CHECK(page.find("Shown are the 200 of 301 parts") != std::string::npos);
    CHECK(bars("data-at=\"outlet.o150\" data-part") == 2);  // the outlet and its cable
    CHECK(bars("data-at=\"outlet.o1\" data-part") == 0);
    CHECK(bars("(weakest)") == 1);
}

TEST_CASE("pages of two demo plans are as approved") {
    for (const std::string name : {"heron-lane", "crooked-barn"}) {
        CAPTURE(name);
        test::holds_as_approved(std::string(BENCHFEED_TESTS_DIR) + "/unit/report/approved/" + name + ".html",
                                page_of(name));
    }
}
