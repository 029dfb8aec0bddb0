// benchfeed compare OLD NEW
#include <filesystem>

#include <benchfeed/report/changes.hpp>
#include <benchfeed/report/compare_text.hpp>
#include "cli/changed_sarif.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/judged_plan.hpp"

namespace benchfeed::cli {

int run_compare(const CompareOptions& options, const report::Style& style) {
    std::error_code error;
    const bool folder = std::filesystem::is_directory(options.before, error),
               other = std::filesystem::is_directory(options.after, error);
    if (folder && other) return run_compare_folders(options, style);
    if (folder || other) {
        print_error("benchfeed: compare takes two plans or two folders, not one of each\n");
        return Exit::unusable;
    }
    const tables::Catalogue catalogue;
    const JudgedPlan old_plan = judged_plan(options.before, {}, catalogue, style, options.old_root);
    const JudgedPlan new_plan = judged_plan(options.after, options.overrides, catalogue, style);
    const auto &before = old_plan.judged, &after = new_plan.judged;
    if (!before || !after) return Exit::unusable;
    const rules::Comparison comparison =
        rules::compare({before->situation(), before->judgement()}, {after->situation(), after->judgement()});
    if (options.format == "sarif") {
        const plan::Words words = plan_words(catalogue);
        std::vector<plan::Override> overrides;
        for (const std::string& text : options.overrides) overrides.push_back({text});
        print(report::sarif_opening(program) +
              changed_sarif({*new_plan.document, catalogue, words, overrides, *after}, comparison) +
              report::sarif_closing(true));
    } else if (options.format == "markdown")
        print(report::changes_markdown(program, {options.before,
                                                 options.after,
                                                 1,
                                                 1,
                                                 0,
                                                 {{.kind = report::PlanChange::Kind::changed,
                                                   .path = options.after,
                                                   .comparison = comparison}}}));
    else
        print(options.format == "json"
                  ? report::compare_json(program, {options.before, options.after}, comparison)
                  : report::compare_text(comparison, style));
    return options.fail_on_worse && comparison.worse() > 0 ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
