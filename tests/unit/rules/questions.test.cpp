// The order of questions: what settles most comes first, and what is listed is enough.
#include <benchfeed/rules/questions.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/approved.hpp"
#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;
using rules::Asked;

namespace {

Judged judged(const std::string& text, const std::vector<std::string>& set = {}) {
    std::vector<plan::Override> overrides;
    for (const std::string& one : set) overrides.push_back({one});
    auto answer = check(text::Document("plan.toml", text), test::catalogue(), overrides);
    REQUIRE(std::holds_alternative<Judged>(answer));
    return std::move(std::get<Judged>(answer));
}

std::string three_tools() {
    return test::read_text(std::string(BENCHFEED_TESTS_DIR) + "/plans/short/three-tools.toml");
}

/// So many outcomes that count are settled by some of the questions.
std::size_t settled(const rules::Judgement& judgement, const std::vector<Asked>& all, unsigned chosen) {
    std::map<rules::Index, bool> answered;
    for (std::size_t q = 0; q < all.size(); ++q)
        for (const rules::Index o : all[q].decides) {
            if (!rules::is_grave_question(judgement.outcomes[o])) continue;
            const auto [place, fresh] = answered.try_emplace(o, true);
            place->second = place->second && ((chosen >> q) & 1u) != 0;
        }
    return static_cast<std::size_t>(
        std::count_if(answered.begin(), answered.end(), [](const auto& one) { return one.second; }));
}

}  // namespace

TEST_CASE("three tools of which little is known: five questions, and what they lead to") {
    const Judged bench = judged(three_tools());
    const auto all = rules::questions(bench.situation(), bench.judgement());
    const auto grave = std::count_if(all.begin(), all.end(), [](const Asked& a) { return a.grave > 0; });
    CHECK(grave <= 5);
    // Answers of our choice to these alone.
    const std::map<std::string, std::string> answers{
        {"latched", "false"}, {"current", "\"5 A\""}, {"overload", "\"hand\""}, {"earth", "\"tested\""}};
    std::vector<std::string> set;
    for (const Asked& asked : all)
        for (const std::string& path : asked.paths) {
            if (asked.grave == 0) continue;
            const auto answer = answers.find(path.substr(path.rfind('.') + 1));
            REQUIRE_MESSAGE(answer != answers.end(), path);
            set.push_back(path + "=" + answer->second);
        }
    const Judged answered = judged(three_tools(), set);
    // Nothing that counts is left to ask: the loop, which no residual device guards, is decided by the cure
    // of that fail and told under it.
    auto left = rules::questions(answered.situation(), answered.judgement());
    std::erase_if(left, [](const Asked& a) { return a.grave == 0; });
    CHECK(left.empty());
    const auto found = rules::findings(answered.situation(), answered.judgement());
    CHECK(std::count_if(found.begin(), found.end(), [](const auto& f) { return !f.answers.empty(); }) == 1);
    // Where a residual device leaves it open, it is asked for, and then the letter of what opens.
    const auto asked_with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), set.begin(), set.end());
        const Judged bench_then = judged(three_tools(), more);
        std::vector<std::string> paths;
        for (const Asked& a : rules::questions(bench_then.situation(), bench_then.judgement()))
            if (a.grave > 0) paths.insert(paths.end(), a.paths.begin(), a.paths.end());
        return paths;
    };
    CHECK(asked_with({"supply.cellar.earthing=\"TT\""}) ==
          std::vector<std::string>{"supply.cellar.loop_impedance"});
    CHECK(asked_with({"device.b16.residual.trip=\"30 mA\"", "device.b16.residual.wave=\"A\""}).empty());
    set.emplace_back("supply.cellar.earthing=\"TN-S\"");
    set.emplace_back("supply.cellar.loop_impedance=\"0.4 ohm\"");
    set.emplace_back("device.b16.curve=\"B\"");
    CHECK_FALSE(judged(three_tools(), set).judgement().essential_undecided);
    // What is certain stays a fail, and no fail depends on a fact that nobody gave.
    for (const auto& o : bench.judgement().outcomes)
        if (o.verdict == rules::Verdict::fail) CHECK_FALSE(o.open.has_value());
}

namespace {

/// Whether a plan has two to eight questions that count; then the first and all of them are held.
bool hold_order(const Judged& bench) {
    auto all = rules::questions(bench.situation(), bench.judgement());
    std::erase_if(all, [](const Asked& a) { return a.grave == 0; });
    if (all.size() < 2 || all.size() > 8) return false;
    const rules::Judgement& judgement = bench.judgement();
    const std::size_t first = settled(judgement, all, 1u);
    for (std::size_t q = 1; q < all.size(); ++q) CHECK(settled(judgement, all, 1u << q) <= first);
    // All of them settle all; each is needed.
    const unsigned every = (1u << all.size()) - 1;
    const std::size_t most = settled(judgement, all, every);
    for (unsigned chosen = 0; chosen < every; ++chosen) CHECK(settled(judgement, all, chosen) < most);
    return true;
}

}  // namespace

TEST_CASE("no other question settles more than the first, of every plan with up to eight") {
    std::size_t tried = 0;
    for (const auto& entry : std::filesystem::directory_iterator(BENCHFEED_RULE_PLANS)) {
        const auto answer =
            check(text::Document("plan.toml", test::read_text(entry.path())), test::catalogue());
        CAPTURE(entry.path().filename().string());
        if (const auto* bench = std::get_if<Judged>(&answer)) tried += hold_order(*bench);
    }
    for (unsigned seed = 0; seed < 200; ++seed) {
        test::BenchDice random(seed);
        CAPTURE(seed);
        tried += hold_order(judged(test::random_bench(random, {.whole = false})));
    }
    CHECK(tried >= 20);
}

TEST_CASE("what decides nothing is asked last") {
    const Judged bench = judged(three_tools());
    const auto all = rules::questions(bench.situation(), bench.judgement());
    const auto idle = [](const Asked& a) { return a.decides.empty(); };
    const auto first = std::find_if(all.begin(), all.end(), idle);
    REQUIRE(first != all.end());
    CHECK(std::all_of(first, all.end(), idle));
    CHECK(rules::decides_words(bench.situation(), bench.judgement(), *first, 3).empty());
    CHECK(rules::decides_words(bench.situation(), bench.judgement(), all.front(), 1).find(" more") !=
          std::string::npos);
}
