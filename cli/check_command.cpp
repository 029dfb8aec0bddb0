// benchfeed check PLAN...
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/judged_plan.hpp"
#include "report/check_text.hpp"

namespace benchfeed::cli {

namespace {

Exit check_one(const std::string& path, const CheckOptions& options, const tables::Catalogue& catalogue,
               bool many, const report::Style& style) {
    const FileOrFault file = read_file(path);
    if (!file.content) {
        print_error("benchfeed: " + report::harmless(file.fault) + "\n");
        return Exit::unusable;
    }
    const text::Document document(path == "-" ? "standard input" : path, *file.content);
    std::vector<plan::Override> overrides;
    for (const std::string& text : options.overrides) overrides.push_back({text});
    if (many) print(report::inked("== " + report::harmless(path), report::Ink::strong, style) + "\n");
    const auto result = check(document, catalogue, overrides);
    if (const auto* problems = std::get_if<Diagnostics>(&result)) {
        print(override_faults(*problems, options.overrides, style));
        Diagnostics of_file;
        std::copy_if(problems->begin(), problems->end(), std::back_inserter(of_file),
                     [](const Diagnostic& d) { return d.path != "--set"; });
        if (!of_file.empty()) print(report::diagnostics_text(document, of_file, style));
        if (many) print("\n");
        return Exit::unusable;
    }
    const Judged& judged = std::get<Judged>(result);
    print(report::check_text(document, judged.situation(), judged.judgement(), style,
                             {.quiet = options.quiet}));
    if (many && !options.quiet) print("\n");
    return fails(judged.judgement(), options.fail_on) ? Exit::found : Exit::good;
}

}  // namespace

int run_check(const CheckOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const PlanList plans = find_plans(options.plans);
    for (const std::string& fault : plans.faults) print_error("benchfeed: " + report::harmless(fault) + "\n");
    Exit worst = plans.faults.empty() ? Exit::good : Exit::unusable;
    std::size_t good_plans = 0, found_plans = 0, unusable_plans = 0;
    const bool many = plans.paths.size() > 1;
    for (const std::string& path : plans.paths) {
        const Exit exit = check_one(path, options, catalogue, many, style);
        worst = std::max(worst, exit);
        ++(exit == Exit::good ? good_plans : exit == Exit::found ? found_plans : unusable_plans);
    }
    if (many)
        print(fmt::format("{} plans: {} without a finding at the level asked for, {} with, {} unreadable\n",
                          plans.paths.size(), good_plans, found_plans, unusable_plans));
    return worst;
}

}  // namespace benchfeed::cli
