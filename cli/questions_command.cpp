// benchfeed questions PLAN
#include <benchfeed/report/questions.hpp>

#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"
#include "cli/sheet_output.hpp"

namespace benchfeed::cli {

int run_questions(const CardOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const auto s = plan.judged->situation();
    const auto& judgement = plan.judged->judgement();
    if (options.format == "json") {
        print(report::questions_json(*plan.document, s, judgement, program));
        return Exit::good;
    }
    return print_sheet(report::questions_sheet(*plan.document, s, judgement, program,
                                               {.what_if = !options.overrides.empty()}),
                       options, style);
}

}  // namespace benchfeed::cli
