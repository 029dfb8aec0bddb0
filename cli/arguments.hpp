#pragma once
// Arguments of the commands that take plans by the hundred, as the parser fills them in. For main.cpp alone:
// CLI11 takes long to compile.
#include <CLI/CLI.hpp>
#include <map>
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace benchfeed::cli {

inline const std::vector<std::string> text_or_json{"text", "json"};

/// What the arguments of all commands say.
struct Arguments {
    CheckOptions check;
    bool strict = false;
    CompareOptions compare;
    bool fail_on_worse = false, not_on_worse = false;  // the first is the default: it only excludes the other
    NewOptions fresh;
    std::string shell, page_of;
    TogetherOptions together;
    SizeOptions size;
    CardOptions card;
    PartsOptions parts;
    bool of_common = false;
    TablesOptions table;
    std::string rule, flat;
    std::string format = "text";  // of rules
};

inline CLI::Option* add_plan(CLI::App& command, std::string& plan) {
    return command.add_option("PLAN", plan, "plan file, or - for standard input")->required();
}

inline void add_set(CLI::App& command, std::vector<std::string>& overrides,
                    const std::string& about = "replace one value for a what-if") {
    command.add_option("--set", overrides, about)->allow_extra_args(false)->option_text("PATH=VALUE ...");
}

inline void add_format(CLI::App& command, std::string& format, const std::string& about,
                       const std::vector<std::string>& choices) {
    command.add_option("--format", format, about)->check(CLI::IsMember(choices))->option_text("FORMAT");
}

inline void add_json(CLI::App& command, bool& json) {
    command.add_option("--format", json, "text or json")
        ->transform(CLI::CheckedTransformer(std::map<std::string, bool>{{"text", false}, {"json", true}}))
        ->option_text("FORMAT");
}

inline void add_today(CLI::App& command, std::string& today) {
    command
        .add_option("--today", today,
                    "date against which the last day of acceptances is held; no clock is asked")
        ->check([](const std::string& date) {
            return plan::is_date(date) ? "" : date + " is no date: YYYY-MM-DD";
        })
        ->option_text("YYYY-MM-DD");
}

inline void describe_check(CLI::App& command, Arguments& to) {
    CheckOptions& check = to.check;
    command.add_option("PLAN", check.plans, "plan files, folders, patterns, or - for standard input")
        ->required();
    add_set(command, check.overrides, "replace one value for a what-if: box.junction.cable.length=\"3 m\"");
    command
        .add_option("--try", check.tries,
                    "a table of one value over a range or a list: box.junction.cable.length=\"1 m to 30 m\"")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUES ...");
    const std::map<std::string, FailOn> levels{
        {"fail", FailOn::fail}, {"unknown", FailOn::unknown}, {"caution", FailOn::caution}};
    command
        .add_option("--fail-on", check.fail_on,
                    "exit 1 at: fail (default), unknown, caution; each adds to the one before")
        ->transform(CLI::CheckedTransformer(levels))
        ->option_text("LEVEL");
    command.add_flag("--strict", to.strict, "the same as --fail-on caution");
    CLI::Option* quiet = command.add_flag("--quiet", check.quiet, "print the answer and nothing else");
    CLI::Option* full =
        command
            .add_flag("--full", check.full,
                      "all: places, steps, sources, cures; of JSON every outcome with its steps and sources")
            ->excludes(quiet);
    command
        .add_option("--about", check.about,
                    "all of one thing: load.saw, together.sawing, heat.plug-overloaded")
        ->excludes(quiet)
        ->excludes(full)
        ->option_text("NAME");
    std::vector<std::string> formats{"text"};
    for (const auto& format : report::machine_formats()) formats.emplace_back(format.name);
    formats.emplace_back("markdown");
    add_format(command, check.format, "text, json, sarif or junit; markdown for the page of a CI job",
               formats);
    const std::map<std::string, rules::Verdict> verdicts{{"fail", rules::Verdict::fail},
                                                         {"unknown", rules::Verdict::cannot_judge},
                                                         {"caution", rules::Verdict::caution},
                                                         {"ok", rules::Verdict::ok}};
    command
        .add_option_function<rules::Verdict>(
            "--show", [&check](const rules::Verdict& level) { check.show = level; },
            "report this level and worse, of many plans and in formats for programs")
        ->transform(CLI::CheckedTransformer(verdicts))
        ->option_text("LEVEL");
    command
        .add_option("--baseline", check.baseline,
                    "an earlier SARIF report: say what is new, unchanged or gone")
        ->option_text("FILE");
    command.add_flag("--each", check.each, "of many plans the whole report of each");
    command.add_flag("--by-rule", check.by_rule, "of many plans, how often each rule was found");
    add_today(command, check.today);
    command.add_option("--report", check.report, "also write an HTML page with charts (one plan only)")
        ->excludes("--try")
        ->option_text("FILE");
    command.add_option("--jobs", check.jobs, "plans judged at the same time; default: the number of cores")
        ->check(CLI::Range(1u, 1024u))
        ->option_text("N");
    command.footer(
        "A folder means all .toml files below it; common files among them are read by the plans that "
        "name them.\n"
        "Many plans give a table, worst first. Every level of --fail-on adds to the one before.\n"
        "Examples:\n"
        "  benchfeed check bench.toml\n"
        "  benchfeed check bench.toml --set box.junction.cable.length=\"8 m\"\n"
        "  benchfeed check bench.toml --about load.saw\n"
        "  benchfeed check bench.toml --report bench.html\n"
        "  benchfeed check benches/ --format sarif --output report.sarif\n"
        "  benchfeed check --strict --quiet benches/*.toml");
}

inline void describe_compare(CLI::App& command, Arguments& to) {
    CompareOptions& compare = to.compare;
    command.add_option("OLD", compare.before, "the plan, or the folder of plans, as it was")->required();
    command.add_option("NEW", compare.after, "the plan, or the folder, as it shall be")->required();
    add_set(command, compare.overrides, "replace one value of NEW for a what-if");
    add_format(command, compare.format,
               "text, json, sarif at the values that changed, or markdown for the page of a job",
               {"text", "json", "sarif", "markdown"});
    command
        .add_option("--old-root", compare.old_root,
                    "below it the common files of OLD are read; that of --root")
        ->option_text("FOLDER");
    CLI::Option* fail =
        command.add_flag("--fail-on-worse", to.fail_on_worse, "exit 1 when something got worse (default)");
    command.add_flag("--no-fail-on-worse", to.not_on_worse, "exit 0 even if something got worse")
        ->excludes(fail);
    command.footer(
        "Examples:\n"
        "  benchfeed compare bench.toml bench-with-planer.toml\n"
        "  benchfeed compare before/plans plans --old-root before\n"
        "  benchfeed compare bench.toml bench.toml --set box.junction.cable.length=\"8 m\"");
}

inline void describe_accepted(CLI::App& command, Arguments& to) {
    command.add_option("PLAN", to.check.plans, "plan files, folders, patterns, or - for standard input")
        ->required();
    add_today(command, to.check.today);
    add_format(command, to.check.format, "text or json", text_or_json);
    command.footer(
        "Exit code 1: the last day of one is over.\nExample:\n  benchfeed accepted benches/ --today "
        "2027-01-31");
}

inline void describe_flatten(CLI::App& command, Arguments& to) {
    add_plan(command, to.flat);
    command.footer("Example:\n  benchfeed flatten bench.toml --output archive/bench.toml");
}

}  // namespace benchfeed::cli
