// Text of a plan, read, judged, and every outcome explained.
#include <set>
#include <tuple>

#include <benchfeed/rules/summary.hpp>
#include "door.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const text::Document document("a plan", std::string(fuzz::text_of(data, size)));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    if (const auto* problems = std::get_if<Diagnostics>(&result)) {
        fuzz::must(!problems->empty());
        return 0;
    }
    const auto& judged = std::get<Judged>(result);
    fuzz::must_keep_the_laws(judged);
    std::set<std::tuple<rules::Index, std::uint8_t, rules::Verdict>> explained;  // one of a kind is enough
    for (const rules::Outcome& outcome : judged.judgement().outcomes) {
        if (!explained.emplace(outcome.rule, outcome.variant, outcome.verdict).second) continue;
        const rules::Explanation said = rules::explain(judged.situation(), judged.judgement(), outcome);
        fuzz::must(!said.headline.empty());
        fuzz::must(said.headline.find("nan") == std::string::npos &&
                   said.headline.find("inf ") == std::string::npos);
        for (const Step& step : said.steps)
            fuzz::must(!step.words.empty() || !step.numbers.empty() || !step.result.empty() ||
                       !step.formula.empty());
    }
    return 0;
}
