#pragma once
// Tables -> headers with their names, for the program of the build.
#include <map>
#include <string>

#include <benchfeed/tables/table_draft.hpp>

namespace benchfeed {

/// Drafts by their id.
using Drafts = std::map<std::string, tables::Draft>;

/// What is wrong between tables: a row that another table asks for and that is not there, a cell that names
/// nothing, words that make no names.
[[nodiscard]] Diagnostics faults_between(const Drafts& drafts);

/// The header of one table. Pre: faults_between() found nothing.
[[nodiscard]] std::string figures_of(const tables::Draft& draft, const Drafts& drafts);
/// Its name without ending: "iec_41_1".
[[nodiscard]] std::string figures_name(std::string_view id);

}  // namespace benchfeed
