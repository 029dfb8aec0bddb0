// What is said about the plans of tests/plans/rules, in full: headline, consequence, worked steps, questions,
// cures. Approved with BENCHFEED_APPROVE=1 after it was read; a figure in it is held against its source by
// other tests.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <set>

#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

std::string told(const Judged& judged, const rules::Outcome& o) {
    const rules::Explanation e = rules::explain(judged.situation(), judged.judgement(), o);
    const std::string_view part = rules::words(o.part);
    std::string out = fmt::format("{} at {}{}{}: {}\n", rules::words(o.verdict), at_text(judged.plan(), o.at),
                                  part.empty() ? "" : " ", part, e.short_words);
    if (!e.headline.empty()) out += "  " + e.headline + "\n";
    if (!e.consequence.empty()) out += "  " + e.consequence + "\n";
    for (const Step& step : e.steps) {
        out += "    " + step.symbol;
        for (const std::string& shown : {step.formula, step.numbers, step.result})
            if (!shown.empty()) out += " = " + shown;
        out += step.words + "\n";
    }
    for (const auto& source : e.sources)
        out += fmt::format("    from {} {} {}, {}\n", source.source, source.edition, source.place,
                           source.cell());
    for (const auto& question : e.questions)
        out += fmt::format("    ask {}: {} {}\n", question.path, question.ask, question.look);
    for (const auto& remedy : e.remedies) out += "    cure: " + remedy.text + "\n";
    return out;
}

/// By rule and plan; what was told of another plan already stands there once.
std::string all_told() {
    std::map<std::string, std::string> by_rule;
    std::set<std::string> known;
    for (const auto& path : plans_in(std::string(BENCHFEED_RULE_PLANS))) {
        const std::string name = path.filename().string();
        const auto result = check(text::Document(name, read_text(path)), catalogue());
        REQUIRE(std::holds_alternative<Judged>(result));
        const Judged& judged = std::get<Judged>(result);
        const std::string first = rules::headline(judged.situation(), judged.judgement(),
                                                  rules::findings(judged.situation(), judged.judgement()));
        if (known.insert(first).second) by_rule["first line"] += "-- " + name + "\n" + first + "\n";
        for (const auto& o : judged.judgement().outcomes) {
            if (o.verdict == rules::Verdict::ok || o.accepted != plan::nowhere) continue;
            const std::string rule(rules::registry()[o.rule].id), text = told(judged, o);
            if (known.insert(rule + text).second) by_rule[rule] += "-- " + name + "\n" + text;
        }
    }
    std::string all;
    for (const auto& [rule, text] : by_rule) all += "== " + rule + "\n" + text;
    return all;
}

}  // namespace

TEST_CASE("what the findings of the rule plans say is as approved") {
    const std::string path = BENCHFEED_TESTS_DIR "/golden/findings.said", now = all_told();
    if (std::getenv("BENCHFEED_APPROVE")) std::ofstream(path, std::ios::binary) << now;
    const std::string approved = read_text(path);
    std::istringstream a(approved), b(now);
    std::size_t line = 0, differing = 0;
    for (std::string was, is; differing < 5; ++line) {
        const bool more_a = static_cast<bool>(std::getline(a, was)),
                   more_b = static_cast<bool>(std::getline(b, is));
        if (!more_a && !more_b) break;
        if (more_a == more_b && was == is) continue;
        ++differing;
        FAIL_CHECK("line " << line + 1 << "\n  approved: " << was << "\n  now:      " << is);
    }
    CHECK(line > 1000);
}
