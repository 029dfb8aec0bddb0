// The default report fits a screen and hides nothing.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/overview.hpp>
#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

struct Printed {
    std::string text, answer;
    std::vector<report::Row> rows;
    std::size_t findings = 0, sets = 0, accepted = 0;
};

Printed printed(const text::Document& document, std::size_t width) {
    auto result = check(document, catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&result)) FAIL(problems->front().message);
    const auto& judged = std::get<Judged>(result);
    const auto s = judged.situation();
    const auto found = rules::findings(s, judged.judgement());
    Printed out;
    out.text = report::check_text(document, s, judged.judgement(), {width, false});
    out.answer = report::check_text(document, s, judged.judgement(), {width, false}, {.quiet = true});
    out.rows = report::rows_of(s, judged.judgement(), found, {});
    for (const auto& f : found) out.findings += 1 + f.follows.size();
    out.sets = rules::set_lines(s, judged.judgement()).size();
    out.accepted = rules::accepted(s, judged.judgement()).size();
    return out;
}

std::vector<text::Document> all_plans() {
    std::vector<text::Document> plans;
    const std::string tests = BENCHFEED_TESTS_DIR, data = BENCHFEED_DATA_DIR;
    for (const std::string& folder : {std::string(BENCHFEED_RULE_PLANS), tests + "/plans/scenarios",
                                      tests + "/plans/short", data + "/plans"})
        for (const auto& path : test::plans_in(folder))
            plans.emplace_back(path.filename().string(), test::read_text(path));
    return plans;
}

std::size_t lines(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

std::size_t widest(const std::string& text) {
    std::size_t most = 0;
    for (const std::string_view line : report::lines_of(text)) most = std::max(most, report::columns(line));
    return most;
}

}  // namespace

TEST_CASE("two lines for a finding at 80 columns, one for each set, and twenty besides") {
    std::size_t seen = 0;
    for (const text::Document& plan : all_plans()) {
        CAPTURE(plan.path());
        const Printed p = printed(plan, 80);
        CHECK(lines(p.text) <= 2 * (p.rows.size() + p.accepted) + p.sets + 20);
        for (const report::Row& row : p.rows) {
            CAPTURE(row.what);
            CHECK(lines(report::row_text(row, {80, false})) <= 2);
        }
        ++seen;
    }
    CHECK(seen > 300);
}

TEST_CASE("three lines for a finding at 40 columns, and nothing runs over there or at 30") {
    for (const text::Document& plan : all_plans()) {
        CAPTURE(plan.path());
        const Printed p = printed(plan, 40);
        for (const report::Row& row : p.rows) {
            CAPTURE(row.what);
            CHECK(lines(report::row_text(row, {40, false})) <= 3);
        }
        CHECK(widest(p.text) <= 40);
        CHECK(widest(printed(plan, 30).text) <= 30);
    }
}

TEST_CASE("a row that joins thousands of findings is cut where one that joins a few is") {
    const auto joined = [](int findings) {
        report::Row row;
        row.where = "load.saw.latched";
        for (int i = 0; i < findings; ++i)
            row.brief += (i == 0 ? "" : "; ") + std::string(i % 3 == 0 ? "größe" : "word") + " of it";
        row.what = row.brief;
        row.cure_head = "Cure (cheap):";
        row.cure = "take a thicker cord, which somebody sells";
        return row;
    };
    for (const std::size_t width : {30u, 40u, 80u, 200u}) {
        CAPTURE(width);
        // As many words as fit, found from the front.
        const std::string all = joined(100).what;
        std::string longest;
        for (auto space = all.find(' '); space != std::string::npos; space = all.find(' ', space + 1)) {
            const std::string text = report::wrapped(all.substr(0, space) + " ... [load.saw.latched]",
                                                     "ok: ", "  ", {width, false});
            if (lines(text) <= (width < 60 ? 3 : 2)) longest = text;
        }
        CHECK(report::row_text(joined(100), {width, false}) == longest);
        // Word by word, half a million of them would not end while somebody waits.
        CHECK(report::row_text(joined(200'000), {width, false}) == longest);
    }
}

TEST_CASE("three tools of which little is known: the whole answer in 45 lines") {
    const std::string path = std::string(BENCHFEED_TESTS_DIR) + "/plans/short/three-tools.toml";
    const Printed p = printed(text::Document("three-tools.toml", test::read_text(path)), 80);
    CHECK(lines(p.text) <= 45);
    // Like findings on like parts are one line, in which each part is named or counted.
    const auto restart = std::find_if(p.rows.begin(), p.rows.end(), [](const report::Row& row) {
        return row.where == "load.planer.latched";
    });
    REQUIRE(restart != p.rows.end());
    CHECK(restart->like == std::vector<std::string>{"the bandsaw", "the sander"});
    CHECK(restart->findings == 3);
    CHECK(restart->brief == "Does the switch of the planer stay on by itself?");
}

TEST_CASE("every finding is in a row, and the totals are those of the judgement") {
    for (const text::Document& plan : all_plans()) {
        CAPTURE(plan.path());
        const Printed p = printed(plan, 80);
        CHECK(p.findings ==
              std::accumulate(p.rows.begin(), p.rows.end(), std::size_t{0},
                              [](std::size_t sum, const report::Row& row) { return sum + row.findings; }));
        std::string one_line = p.text;
        std::replace(one_line.begin(), one_line.end(), '\n', ' ');
        CHECK(one_line.find(" checks of parts and sets: ") != std::string::npos);
    }
}

TEST_CASE("the number of fails is one: in the first line, the rows, the totals and the overview") {
    std::size_t failing = 0;
    for (const text::Document& plan : all_plans()) {
        CAPTURE(plan.path());
        const auto result = check(plan, catalogue());
        const auto& judged = std::get<Judged>(result);
        const auto s = judged.situation();
        const Printed p = printed(plan, 200);
        const auto counts = rules::count_findings(rules::findings(s, judged.judgement()));
        const auto overview = report::overview_row("p", s, judged.judgement(), true);
        CHECK(overview.fails == counts.fail);
        CHECK(overview.open == counts.cannot_judge);
        CHECK(overview.cautions == counts.caution);
        if (counts.fail == 0) continue;
        ++failing;
        std::size_t in_rows = 0;
        for (const report::Row& row : p.rows)
            if (row.verdict == rules::Verdict::fail) in_rows += row.findings - row.follow;
        CHECK(in_rows == counts.fail);
        CHECK(p.text.find(fmt::format("Findings: {} fail", counts.fail)) != std::string::npos);
        CHECK((counts.fail == 1 ||
               p.answer.find(fmt::format("({} more below)", counts.fail - 1)) != std::string::npos));
    }
    CHECK(failing > 50);
}

TEST_CASE("the answer stands first and last, where the prompt is") {
    for (const text::Document& plan : all_plans()) {
        CAPTURE(plan.path());
        const Printed p = printed(plan, 80);
        CHECK(p.text.starts_with(p.answer));
        CHECK(p.text.size() > 2 * p.answer.size());
        CHECK(p.text.ends_with("\n" + p.answer));
    }
}
