#include <benchfeed/rules/cited.hpp>

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

}  // namespace benchfeed::rules
