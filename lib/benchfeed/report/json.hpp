#pragma once
// Rules and tables as JSON; data/schemas/output.schema.json describes it. Judged plans: report/machine.hpp.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::report {

/// Every rule, in the order of the registry.
[[nodiscard]] BENCHFEED_API std::string rules_json(const Tool& tool);
/// Every table: what it is, where it stands and its lowest grade.
[[nodiscard]] BENCHFEED_API std::string tables_json(const Tool& tool, const tables::Catalogue& catalogue);
/// One table whole, each figure with its grade.
[[nodiscard]] BENCHFEED_API std::string table_json(const Tool& tool, const tables::Table& table);

}  // namespace benchfeed::report
