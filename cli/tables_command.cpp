// benchfeed tables [ID]
#include <fmt/format.h>

#include <benchfeed/report/json.hpp>
#include <benchfeed/report/tables_text.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_tables(const std::string& id, const std::string& format, const report::Style& style) {
    const tables::Catalogue catalogue;
    const bool json = format == "json";
    if (id.empty()) {
        print(json ? report::tables_json(program, catalogue) : report::tables_text(catalogue, style));
        return Exit::good;
    }
    const tables::Table* table = catalogue.table(id);
    if (!table) {
        print_error(fmt::format("benchfeed: there is no table {}; `benchfeed tables` lists them\n",
                                report::harmless(id)));
        return Exit::unusable;
    }
    print(json ? report::table_json(program, *table) : report::table_text(*table, style));
    return Exit::good;
}

}  // namespace benchfeed::cli
