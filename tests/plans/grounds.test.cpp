// What outcomes rest on: cells and facts, each with its own grade, or what the plan says.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

std::vector<std::filesystem::path> all_plans() {
    std::vector<std::filesystem::path> all;
    const std::string tests = BENCHFEED_TESTS_DIR "/plans", data = BENCHFEED_DATA_DIR "/plans";
    for (const std::string& folder : {data, std::string(BENCHFEED_RULE_PLANS), tests + "/scenarios"}) {
        const auto some = plans_in(folder);
        all.insert(all.end(), some.begin(), some.end());
    }
    all.emplace_back(tests + "/every-field.toml");
    return all;
}

/// The grade of the very cell or fact that a citation names; nothing where the table has none of that name.
std::optional<tables::Grade> grade_of_cited(const tables::Citation& cited) {
    const tables::Table* table = catalogue().table(cited.table);
    if (!table) return std::nullopt;
    if (const tables::Fact* fact = cited.column.empty() ? table->fact(cited.row) : nullptr)
        return table->cite(*fact).grade;
    for (std::size_t row = 0; row < table->rows.size(); ++row) {
        if (table->text_of(table->rows[row].name) != cited.row) continue;
        for (std::size_t column = 0; column < table->columns.size(); ++column) {
            const tables::Citation there = table->cite(row, column);
            if (there.column == cited.column && there.grade == cited.grade) return there.grade;
        }
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("every outcome of every plan names a cell with its grade, or a place in the plan; none a table") {
    std::map<std::string, std::set<std::string>> wrong;
    std::size_t outcomes = 0, cells = 0;
    for (const auto& path : all_plans()) {
        const auto answer = check(text::Document(path.filename().string(), read_text(path)), catalogue());
        if (!std::holds_alternative<Judged>(answer)) continue;
        const auto& judged = std::get<Judged>(answer);
        for (const rules::Outcome& o : judged.judgement().outcomes) {
            ++outcomes;
            const auto e = rules::explain(judged.situation(), judged.judgement(), o);
            const auto note = [&](const std::string& what) {
                wrong[std::string(rules::registry()[o.rule].id) + ": " + what].insert(
                    path.filename().string() + " at " + at_text(judged.plan(), o.at));
            };
            for (const tables::Citation& source : e.sources) {
                ++cells;
                if (source.row.empty())
                    note("cites table " + std::string(source.table) + " as a whole");
                else if (grade_of_cited(source) != source.grade)
                    note("cites " + std::string(source.table) + ", " + source.cell() +
                         " with a grade that is not its own");
            }
            // plan.unreadable is about the file as a whole.
            const bool whole = rules::registry()[o.rule].id == "plan.unreadable";
            if (!whole && e.sources.empty() && e.place.span.nowhere() && e.questions.empty())
                note("names neither a figure nor a place");
            // What is decided rests on figures of some grade: one no better than the lowest of them is
            // printed. A caution is short of the edge, so it rests on that as well.
            const bool by_edge = o.verdict != rules::Verdict::cannot_judge;
            if (by_edge && o.ground.grade < tables::Grade::two_sources) {
                const bool told = std::any_of(e.sources.begin(), e.sources.end(), [&](const auto& source) {
                    return source.grade <= o.ground.grade;
                });
                if (!told) note(std::string(words(o.verdict)) + " without the lowest grade that it rests on");
            }
        }
    }
    CHECK(outcomes > 10000);
    CHECK(cells > 10000);
    for (const auto& [what, where] : wrong)
        FAIL_CHECK(what << "; " << where.size() << " times, such as " << *where.begin());
}
