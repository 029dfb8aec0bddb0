// benchfeed check --try PATH=VALUES PLAN
#include <benchfeed/report/sweep_text.hpp>
#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"

namespace benchfeed::cli {

namespace {

void print_faults(const JudgedPlan& plan, const Diagnostics& problems, const std::string& option,
                  const report::Style& style) {
    for (const Diagnostic& problem : problems) {
        if (problem.path != "--set" && problem.path != "--try") {
            print(report::diagnostics_text(*plan.document, {problem}, style));
            continue;
        }
        print(report::wrapped(report::harmless(problem.message), "error: ", "       ", style));
        print("  --try " + report::harmless(option) + "\n");
        if (!problem.help.empty())
            print(report::wrapped(report::harmless(problem.help), "  write: ", "         ", style));
    }
}

}  // namespace

int run_try(const CheckOptions& options, const report::Style& style) {
    if (options.plans.size() != 1) {
        print_error("benchfeed: --try takes one plan\n");
        return Exit::unusable;
    }
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plans.front(), options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const plan::Words words = plan_words(catalogue);
    std::vector<plan::Override> overrides;
    for (const std::string& text : options.overrides) overrides.push_back({text});
    for (const std::string& option : options.tries) {
        const auto what = advice::read_try(option);
        if (const auto* problem = std::get_if<Diagnostic>(&what)) {
            print_faults(plan, {*problem}, option, style);
            return Exit::unusable;
        }
        const auto& tried = std::get<advice::Try>(what);
        const auto result = advice::sweep({*plan.document, catalogue, words, overrides}, tried);
        if (const auto* problems = std::get_if<Diagnostics>(&result)) {
            print_faults(plan, *problems, option, style);
            return Exit::unusable;
        }
        print(report::sweep_text(plan.judged->situation(), tried, std::get<advice::Sweep>(result), style));
    }
    return fails(plan.judged->judgement(), options.fail_on) ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
