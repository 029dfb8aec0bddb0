// benchfeed tables [ID]
#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "report/tables_text.hpp"

namespace benchfeed::cli {

int run_tables(const std::string& id, const report::Style& style) {
    const tables::Catalogue catalogue;
    if (id.empty()) {
        print(report::tables_text(catalogue, style));
        return Exit::good;
    }
    const tables::Table* table = catalogue.table(id);
    if (!table) {
        print_error(fmt::format("benchfeed: there is no table {}; `benchfeed tables` lists them\n",
                                report::harmless(id)));
        return Exit::unusable;
    }
    print(report::table_text(*table, style));
    return Exit::good;
}

}  // namespace benchfeed::cli
