// benchfeed schema
#include <benchfeed/report/plan_schema.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_schema() {
    const tables::Catalogue catalogue;
    print(report::plan_schema(plan_words(catalogue)));
    return Exit::good;
}

}  // namespace benchfeed::cli
