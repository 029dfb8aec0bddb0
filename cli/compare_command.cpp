// benchfeed compare OLD NEW
#include <benchfeed/report/compare_text.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/judged_plan.hpp"

namespace benchfeed::cli {

int run_compare(const CompareOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan old_plan = judged_plan(options.before, {}, catalogue, style);
    const JudgedPlan new_plan = judged_plan(options.after, options.overrides, catalogue, style);
    const auto &before = old_plan.judged, &after = new_plan.judged;
    if (!before || !after) return Exit::unusable;
    const rules::Comparison comparison =
        rules::compare({before->situation(), before->judgement()}, {after->situation(), after->judgement()});
    print(options.format == "json"
              ? report::compare_json(program, {options.before, options.after}, comparison)
              : report::compare_text(comparison, style));
    return options.fail_on_worse && comparison.worse() > 0 ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
