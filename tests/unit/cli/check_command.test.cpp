// Many plans at once, of which one makes benchfeed itself go wrong.
#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/in_order.hpp"

using namespace benchfeed;

namespace {

namespace fs = std::filesystem;

const std::string lane = BENCHFEED_DATA_DIR "/plans/heron-lane.toml";
const std::string row = BENCHFEED_DATA_DIR "/plans/maple-row.toml";
const std::string yard = BENCHFEED_DATA_DIR "/plans/hawthorn-yard.toml";

std::string content_of(const fs::path& path) {
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

/// As benchfeed judges, but for one plan.
cli::Judge judge_that_breaks_at(const std::string& path) {
    return [path](const auto& document, const auto& tables, const auto& words, const auto& overrides) {
        if (document.path() == path) throw std::out_of_range("no such element");
        return check(document, tables, words, overrides);
    };
}

struct Ran {
    int exit;
    std::string printed;
};
Ran run(std::vector<std::string> plans, const std::string& format, unsigned jobs,
        const cli::Judge& judge = {}) {
    const fs::path file =
        fs::temp_directory_path() /
        ("benchfeed-unit-cli-" + std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()));
    cli::CheckOptions options;
    options.plans = std::move(plans);
    options.format = format;
    options.jobs = jobs;
    options.each = true;  // the whole report of each
    REQUIRE(cli::direct_output(file.string()).empty());
    const int exit = cli::run_check(options, {80, false}, judge);
    REQUIRE(cli::finish_output().empty());
    Ran ran{exit, content_of(file)};
    fs::remove(file);
    return ran;
}

/// How often a text holds a word.
std::size_t count(const std::string& text, const std::string& word) {
    std::size_t found = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
    return found;
}

/// The words of a text, wherever a line ends: how long a path is decides where it folds.
std::string unfolded(const std::string& text) {
    std::istringstream in(text);
    std::string words;
    for (std::string word; in >> word;) words += word + ' ';
    return words;
}

/// The report without what stands from the first mark to the next one.
std::string without(std::string text, const std::string& from, const std::string& to) {
    const auto begin = text.find(from);
    REQUIRE(begin != std::string::npos);
    const auto end = text.find(to, begin);
    REQUIRE(end != std::string::npos);
    return text.erase(begin, end - begin);
}

}  // namespace

TEST_CASE("a plan at which benchfeed goes wrong has its own entry, and the others are told as without it") {
    for (const unsigned jobs : {1u, 4u})
        for (const std::string format : {"text", "json", "sarif", "junit"}) {
            CAPTURE(format);
            CAPTURE(jobs);
            const Ran broken = run({lane, row, yard}, format, jobs, judge_that_breaks_at(row));
            const Ran others = run({lane, yard}, format, jobs);
            CHECK(broken.exit == 2);
            CHECK(others.exit == 0);
            CHECK(count(unfolded(broken.printed), "internal error: no such element") >= 1);
            CHECK(broken.printed.find(row) != std::string::npos);
            if (format == "text") {
                const std::string kept = without(broken.printed, "== " + row, "== " + yard);
                CHECK(kept.substr(0, kept.rfind("3 plans: ")) ==
                      others.printed.substr(0, others.printed.rfind("2 plans: ")));
                CHECK(broken.printed.ends_with(
                    "3 plans: 2 without a finding at the level asked for, 0 with, 1 unreadable\n"));
            }
            if (format == "json") {
                // Plans in one list, what could not be judged behind them.
                const std::string unreadable = "\"rule\":\"plan.unreadable\"";
                CHECK(count(broken.printed, unreadable) == count(others.printed, unreadable) + 1);
                CHECK(count(broken.printed, "\"outcomes\"") == count(others.printed, "\"outcomes\""));
            }
            if (format == "sarif") {
                CHECK(count(broken.printed, "\"kind\":\"fail\"") ==
                      count(others.printed, "\"kind\":\"fail\"") + 1);
                CHECK(count(broken.printed, "\"executionSuccessful\":false") == 1);
            }
            if (format == "junit") {
                CHECK(count(broken.printed, "<testsuite ") == 3);
                CHECK(count(broken.printed, "<error ") == 1);
                CHECK(broken.printed.ends_with("</testsuites>\n"));
            }
        }
}

TEST_CASE("one plan alone that breaks is told as well") {
    const Ran ran = run({row}, "text", 1, judge_that_breaks_at(row));
    CHECK(ran.exit == 2);
    CHECK(ran.printed.starts_with("error: "));
    std::string line = ran.printed;
    std::replace(line.begin(), line.end(), '\n', ' ');
    for (auto at = line.find("  "); at != std::string::npos; at = line.find("  ")) line.erase(at, 1);
    CHECK(line.find("internal error: no such element. The mistake is benchfeed's") != std::string::npos);
}

TEST_CASE("threads end when work or delivery throws") {
    const auto work = [](std::size_t i) { return static_cast<int>(i); };
    const auto tick = [](std::size_t) {};
    for (const unsigned jobs : {1u, 3u}) {
        CHECK_THROWS_AS(cli::in_order<int>(
                            10'000, jobs,
                            [](std::size_t i) -> int {
                                if (i == 500) throw std::runtime_error("work");
                                return static_cast<int>(i);
                            },
                            [](int&&) {}, tick),
                        std::runtime_error);
        std::size_t delivered = 0;
        CHECK_THROWS_AS(cli::in_order<int>(
                            10'000, jobs, work,
                            [&](int&&) {
                                if (++delivered == 500) throw std::length_error("delivery");
                            },
                            tick),
                        std::length_error);
        CHECK(delivered == 500);
    }
}

TEST_CASE("what is kept for later comes back whole and in order, in memory or not") {
    for (const std::size_t lines : {std::size_t{0}, std::size_t{3}, std::size_t{400'000}}) {  // of 8 bytes
        CAPTURE(lines);
        std::string all;
        cli::Spool spool;
        for (std::size_t i = 0; i < lines; ++i) {
            const std::string line = std::to_string(1'000'000 + i) + "\n";
            spool.add(line);
            all += line;
        }
        CHECK(spool.empty() == all.empty());
        const cli::Spool moved = std::move(spool);
        const fs::path file = fs::temp_directory_path() /
                              ("benchfeed-unit-spool-" +
                               std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()));
        REQUIRE(cli::direct_output(file.string()).empty());
        moved.print_all();
        REQUIRE(cli::finish_output().empty());
        CHECK(content_of(file) == all);
        fs::remove(file);
    }
}
