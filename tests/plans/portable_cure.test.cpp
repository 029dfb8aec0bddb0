// The portable residual device that a plan is told to add: its lines, copied as they are printed, cure what
// they are told for, in every plan that is told of them.
#include <doctest/doctest.h>

#include <algorithm>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/report/check_html.hpp>
#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/supplies.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

constexpr std::string_view rule = "shock.no-residual-protection";

std::vector<std::filesystem::path> corpus() {
    std::vector<std::filesystem::path> all;
    for (const std::string& folder :
         {std::string(BENCHFEED_DATA_DIR) + "/plans", std::string(BENCHFEED_RULE_PLANS),
          std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios"}) {
        const auto some = plans_in(folder);
        all.insert(all.end(), some.begin(), some.end());
    }
    return all;
}

std::size_t count_of_fails(const Judged& judged, std::string_view only = "") {
    return static_cast<std::size_t>(std::count_if(
        judged.judgement().outcomes.begin(), judged.judgement().outcomes.end(), [&](const auto& o) {
            return o.verdict == rules::Verdict::fail &&
                   (only.empty() || rules::registry()[o.rule].id == only);
        }));
}

struct Offer {
    rules::Outcome outcome;
    rules::Remedy remedy;
};
std::vector<Offer> offers(const text::Document& document, const Judged& judged, const plan::Words& words) {
    std::vector<Offer> found;
    advice::CureTrials trials;
    for (const rules::Outcome& o : judged.judgement().outcomes) {
        if (rules::registry()[o.rule].id != rule || o.verdict == rules::Verdict::ok) continue;
        for (auto& remedy : advice::cures({document, catalogue(), words, {}}, judged.situation(),
                                          judged.judgement(), o, trials))
            if (!remedy.fragment.empty()) found.push_back({o, std::move(remedy)});
    }
    return found;
}

/// Every line of it, whole, in the text, and on the page.
void hold_printed(const text::Document& document, const Judged& judged, const plan::Words& words,
                  const std::string& fragment) {
    advice::CureTrials trials;
    const auto remedies = [&](const rules::Outcome& o) {
        return advice::cures({document, catalogue(), words, {}}, judged.situation(), judged.judgement(), o,
                             trials);
    };
    const std::string report = report::check_text(document, judged.situation(), judged.judgement(),
                                                  {.width = 80}, {.full = true, .remedies = remedies});
    const std::string page = report::check_html(document, judged.situation(), judged.judgement(), {},
                                                {"benchfeed", "0"}, {.what_if = {}, .remedies = remedies});
    CHECK(report.find("Add to the plan:") != std::string::npos);
    for (const std::string_view line : report::lines_of(fragment)) {
        CAPTURE(line);
        if (line.empty()) continue;
        CHECK(report.find("\n        " + std::string(line) + "\n") != std::string::npos);
        CHECK(page.find("\n" + report::markup(line) + "\n") +
                  page.find("<pre>" + report::markup(line) + "\n") !=
              2 * std::string::npos);
    }
}

}  // namespace

TEST_CASE("the printed lines of a portable residual device end the fail for which they are printed") {
    const plan::Words words = plan_words(catalogue());
    std::size_t plans = 0;
    for (const auto& path : corpus()) {
        CAPTURE(path.filename().string());
        const text::Document document(path.filename().string(), read_text(path));
        const auto answer = check(document, catalogue());
        if (!std::holds_alternative<Judged>(answer)) continue;
        const auto& before = std::get<Judged>(answer);
        for (const Offer& offer : offers(document, before, words)) {
            ++plans;
            CHECK(offer.outcome.verdict == rules::Verdict::fail);
            CHECK(offer.remedy.text.find("from there on only") != std::string::npos);
            CHECK(offer.remedy.text.find("80 %") != std::string::npos);
            hold_printed(document, before, words, offer.remedy.fragment);
            std::vector<plan::Override> changes;
            for (const auto& change : offer.remedy.changes)
                changes.push_back({change.path + "=" + change.value});
            REQUIRE_FALSE(changes.empty());
            const text::Document longer(document.path(), document.content() + "\n" + offer.remedy.fragment);
            const auto after = check(longer, catalogue(), changes);
            REQUIRE(std::holds_alternative<Judged>(after));
            const auto& cured = std::get<Judged>(after);
            CHECK(count_of_fails(cured, rule) < count_of_fails(before, rule));
            CHECK(count_of_fails(cured) < count_of_fails(before));
            for (const auto& o : cured.judgement().outcomes)
                if (rules::registry()[o.rule].id == rule && o.at == offer.outcome.at)
                    CHECK(o.verdict <= rules::Verdict::caution);
        }
    }
    CHECK(plans >= 5);
}

TEST_CASE("behind a source that floats no residual device is offered") {
    const plan::Words words = plan_words(catalogue());
    std::size_t floating = 0;
    for (const auto& path : corpus()) {
        const text::Document document(path.filename().string(), read_text(path));
        const auto answer = check(document, catalogue());
        if (!std::holds_alternative<Judged>(answer)) continue;
        const auto& judged = std::get<Judged>(answer);
        for (const rules::Outcome& o : judged.judgement().outcomes) {
            if (rules::registry()[o.rule].id != rule) continue;
            if (!rules::is_floating(judged.situation(), o.at.index)) continue;
            ++floating;
            for (const auto& remedy : rules::explain(judged.situation(), judged.judgement(), o).remedies)
                CHECK_MESSAGE(remedy.fragment.empty(), path.filename().string());
        }
    }
    CHECK(floating >= 3);
}
