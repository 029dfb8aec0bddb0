// The order of tables in a file decides printing and nothing else: a plan and the same plan with its tables
// in another order are judged alike, and compare says that nothing differs.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include <benchfeed/rules/compare.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

/// The tables of a plan as they stand, each with what follows its header; before them the fields of the root.
struct Blocks {
    std::string root;
    std::vector<std::string> tables;
};
Blocks blocks_of(const std::string& content) {
    Blocks blocks;
    std::istringstream lines(content);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("[")) blocks.tables.emplace_back();
        (blocks.tables.empty() ? blocks.root : blocks.tables.back()) += line + "\n";
    }
    return blocks;
}

std::string text_of(const Blocks& blocks) {
    std::string text = blocks.root;
    for (const std::string& table : blocks.tables) text += table;
    return text;
}

/// One line for each finding: what it says of which place, in the order of its own words.
std::vector<std::string> said_of(const Judged& judged) {
    std::vector<std::string> lines;
    for (const auto& o : judged.judgement().outcomes) {
        if (o.verdict == rules::Verdict::ok) continue;
        std::string line = std::string(rules::registry()[o.rule].id) + " " +
                           std::string(rules::words(o.verdict)) + " at " + at_text(judged.plan(), o.at) +
                           " " + std::string(rules::words(o.part)) + " in " +
                           rules::set_name(judged.plan(), o.set);
        if (o.accepted != plan::nowhere) line += ", accepted";
        lines.push_back(std::move(line));
    }
    std::sort(lines.begin(), lines.end());
    return lines;
}

void check_order(const Judged& before, Blocks blocks, const std::string& how) {
    CAPTURE(how);
    const auto after = test::judged(text_of(blocks));
    CHECK(said_of(before) == said_of(after));
    const auto comparison =
        rules::compare({before.situation(), before.judgement()}, {after.situation(), after.judgement()});
    CHECK(comparison.differences.empty());
    CHECK(comparison.moved.empty());
    CHECK(comparison.tests.empty());
}

void check_shuffled(const std::filesystem::path& path) {
    CAPTURE(path.filename().string());
    const std::string content = read_text(path);
    Blocks blocks = blocks_of(content);
    const auto before = test::judged(content);
    std::reverse(blocks.tables.begin(), blocks.tables.end());
    check_order(before, blocks, "reversed");
    std::mt19937 random(20240607);
    for (int round = 0; round < 3; ++round) {
        std::shuffle(blocks.tables.begin(), blocks.tables.end(), random);
        check_order(before, blocks, "shuffled " + std::to_string(round));
    }
}

}  // namespace

TEST_CASE("tables in another order change nothing that is said") {
    for (const char* folder :
         {BENCHFEED_RULE_PLANS, BENCHFEED_TESTS_DIR "/plans/scenarios", BENCHFEED_DATA_DIR "/plans"})
        for (const auto& path : plans_in(folder)) check_shuffled(path);
    check_shuffled(std::string(BENCHFEED_TESTS_DIR) + "/plans/every-field.toml");
}
