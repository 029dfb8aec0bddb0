#pragma once
// Facts of tables as grounds of an explanation.
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// Adds the source of one fact. A table never stands for what one of its facts says: each has a grade and a
/// place of its own.
void cite_fact(const Situation& s, Explanation& e, tables::Key table, tables::Key fact);
/// The same for one cell. Pre: the table has that row and column.
void cite_cell(const Situation& s, Explanation& e, tables::Key table, std::size_t row, tables::Key column);

/// Words for an outcome that lacks a row of a table.
[[nodiscard]] Explanation explain_missing(const Situation& s, const Outcome& outcome,
                                          const tables::Missing& row);

}  // namespace benchfeed::rules
