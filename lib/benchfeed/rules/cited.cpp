#include <benchfeed/rules/cited.hpp>

#include <fmt/format.h>

#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

void cite_fact(const Situation& s, Explanation& e, tables::Key table, tables::Key fact) {
    const tables::Table* there = s.tables.table(table);
    if (const tables::Fact* found = there ? there->fact(fact) : nullptr)
        e.sources.push_back(there->cite(*found));
}

void cite_cell(const Situation& s, Explanation& e, tables::Key table, std::size_t row, tables::Key column) {
    const tables::Table* there = s.tables.table(table);
    if (const auto at = there ? there->column(column) : std::nullopt)
        e.sources.push_back(there->cite(row, *at));
}

Explanation explain_missing(const Situation& s, const Outcome& o, const tables::Missing& row) {
    Explanation e;
    const std::string without = fmt::format("table {} has no row for {}", row.table, row.row);
    e.headline = fmt::format("{} cannot be judged: {}", capital(words(s, o.at, o.part)), without);
    e.short_words = without;
    if (o.at.kind == At::Kind::element) e.place = {s.plan[o.at.index].header, ""};
    std::string look = "the printed table";
    if (const tables::Table* table = s.tables.table(row.table)) {
        e.sources.push_back(table->cite());
        look = fmt::format("{}, {}", table->source_title, table->place);
    }
    e.questions.push_back(
        {path_of(s.plan, o.at), fmt::format("What does the table say of {}?", row.row), look});
    return e;
}

}  // namespace benchfeed::rules
