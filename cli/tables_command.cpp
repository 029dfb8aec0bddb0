// benchfeed tables [ID] [--region R]
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/json.hpp>
#include <benchfeed/report/tables_text.hpp>
#include <benchfeed/report/word_lists.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

namespace {

/// A list of words of a plan, for people alone.
int print_words(const TablesOptions& options, const tables::Catalogue& catalogue,
                const report::Style& style) {
    std::string region = options.region;
    std::transform(region.begin(), region.end(), region.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    const std::string text = report::word_list_text(options.id, region, catalogue, style);
    if (text.empty()) {
        print_error(fmt::format("benchfeed: there is no region {}; write one of EU, UK, US, CH, AU\n",
                                report::harmless(options.region)));
        return Exit::unusable;
    }
    print(text);
    return Exit::good;
}

}  // namespace

int run_tables(const TablesOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const std::string& id = options.id;
    const bool json = options.format == "json";
    const auto lists = report::word_lists();
    if (!json && std::find(lists.begin(), lists.end(), id) != lists.end())
        return print_words(options, catalogue, style);
    if (id.empty()) {
        print(json ? report::tables_json(program, catalogue) : report::tables_text(catalogue, style));
        return Exit::good;
    }
    const tables::Table* table = catalogue.table(id);
    if (!table) {
        print_error(fmt::format(
            "benchfeed: there is no table {}; `benchfeed tables` lists them, and there are the lists "
            "cables, patterns and devices\n",
            report::harmless(id)));
        return Exit::unusable;
    }
    print(json ? report::table_json(program, *table) : report::table_text(*table, style));
    return Exit::good;
}

}  // namespace benchfeed::cli
