// benchfeed schema
#include <benchfeed/report/plan_schema.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_schema(bool common) {
    const tables::Catalogue catalogue;
    const plan::Words words = plan_words(catalogue);
    print(common ? report::common_schema(words) : report::plan_schema(words));
    return Exit::good;
}

}  // namespace benchfeed::cli
