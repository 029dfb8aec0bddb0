// Arguments -> a command. CLI11 is included here and nowhere else: it takes long to compile.
#include <sys/ioctl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdlib>
#include <map>

#include "cli/commands.hpp"
#include "version.hpp"

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

bool wants_colour(Colour colour) {
    if (colour != Colour::automatic) return colour == Colour::always;
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
    app.fallthrough();

    cli::CheckOptions check;
    CLI::App* check_command = app.add_subcommand(
        "check", "judge plans: worst harm first, then amps, findings, what was not checked");
    check_command->add_option("PLAN", check.plans, "plan files, folders, or - for standard input")
        ->required();
    check_command
        ->add_option("--set", check.overrides,
                     "replace one value for a what-if: box.junction.cable.length=\"3 m\"")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    check_command
        ->add_option("--try", check.tries,
                     "a table of one value over a range or a list: box.junction.cable.length=\"1 m to 30 m\"")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUES ...");
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

    cli::TogetherOptions together;
    CLI::App* together_command =
        app.add_subcommand("together", "which loads may run together, and which must not");
    together_command->add_option("PLAN", together.plan, "plan file, or - for standard input")->required();
    together_command->add_option("--set", together.overrides, "replace one value for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    together_command->add_flag("--all", together.all, "list up to 10 000 sets instead of 20");
    together_command->add_flag("--room", together.room, "and the largest further load, by set and place");
    const std::map<std::string, bool> text_or_json{{"text", false}, {"json", true}};
    together_command->add_option("--format", together.json, "text or json")
        ->transform(CLI::CheckedTransformer(text_or_json))
        ->option_text("FORMAT");

    cli::SizeOptions size;
    CLI::App* size_command = app.add_subcommand("size", "the least copper with which every rule holds");
    size_command->add_option("PLAN", size.plan, "plan file, or - for standard input")->required();
    size_command->add_option("--set", size.overrides, "replace one value for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    size_command->add_option("--price", size.prices, "least cost by this price list instead of least copper")
        ->option_text("FILE");
    size_command->add_option("--write", size.write, "write the plan with the chosen sections")
        ->option_text("OUT");
    size_command->add_option("--format", size.json, "text or json")
        ->transform(CLI::CheckedTransformer(text_or_json))
        ->option_text("FORMAT");

    std::string rule, table;
    CLI::App* explain_command = app.add_subcommand("explain", "print the page of a rule");
    explain_command->add_option("RULE", rule, "rule id, such as heat.plug-overloaded")->required();
    CLI::App* rules_command = app.add_subcommand("rules", "list the rules");
    CLI::App* tables_command = app.add_subcommand("tables", "list the published figures, or print one table");
    tables_command->add_option("ID", table, "table id, such as iec-b52-2");

    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& e) {
        return app.exit(e);
    } catch (const CLI::ParseError& e) {
        app.exit(e);
        return cli::Exit::unusable;
    }
    const report::Style style{terminal_width(), wants_colour(colour)};
    if (strict) check.fail_on = FailOn::caution;
    if (*check_command && !check.tries.empty()) return cli::run_try(check, style);
    if (*check_command) return cli::run_check(check, style);
    if (*together_command) return cli::run_together(together, style);
    if (*size_command) return cli::run_size(size, style);
    if (*explain_command) return cli::run_explain(rule, style);
    if (*rules_command) return cli::run_rules(style);
    if (*tables_command) return cli::run_tables(table, style);
    return cli::Exit::unusable;
}
