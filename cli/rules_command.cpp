// benchfeed rules
#include <benchfeed/report/json.hpp>
#include <benchfeed/report/tables_text.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_rules(const std::string& format, const report::Style& style) {
    print(format == "json" ? report::rules_json(program) : report::rules_text(style));
    return Exit::good;
}

}  // namespace benchfeed::cli
