// Figures from memory for which an outcome of a demo plan cannot be judged, each by table and cell: what to
// look up next. BENCHFEED_APPROVE=1 writes the list anew.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <benchfeed/rules/summary.hpp>
#include "plans/expectations.hpp"
#include "support/approved.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

/// "heron-lane.toml: heat.fault-energy at box.junction cable: table thresholds, fault_energy_time"
std::set<std::string> open_figures(const std::filesystem::path& path) {
    std::set<std::string> lines;
    const auto judged = test::judged(read_text(path));
    for (const auto& o : judged.judgement().outcomes) {
        if (o.verdict != rules::Verdict::cannot_judge || o.ground.grade != tables::Grade::memory) continue;
        const auto e = rules::explain(judged.situation(), judged.judgement(), o);
        const std::string where =
            path.filename().string() + ": " + std::string(rules::registry()[o.rule].id) + " at " +
            at_text(judged.plan(), o.at) + " " + std::string(rules::words(o.part)) + ": ";
        bool named = false;
        for (const auto& source : e.sources) {
            if (source.grade != tables::Grade::memory) continue;
            named = true;
            lines.insert(where + std::string(source.table) + ", " + source.cell());
        }
        if (!named) lines.insert(where + "(the figure is named in the question)");
    }
    return lines;
}

/// Everything that an ok says: one line for each whose figures, or whose sources, are all from memory. What
/// cites nothing rests on marks and facts of the plan.
std::vector<std::string> oks_on_memory(const std::filesystem::path& path) {
    std::vector<std::string> lines;
    const auto judged = test::judged(read_text(path));
    for (const auto& o : judged.judgement().outcomes) {
        if (o.verdict != rules::Verdict::ok) continue;
        const auto e = rules::explain(judged.situation(), judged.judgement(), o);
        const bool only_memory =
            !e.sources.empty() && std::all_of(e.sources.begin(), e.sources.end(), [](const auto& source) {
                return source.grade == tables::Grade::memory;
            });
        if (o.ground.carries_ok() && !only_memory) continue;
        lines.push_back(std::string(rules::registry()[o.rule].id) + " at " + at_text(judged.plan(), o.at) +
                        (only_memory ? " cites memory alone" : " rests on memory"));
    }
    return lines;
}

}  // namespace

TEST_CASE("nothing that is ok rests on memory alone, in any plan") {
    for (const std::string& folder :
         {std::string(BENCHFEED_RULE_PLANS), std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios",
          std::string(BENCHFEED_TESTS_DIR) + "/plans", std::string(BENCHFEED_DATA_DIR) + "/plans"})
        for (const auto& path : plans_in(folder)) {
            CAPTURE(path.filename().string());
            for (const std::string& line : oks_on_memory(path)) FAIL_CHECK(line);
        }
}

TEST_CASE("for which figures from memory outcomes of the demo plans cannot be judged") {
    std::string list;
    for (const auto& path : plans_in(std::string(BENCHFEED_DATA_DIR) + "/plans"))
        for (const std::string& line : open_figures(path)) list += line + "\n";
    if (list.empty()) list = "none\n";
    holds_as_approved(std::string(BENCHFEED_TESTS_DIR) + "/plans/figures-from-memory.txt", list);
}
