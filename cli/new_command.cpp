// benchfeed new --region R [--tool ...] [--ask]
#include <fmt/format.h>

#include <benchfeed/advice/phrase.hpp>
#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/outline_toml.hpp>
#include <benchfeed/report/starter.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

namespace {

bool says_nothing(const advice::Answers& a) {
    return (a.supply + a.device + a.outlet + a.plug + a.lead).empty() && a.tools.empty() &&
           a.extractors.empty() && a.loads.empty() && a.switches.empty();
}

/// "EU" for "eu"; "" for a region without a template.
std::string known_region(const std::string& region) {
    for (const auto one : report::starter_regions())
        if (advice::small(one) == advice::small(region)) return std::string(one);
    return "";
}

int no_such_region(const std::string& region) {
    leave_output();
    std::string known;
    for (const auto one : report::starter_regions()) known += (known.empty() ? "" : ", ") + std::string(one);
    print_error(region.empty()
                    ? fmt::format("benchfeed: whose practice? write --region and one of {}\n", known)
                    : fmt::format("benchfeed: there is no region {}; write one of {}\n",
                                  report::harmless(region), known));
    return Exit::unusable;
}

/// What the new plan says when it is checked, on standard error: standard output has the plan.
void print_answer(const text::Document& document, const Judged& judged, const report::Style& style) {
    print_error("\n" + report::check_text(document, judged.situation(), judged.judgement(), style));
}

}  // namespace

int run_new(const NewOptions& options, const report::Style& style) {
    advice::Answers answers = options.answers;
    const tables::Catalogue catalogue;
    if (!answers.region.empty() || !options.ask) {
        const std::string region = known_region(answers.region);
        if (region.empty()) return no_such_region(answers.region);
        answers.region = region;
    }
    if (options.ask) {
        const auto given = asked(answers, catalogue, style);
        if (!given) {
            leave_output();
            print_error("\nbenchfeed: the questions were left before their end; nothing is written\n");
            return Exit::unusable;
        }
        answers = *given;
    } else if (says_nothing(answers)) {
        print(report::starter(answers.region));
        return Exit::good;
    }
    const auto outline = advice::read_outline(answers, catalogue);
    if (const auto* faults = std::get_if<Diagnostics>(&outline)) {
        for (const Diagnostic& fault : *faults) print_error(report::answer_fault(fault, style));
        leave_output();
        return Exit::unusable;
    }
    const text::Document plan("the new plan",
                              report::outline_toml(std::get<advice::Outline>(outline), catalogue));
    const auto read = check(plan, catalogue);
    if (const auto* problems = std::get_if<Diagnostics>(&read)) {
        print_error(report::wrapped("these answers do not fit together:", "benchfeed: ", "  ", style));
        print_error(report::diagnostics_text(plan, *problems, style));
        leave_output();
        return Exit::unusable;
    }
    print(plan.content());
    if (options.ask) print_answer(plan, std::get<Judged>(read), style);
    return Exit::good;
}

}  // namespace benchfeed::cli
