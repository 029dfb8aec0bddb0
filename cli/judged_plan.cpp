#include "cli/judged_plan.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/common_source.hpp"

namespace benchfeed::cli {

std::string override_faults(const Diagnostics& problems, const std::vector<std::string>& overrides,
                            const report::Style& style) {
    std::string out;
    for (const Diagnostic& problem : problems) {
        if (problem.path != "--set") continue;
        out += report::wrapped(report::harmless(problem.message), "error: ", "       ", style);
        const Span span = problem.labels.empty() ? Span{} : problem.labels.front().span;
        for (const std::string& text : overrides) {
            const bool meant = problem.message.find(text.substr(0, text.find('='))) != std::string::npos ||
                               overrides.size() == 1;
            if (!meant || span.column == 0) continue;
            out += fmt::format("  --set {}\n        {}{}\n", report::harmless(text),
                               std::string(span.column - 1, ' '),
                               std::string(std::max<std::uint32_t>(1, span.end_column - span.column), '^'));
            break;
        }
        if (!problem.help.empty())
            out += report::wrapped(report::harmless(problem.help), "  write: ", "         ", style);
    }
    return out;
}

JudgedPlan judged_plan(const std::string& path, const std::vector<std::string>& overrides,
                       const tables::Catalogue& catalogue, const report::Style& style,
                       const std::string& root) {
    JudgedPlan plan;
    const FileOrFault file = read_file(path);
    if (!file.content) {
        print_error("benchfeed: " + report::harmless(file.fault) + "\n");
        return plan;
    }
    plan.document.emplace(path == "-" ? "standard input" : path, *file.content);
    std::vector<plan::Override> applied;
    for (const std::string& text : overrides) applied.push_back({text});
    const plan::Words words = plan_words(catalogue);
    plan::CommonFiles common(common_source(root), words);
    auto result = check(*plan.document, catalogue, words, common, applied);
    if (const auto* problems = std::get_if<Diagnostics>(&result)) {
        print_error(override_faults(*problems, overrides, style));
        Diagnostics of_file;
        std::copy_if(problems->begin(), problems->end(), std::back_inserter(of_file),
                     [](const Diagnostic& d) { return d.path != "--set"; });
        if (!of_file.empty()) print_error(report::diagnostics_text(*plan.document, of_file, style));
        return plan;
    }
    plan.judged.emplace(std::move(std::get<Judged>(result)));
    return plan;
}

}  // namespace benchfeed::cli
