// Arguments -> a command. CLI11 is included here and nowhere else: it takes long to compile.
#include <sys/ioctl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdlib>
#include <map>

#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace {

using namespace benchfeed;

/// Width of the terminal; 80 where there is none.
std::size_t terminal_width() {
    winsize size{};
    if (isatty(STDOUT_FILENO) != 0 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40)
        return std::min<std::size_t>(size.ws_col, 120);
    return 80;
}

enum class Colour : std::uint8_t { automatic, always, never };

bool wants_colour(Colour colour, bool to_file) {
    if (colour != Colour::automatic) return colour == Colour::always;
    if (to_file) return false;
    const char* no_colour = std::getenv("NO_COLOR");
    return isatty(STDOUT_FILENO) != 0 && (no_colour == nullptr || *no_colour == '\0');
}

}  // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_IGN);  // a reader that goes away does not change the answer
    CLI::App app{
        "benchfeed checks the electrics of workbenches with built-in power tools.\n"
        "It advises; local codes and a licensed electrician decide.",
        "benchfeed"};
    app.set_version_flag("--version", std::string("benchfeed ") + version);
    app.require_subcommand(1);
    Colour colour = Colour::automatic;
    const std::map<std::string, Colour> colours{
        {"auto", Colour::automatic}, {"always", Colour::always}, {"never", Colour::never}};
    app.add_option("--color", colour, "auto, always or never")
        ->transform(CLI::CheckedTransformer(colours))
        ->option_text("WHEN");
    std::string output;
    app.add_option("--output", output, "write to a file instead of standard output: whole or not at all")
        ->option_text("FILE");
    app.fallthrough();
    const std::vector<std::string> text_or_json{"text", "json"};

    cli::CheckOptions check;
    CLI::App* check_command = app.add_subcommand(
        "check", "judge plans: worst harm first, then amps, findings, what was not checked");
    check_command->add_option("PLAN", check.plans, "plan files, folders, patterns, or - for standard input")
        ->required();
    check_command
        ->add_option("--set", check.overrides,
                     "replace one value for a what-if: box.junction.cable.length=\"3 m\"")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    const std::map<std::string, FailOn> levels{
        {"fail", FailOn::fail}, {"unknown", FailOn::unknown}, {"caution", FailOn::caution}};
    check_command
        ->add_option("--fail-on", check.fail_on,
                     "exit 1 at: fail (default), unknown, caution; each adds to the one before")
        ->transform(CLI::CheckedTransformer(levels))
        ->option_text("LEVEL");
    bool strict = false;
    check_command->add_flag("--strict", strict, "the same as --fail-on caution");
    check_command->add_flag("--quiet", check.quiet, "print the answer and nothing else");
    std::vector<std::string> formats{"text"};
    for (const auto& format : report::machine_formats()) formats.emplace_back(format.name);
    check_command->add_option("--format", check.format, "text, or one that programs read")
        ->check(CLI::IsMember(formats))
        ->option_text("FORMAT");
    check_command
        ->add_option("--jobs", check.jobs, "plans judged at the same time; as many as there are cores")
        ->check(CLI::Range(1u, 1024u))
        ->option_text("N");

    std::string rule, table;
    CLI::App* explain_command = app.add_subcommand("explain", "print the page of a rule");
    explain_command->add_option("RULE", rule, "rule id, such as heat.plug-overloaded")->required();
    CLI::App* rules_command = app.add_subcommand("rules", "list the rules");
    CLI::App* tables_command = app.add_subcommand("tables", "list the published figures, or print one table");
    tables_command->add_option("ID", table, "table id, such as iec-b52-2");
    std::string format = "text";
    for (CLI::App* command : {rules_command, tables_command})
        command->add_option("--format", format, "text or json")
            ->check(CLI::IsMember(text_or_json))
            ->option_text("FORMAT");

    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& e) {
        return app.exit(e);
    } catch (const CLI::ParseError& e) {
        app.exit(e);
        return cli::Exit::unusable;
    }
    const report::Style style{output.empty() ? terminal_width() : 80, wants_colour(colour, !output.empty())};
    if (strict) check.fail_on = FailOn::caution;
    cli::end_clean_on_signals();
    if (!output.empty())
        if (const std::string fault = cli::direct_output(output); !fault.empty()) {
            cli::print_error("benchfeed: " + report::harmless(fault) + "\n");
            return cli::Exit::unusable;
        }
    int exit = cli::Exit::unusable;
    if (*check_command) exit = cli::run_check(check, style);
    if (*explain_command) exit = cli::run_explain(rule, style);
    if (*rules_command) exit = cli::run_rules(format, style);
    if (*tables_command) exit = cli::run_tables(table, format, style);
    if (const std::string fault = cli::finish_output(); !fault.empty()) {
        cli::print_error("benchfeed: " + report::harmless(fault) + "\n");
        return cli::Exit::unusable;
    }
    return exit;
}
