// The demo bench with planted faults, cured as it is told: first what costs nothing, then the sizes, then
// parts.
#include <doctest/doctest.h>

#include <set>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/size.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

/// Lines of the plan changed by hand, as a person does who follows the cures.
std::string changed(std::string text, const std::vector<std::pair<std::string, std::string>>& edits) {
    for (const auto& edit : edits) {
        const std::string &from = edit.first, &to = edit.second;
        const auto at = text.find(from);
        REQUIRE_MESSAGE(at != std::string::npos, from);
        REQUIRE(text.find(from, at + 1) == std::string::npos);
        text.replace(at, from.size(), to);
    }
    return text;
}

std::set<std::string> fails(const Judged& judged) {
    std::set<std::string> ids;
    for (const auto& o : judged.judgement().outcomes)
        if (o.verdict == rules::Verdict::fail) ids.insert(std::string(rules::registry()[o.rule].id));
    return ids;
}

std::string sized(const std::string& text) {
    const text::Document document("barn.toml", text);
    const auto read = check(document, catalogue());
    const auto& plan = std::get<Judged>(read);
    const auto found = advice::size(plan.situation());
    const auto edits = advice::edits_of(found, plan.plan());
    CHECK(edits.missing.empty());
    return advice::edited(document, edits.edits);
}

}  // namespace

TEST_CASE(
    "the faulty demo bench after the cures that cost nothing, `size --write` and the told parts is in "
    "order") {
    const std::string barn = read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/crooked-barn.toml");
    // Free: unwind the reel; one tool at a time; the sander into the outlet of the extractor's neighbour.
    const std::string free = changed(
        barn, {{"reel = \"wound\", wound_limit = \"1000 W\", cutout = \"none\"", "reel = \"unwound\""},
               {"loads = [\"saw\", \"planer\", \"extractor\"]", "loads = [\"planer\"]"},
               {"from    = \"outlet.tool\"", "from    = \"outlet.extractor\""},
               {"[outlet.extractor]\n", "[outlet.extractor]\nways    = 2\n"}});
    CHECK(fails(judged(free)).contains("volts.running-drop"));
    CHECK(fails(judged(free)).contains("heat.cable-unprotected"));
    const std::string with_sizes = sized(free);
    // What is left no habit cures, and no cable that the plug takes.
    CHECK(fails(judged(with_sizes)) ==
          std::set<std::string>{"heat.switch-motor-rating", "heat.element-unprotected", "shock.one-pole-off",
                                "restart.no-volt-missing", "volts.running-drop"});
    CHECK(with_sizes.find("# carries 10 A behind a 20 A breaker") != std::string::npos);
    const std::string with_parts =
        changed(with_sizes,
                {{"rating   = \"20 A\"", "rating   = \"16 A\""},
                 {"length = \"25 m\"", "length = \"15.9 m\""},
                 {"poles        = 1 ", "poles        = 2 "},
                 {"motor_rating = \"4 A\"", "no_volt = true\ncoil = \"230 V\"\nmotor_rating = \"12 A\""}});
    const Judged cured = judged(with_parts);
    CHECK(fails(cured).empty());
    CHECK(!benchfeed::fails(cured.judgement(), FailOn::fail));
    // Sizes do not need the parts to be known, nor the other way round: the text stays as it is.
    CHECK(sized(with_parts) == with_parts);
}

// What is told is done, word by word: the changes that the program prints beside its free remedies, then
// --write.
TEST_CASE("a demo bench whose faults cost nothing or copper is in order after both") {
    const std::string lane =
        changed(read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml"),
                {{"section   = \"1.5 mm2\"\ncores     = 3\nconductor = \"copper\"\n\n[stock.run]",
                  "section   = \"1.0 mm2\"\ncores     = 3\nconductor = \"copper\"\n\n[stock.run]"},
                 {"length = \"5 m\"", "length = \"24 m\""},
                 {"[\"saw\", \"extractor\", \"lamp\"]", "[\"saw\", \"router\", \"extractor\", \"lamp\"]"}});
    const text::Document document("lane.toml", lane);
    const plan::Words words = plan_words(catalogue());
    std::vector<plan::Override> done;
    std::size_t steps = 0;
    for (bool more = true; more && steps < 10;) {
        const auto read = check(document, catalogue(), done);
        const auto& judged = std::get<Judged>(read);
        if (steps == 0) CHECK(fails(judged).size() >= 3);
        more = false;
        advice::CureTrials trials;
        for (const auto& o : judged.judgement().outcomes) {
            if (o.verdict != rules::Verdict::fail || more) continue;
            for (const auto& remedy : advice::cures({document, catalogue(), words, done}, judged.situation(),
                                                    judged.judgement(), o, trials)) {
                if (remedy.cost != rules::Cost::free || remedy.changes.empty() || more) continue;
                for (const auto& change : remedy.changes) done.push_back({change.path + "=" + change.value});
                more = true;
                ++steps;
            }
        }
    }
    CHECK(steps >= 1);
    const auto read = check(document, catalogue(), done);
    const auto& freed = std::get<Judged>(read);
    CHECK_FALSE(fails(freed).empty());  // the cord is still too thin
    const auto sized = advice::size(freed.situation());
    CHECK(sized.uncured.empty());
    const auto plain = check(document, catalogue());
    const auto edits = advice::edits_of(sized, std::get<Judged>(plain).plan());
    const auto again =
        check(text::Document("lane.toml", advice::edited(document, edits.edits)), catalogue(), done);
    CHECK(fails(std::get<Judged>(again)).empty());
    CHECK_FALSE(benchfeed::fails(std::get<Judged>(again).judgement(), FailOn::fail));
}

TEST_CASE("the demo bench without a finding has the least sizes already") {
    const Judged lane = judged(read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml"));
    const auto copper = advice::size(lane.situation());
    CHECK(copper.uncured.empty());
    CHECK(copper.copper_after == copper.copper_before);
}
