// benchfeed rules
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "report/tables_text.hpp"

namespace benchfeed::cli {

int run_rules(const report::Style& style) {
    print(report::rules_text(style));
    return Exit::good;
}

}  // namespace benchfeed::cli
