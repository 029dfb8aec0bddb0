// benchfeed explain RULE
#include <fmt/format.h>

#include <benchfeed/report/tables_text.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_explain(const std::string& rule, const report::Style& style) {
    if (!rules::find_rule(rule)) {
        print_error(fmt::format("benchfeed: there is no rule {}; `benchfeed rules` lists them\n",
                                report::harmless(rule)));
        return Exit::unusable;
    }
    print(report::page_text(rule, style));
    return Exit::good;
}

}  // namespace benchfeed::cli
