// What is said about the plans of tests/plans/rules, in full: headline, consequence, worked steps, questions,
// cures. Approved with BENCHFEED_APPROVE=1 after it was read; a figure in it is held against its source by
// other tests.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "plans/expectations.hpp"
#include "support/approved.hpp"
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
    const std::string now = all_told();
    holds_as_approved(BENCHFEED_TESTS_DIR "/golden/findings.said", now);
    CHECK(lines_of(now).size() > 1000);
}

TEST_CASE("the short words of a finding give the range that its row gives") {
    std::size_t ranges = 0;
    for (const auto& path : plans_in(std::string(BENCHFEED_RULE_PLANS))) {
        const auto result = check(text::Document(path.filename().string(), read_text(path)), catalogue());
        const Judged& judged = std::get<Judged>(result);
        for (const auto& o : judged.judgement().outcomes) {
            if (o.verdict == rules::Verdict::ok || std::holds_alternative<std::monostate>(o.least)) continue;
            const std::string words = rules::explain(judged.situation(), judged.judgement(), o).short_words;
            if (words.find(to_text(o.value)) == std::string::npos) continue;
            CAPTURE(path.filename().string());
            CAPTURE(words);
            CHECK(words.find(range_text(o.least, o.value)) != std::string::npos);
            ++ranges;
        }
    }
    CHECK(ranges >= 5);
}

TEST_CASE("the pages of the rules are in the words of the trade") {
    constexpr std::array habits{"nobody knows", "nobody said", "nobody tested", "not told",         "hangs",
                                "stands in",    "surely",      "somebody said", "insulation stands"};
    for (const rules::Rule& rule : rules::registry()) {
        const std::string page(rules::page(rule.id));
        CAPTURE(rule.id);
        CHECK(page.size() > 300);
        for (const char* habit : habits) CHECK_MESSAGE(page.find(habit) == std::string::npos, habit);
    }
}

TEST_CASE("what is said of plans is in the words of the trade") {
    // Habits that hide who does what: say "the plan does not say", "is fed from", "is before", "reports".
    constexpr std::array habits{"nobody knows",     "nobody said",      "nobody has said",
                                "nobody can tell",  "nobody tested",    "not told",
                                "hangs on",         "hang on ",         "cannot tell",
                                "can tell whether", "stands before",    "stand on the plate",
                                "stands in a ",     "surely",           "somebody said",
                                "hangs behind",     "it wants",         "until then",
                                "than was meant",   "are lost;",        "the advice is",
                                "sits on",          "what ends an",     "open to wood",
                                "hang behind",      " bears ",          "nothing can be said",
                                "core stands",      "insulation stands"};
    const auto lines = lines_of(all_told());
    for (std::string line : lines) {
        std::transform(line.begin(), line.end(), line.begin(),
                       [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
        CAPTURE(line);
        for (const char* habit : habits) CHECK_MESSAGE(line.find(habit) == std::string::npos, habit);
    }
    CHECK(lines.size() > 5000);
}

TEST_CASE("no figure ends in zeros that are more than four digits") {
    std::size_t figures = 0;
    const std::string told = all_told();
    for (std::size_t at = 0; at < told.size();) {
        const std::size_t from = told.find_first_of("0123456789", at);
        if (from == std::string::npos) break;
        at = std::min(told.find_first_not_of("0123456789.", from), told.size());
        const std::string figure = told.substr(from, at - from);
        constexpr std::array units{" ohm", " A", " V", " W", " kA", " m"};  // 430.250 is a section of the NEC
        const bool measured = std::any_of(units.begin(), units.end(), [&](const char* unit) {
            return told.compare(at, std::char_traits<char>::length(unit), unit) == 0;
        });
        if (!measured || std::count(figure.begin(), figure.end(), '.') != 1 || figure.back() != '0') continue;
        const auto first = std::find_if(figure.begin(), figure.end(), [](char c) { return c > '0'; });
        ++figures;
        CAPTURE(figure);
        CHECK(std::count_if(first, figure.end(), [](char c) { return c != '.'; }) <= 4);
    }
    CHECK(figures > 100);
}
