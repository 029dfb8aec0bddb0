// benchfeed compare OLD NEW
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/load_plan.hpp"
#include "report/compare_text.hpp"

namespace benchfeed::cli {

int run_compare(const CompareOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const auto before = load_plan(options.before, {}, catalogue, style);
    const auto after = load_plan(options.after, options.overrides, catalogue, style);
    if (!before || !after) return Exit::unusable;
    const rules::Comparison comparison =
        rules::compare({before->situation(), before->judgement()}, {after->situation(), after->judgement()});
    print(options.format == "json"
              ? report::compare_json(program, {options.before, options.after}, comparison)
              : report::compare_text(comparison, style));
    return options.fail_on_worse && comparison.worse() > 0 ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
