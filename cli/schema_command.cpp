// benchfeed schema
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "report/plan_schema.hpp"

namespace benchfeed::cli {

int run_schema() {
    const tables::Catalogue catalogue;
    print(report::plan_schema(plan_words(catalogue)));
    return Exit::good;
}

}  // namespace benchfeed::cli
