// benchfeed accepted PLAN...
#include <algorithm>

#include <benchfeed/report/acceptances.hpp>
#include "cli/commands.hpp"
#include "cli/common_source.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_accepted(const CheckOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    plan::Words words = plan_words(catalogue);
    words.today = options.today;
    plan::CommonFiles common(common_source(), words);
    std::vector<report::Acceptance> all;
    Exit exit = Exit::good;
    const auto tell = [&](const std::string& fault) {
        print_error("benchfeed: " + report::harmless(fault) + "\n");
        exit = Exit::unusable;
    };
    const PlanList plans = find_plans(options.plans);
    for (const PlanList::Fault& fault : plans.faults) tell(fault.words);
    for (const std::string& path : plans.paths) {
        FileOrFault file = read_file(path);
        if (!file.content) {
            tell(file.fault);
            continue;
        }
        text::Document document(path == "-" ? "standard input" : path, std::move(*file.content));
        if (plan::is_common(document)) continue;
        const auto answer = check(document, catalogue, words, common);
        if (const auto* judged = std::get_if<Judged>(&answer))
            for (auto& one : report::acceptances(document.path(), judged->plan(), judged->judgement()))
                all.push_back(std::move(one));
        else
            tell(document.path() + " cannot be read: " + std::get<Diagnostics>(answer).front().message);
    }
    print(options.format == "json" ? report::acceptances_json(program, all)
                                   : report::acceptances_text(all, style));
    const bool over = std::any_of(all.begin(), all.end(), [](const report::Acceptance& a) {
        return a.state == report::Acceptance::State::over;
    });
    return exit == Exit::unusable ? exit : over ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
