#include <doctest/doctest.h>

#include <regex>

#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/tables_text.hpp>
#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

std::string report_of(const std::string& path, const std::string& content, std::size_t width = 80,
                      bool colour = false) {
    const text::Document document(path, content);
    auto result = check(document, catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&result)) FAIL(problems->front().message);
    const auto& judged = std::get<Judged>(result);
    return report::check_text(document, judged.situation(), judged.judgement(), {width, colour});
}
std::size_t widest(const std::string& text) {
    std::size_t most = 0;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        most = std::max(most, report::columns(std::string_view(text).substr(at, end - at)));
        at = end + 1;
    }
    return most;
}
std::string demo(const char* name) {
    return test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml");
}

}  // namespace

TEST_CASE("the first line is the answer, then the amps of every set at its weakest element") {
    const std::string eu = report_of("heron-lane.toml", demo("heron-lane"));
    CHECK(eu.starts_with("No problem found in what was checked; "));
    CHECK(eu.find("\nSawing: 12.3 A of 16 A at the bench plug, 77 %; 3.7 A left\n") != std::string::npos);
    std::string without = demo("heron-lane");
    without.replace(without.find("no_volt      = true"), 19, "no_volt      = false");
    without.replace(without.find("coil         = \"230 V\"\n"), 23, "");
    const std::string faulty = report_of("heron-lane.toml", without);
    CHECK(faulty.starts_with("Do not use yet: the saw restarts by itself after a power cut"));
}

TEST_CASE("every report fits 80 columns, and a page of every rule and table does") {
    for (const std::string folder : {"rules", "scenarios"})
        for (const auto& path : test::plans_in(std::string(BENCHFEED_TESTS_DIR) + "/plans/" + folder)) {
            CAPTURE(path.filename().string());
            const std::string text = report_of(path.filename().string(), test::read_text(path));
            CHECK(widest(text) <= 80);
            CHECK(text.find("Not checked") != std::string::npos);
            CHECK(text.find("licensed electrician decide") != std::string::npos);
        }
    CHECK(widest(report_of("crooked-barn.toml", demo("crooked-barn"))) <= 80);
    CHECK(widest(report::tables_text(catalogue(), {})) <= 80);
    CHECK(widest(report::rules_text({})) <= 80);
    for (const auto id : catalogue().ids()) {
        CAPTURE(std::string(id));
        CHECK(widest(report::table_text(*catalogue().table(id), {})) <= 80);
    }
    for (const auto& rule : rules::registry()) {
        const std::string page = report::page_text(rule.id, {});
        CAPTURE(std::string(rule.id));
        CHECK(page.starts_with(std::string(rule.id) + "\n"));
        CHECK(widest(page) <= 90);  // examples are printed as they are
        for (const char* part :
             {"Why it hurts", "How it is judged", "What it cannot see", "Example", "Sources"})
            CHECK(page.find(std::string("\n") + part + "\n") != std::string::npos);
    }
}

TEST_CASE("the tables that a page names are there") {
    std::size_t named = 0;
    for (const auto& rule : rules::registry()) {
        const std::string page(rules::page(rule.id));
        const std::string sources = page.substr(page.find("## Sources"));
        const std::regex lists("tables? ([a-z0-9-]+(?:(?:, | and )[a-z0-9-]+)*)"), ids("[a-z0-9-]+");
        for (std::sregex_iterator list(sources.begin(), sources.end(), lists), end; list != end; ++list) {
            const std::string text = (*list)[1];
            for (std::sregex_iterator id(text.begin(), text.end(), ids); id != end; ++id) {
                if (id->str() == "and") continue;
                CAPTURE(std::string(rule.id));
                CHECK_MESSAGE(catalogue().table(id->str()) != nullptr, id->str());
                ++named;
            }
        }
    }
    CHECK(named >= 35);
}

TEST_CASE("nothing promises what no plan can show") {
    for (const auto& path : test::plans_in(std::string(BENCHFEED_DATA_DIR) + "/plans")) {
        const std::string text = report_of(path.filename().string(), test::read_text(path));
        for (const char* word : {" safe", "compliant", "approved", "guarantee"})
            CHECK_MESSAGE(text.find(word) == std::string::npos, word);
    }
}

TEST_CASE("colour is never the only sign: without it the text is the same") {
    std::string coloured = report_of("crooked-barn.toml", demo("crooked-barn"), 80, true);
    CHECK(coloured.find("\033[") != std::string::npos);
    for (std::size_t at = coloured.find("\033["); at != std::string::npos; at = coloured.find("\033["))
        coloured.erase(at, coloured.find('m', at) - at + 1);
    CHECK(coloured == report_of("crooked-barn.toml", demo("crooked-barn")));
}

TEST_CASE("names cannot write to the terminal") {
    std::string hostile = demo("heron-lane");
    hostile.replace(hostile.find("label    = \"the wall outlet\""), 28,
                    "label    = \"\\u001b[31m\\u0007\\u202Eevil\\n$(rm)\"");
    hostile.replace(hostile.find("current = \"7.0 A\""), 17, "current = \"19 A\"");
    const std::string text = report_of("heron-lane.toml", hostile);
    for (const char c : text) CHECK((static_cast<unsigned char>(c) >= 0x20 || c == '\n'));
    CHECK(text.find("\xE2\x80\xAE") == std::string::npos);
}

TEST_CASE("the same plan gives the same report, byte for byte") {
    CHECK(report_of("a.toml", demo("crooked-barn")) == report_of("a.toml", demo("crooked-barn")));
}

TEST_CASE("carets stand under what they mean, in long lines and behind wide characters too") {
    const text::Document document("x.toml", "ä = \"öö\" # " + std::string(200, '-') + "\n");
    CHECK(report::place_text(document, {{1, 5, 1, 9}, "here"}, "", {40, false}).find("|     ^^^^ here") !=
          std::string::npos);
    const text::Document far("y.toml", std::string(150, ' ') + "x = 1\n");
    const std::string text = report::place_text(far, {{1, 151, 1, 152}, ""}, "", {60, false});
    const auto caret = text.find('^'), line_start = text.rfind('\n', caret), mark = text.find("x = 1");
    CHECK(caret - line_start == mark - text.rfind('\n', mark));
    CHECK(widest(text) <= 60);
}
