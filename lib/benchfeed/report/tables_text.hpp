#pragma once
// The tables and rules that benchfeed stands on, as text.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/rule.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::report {

/// The lowest grade of a table's cells and facts, its keys left out.
[[nodiscard]] tables::Grade lowest_grade(const tables::Table& table);
/// One line for each table: id, source, edition, lowest grade of its cells, title.
[[nodiscard]] BENCHFEED_API std::string tables_text(const tables::Catalogue& catalogue, const Style& style);
/// One table whole, with what is known of every cell.
[[nodiscard]] BENCHFEED_API std::string table_text(const tables::Table& table, const Style& style);
/// One line for each rule: id, whether it is essential, families, title.
[[nodiscard]] BENCHFEED_API std::string rules_text(const Style& style);
/// A rule's page, wrapped. Pre: the rule exists.
[[nodiscard]] BENCHFEED_API std::string page_text(std::string_view rule_id, const Style& style);

}  // namespace benchfeed::report
