// Arguments -> a command. CLI11 is included here and nowhere else: it takes long to compile.
#include <sys/ioctl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdlib>
#include <map>

#include "cli/commands.hpp"
#include "cli/description.hpp"
#include "cli/files.hpp"
#include "report/sheet.hpp"

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

/// "{text,json}" in the name of an option's type, as its validator writes it; transformers add "->0" to each.
std::vector<std::string> choices_of(const CLI::Option& option) {
    const std::string type = option.get_type_name();
    const auto from = type.find('{');
    std::vector<std::string> choices;
    if (from == std::string::npos) return choices;
    for (const std::string& word : CLI::detail::split(type.substr(from + 1, type.find('}') - from - 1), ','))
        choices.push_back(word.substr(0, word.find("->")));
    return choices;
}

/// What the ids are of which the parser knows only the name.
std::vector<std::string> ids_of(const std::string& argument) {
    std::vector<std::string> ids;
    if (argument == "RULE")
        for (const auto& rule : rules::registry()) ids.emplace_back(rule.id);
    if (argument == "ID")
        for (const auto id : tables::Catalogue().ids()) ids.emplace_back(id);
    return ids;
}

cli::OptionInfo described(const CLI::Option& option) {
    cli::OptionInfo info;
    info.name = option.get_name();
    if (option.get_items_expected_max() > 0) {
        const std::string text = option.get_option_text();
        info.value = text.empty() ? "VALUE" : text.substr(0, text.find(' '));
    }
    info.about = option.get_description();
    info.choices = choices_of(option);
    info.file = info.value == "FILE";
    return info;
}

cli::CommandInfo described(const CLI::App& command) {
    cli::CommandInfo info{command.get_name(), command.get_description(), command.get_footer(), {}, {}};
    for (const CLI::Option* option : command.get_options()) {
        const std::string name = option->get_name();
        if (name == "--help" || name == "-h,--help") continue;
        if (name.starts_with('-')) {
            info.options.push_back(described(*option));
            continue;
        }
        auto choices = choices_of(*option);
        if (choices.empty()) choices = ids_of(name);
        const bool file = name == "PLAN" || name == "OLD" || name == "NEW" || name == "FILE";
        info.arguments.push_back({name, option->get_description(), std::move(choices), file,
                                  option->get_items_expected_max() > 1, option->get_required()});
    }
    return info;
}

/// One description for --help, completions and the man page.
cli::ProgramInfo described_program(const CLI::App& app) {
    cli::ProgramInfo info{app.get_name(), app.get_description(), app.get_footer(), version, {}, {}};
    for (const CLI::Option* option : app.get_options())
        if (option->get_name() != "--version" && option->get_name().find("--help") == std::string::npos)
            info.options.push_back(described(*option));
    for (const CLI::App* command : app.get_subcommands({})) info.commands.push_back(described(*command));
    return info;
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
    std::vector<std::string> formats{"text"};
    for (const auto& format : report::machine_formats()) formats.emplace_back(format.name);
    check_command->add_option("--format", check.format, "text, or one that programs read")
        ->check(CLI::IsMember(formats))
        ->option_text("FORMAT");
    check_command->add_option("--report", check.report, "and one HTML page with drawings, of one plan")
        ->excludes("--try")
        ->option_text("FILE");
    check_command
        ->add_option("--jobs", check.jobs, "plans judged at the same time; as many as there are cores")
        ->check(CLI::Range(1u, 1024u))
        ->option_text("N");

    check_command->footer(
        "A folder stands for all .toml files below it. Every level of --fail-on adds to the one before.\n"
        "Examples:\n"
        "  benchfeed check bench.toml\n"
        "  benchfeed check bench.toml --set box.junction.cable.length=\"8 m\"\n"
        "  benchfeed check bench.toml --report bench.html\n"
        "  benchfeed check benches/ --format sarif --output report.sarif\n"
        "  benchfeed check --strict --quiet benches/*.toml");

    cli::CompareOptions compare;
    CLI::App* compare_command = app.add_subcommand(
        "compare", "what differs between two plans, which verdicts moved, what to test again");
    compare_command->add_option("OLD", compare.before, "the plan as it was")->required();
    compare_command->add_option("NEW", compare.after, "the plan as it shall be")->required();
    compare_command->add_option("--set", compare.overrides, "replace one value of NEW for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    compare_command->add_option("--format", compare.format, "text or json")
        ->check(CLI::IsMember(text_or_json))
        ->option_text("FORMAT");
    bool fail_on_worse = false, not_on_worse = false;
    CLI::Option* fail_flag = compare_command->add_flag("--fail-on-worse", fail_on_worse,
                                                       "exit 1 when something got worse (default)");
    compare_command->add_flag("--no-fail-on-worse", not_on_worse, "exit 0 even if something got worse")
        ->excludes(fail_flag);
    compare_command->footer(
        "Examples:\n"
        "  benchfeed compare bench.toml bench-with-planer.toml\n"
        "  benchfeed compare bench.toml bench.toml --set box.junction.cable.length=\"8 m\"");
    std::string region;
    CLI::App* new_command =
        app.add_subcommand("new", "print a commented plan to begin with, in which everything is a question");
    new_command->add_option("--region", region, "whose practice: EU, UK, US, CH or AU")
        ->required()
        ->option_text("REGION");
    new_command->footer("Example:\n  benchfeed new --region EU --output bench.toml");
    std::string shell;
    CLI::App* completions_command =
        app.add_subcommand("completions", "print completions for a shell, or the manual page");
    completions_command->add_option("SHELL", shell, "bash, zsh, fish or man")
        ->required()
        ->check(CLI::IsMember(std::vector<std::string>{"bash", "zsh", "fish", "man"}));
    completions_command->footer(
        "Examples:\n"
        "  benchfeed completions bash --output /etc/bash_completion.d/benchfeed\n"
        "  benchfeed completions man --output benchfeed.1");

    cli::TogetherOptions together;
    CLI::App* together_command =
        app.add_subcommand("together", "which loads may run together, and which must not");
    together_command->add_option("PLAN", together.plan, "plan file, or - for standard input")->required();
    together_command->add_option("--set", together.overrides, "replace one value for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    together_command->add_flag("--all", together.all, "list up to 10 000 sets instead of 20");
    together_command->add_flag("--room", together.room, "and the largest further load, by set and place");
    const std::map<std::string, bool> wants_json{{"text", false}, {"json", true}};
    together_command->add_option("--format", together.json, "text or json")
        ->transform(CLI::CheckedTransformer(wants_json))
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
        ->transform(CLI::CheckedTransformer(wants_json))
        ->option_text("FORMAT");

    cli::CardOptions card;
    CLI::App* card_command =
        app.add_subcommand("card", "the sheet for the cabinet: isolation, sets, outlets, cables, tests");
    card_command->add_option("PLAN", card.plan, "plan file, or - for standard input")->required();
    card_command->add_option("--set", card.overrides, "replace one value for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    card_command
        ->add_option("--sheet", card.sheet,
                     "card, diagram (alone and large), or wiring: which core ends at which terminal")
        ->check(CLI::IsMember(std::vector<std::string>{"card", "diagram", "wiring"}))
        ->option_text("SHEET");
    card_command->add_option("--format", card.format, "text, html (to print) or svg")
        ->check(CLI::IsMember(std::vector<std::string>{"text", "html", "svg"}))
        ->option_text("FORMAT");
    card_command->add_option("--paper", card.paper, "of html and svg; A4 where nothing is said")
        ->check(CLI::IsMember(report::paper_words()))
        ->option_text("PAPER");
    card_command->add_option("--columns", card.columns, "width of text; that of the terminal, or 80")
        ->check(CLI::Range(40u, 400u))
        ->option_text("N");
    card_command->footer(
        "A plan with fails gives a sheet that says so in its first lines, and exit code 1.\n"
        "Examples:\n"
        "  benchfeed card bench.toml\n"
        "  benchfeed card bench.toml --format html --paper A5 --output card.html\n"
        "  benchfeed card bench.toml --sheet diagram --format html --paper A5 --output diagram.html\n"
        "  benchfeed card bench.toml --sheet wiring");

    cli::PartsOptions parts;
    CLI::App* parts_command = app.add_subcommand(
        "parts", "what to buy: cable with its cuts, plugs, outlets, switches, boxes, small parts");
    parts_command->add_option("PLAN", parts.plan, "plan file, or - for standard input")->required();
    parts_command->add_option("--set", parts.overrides, "replace one value for a what-if")
        ->allow_extra_args(false)
        ->option_text("PATH=VALUE ...");
    parts_command
        ->add_option("--allow", parts.allowances,
                     "replace what is added: free-end, bends, service-loop, clip-spacing, waste, ferrules or "
                     "spare-ways, as free-end=\"0.3 m\"")
        ->allow_extra_args(false)
        ->option_text("NAME=VALUE ...");
    parts_command->add_option("--stock", parts.stock, "list of sold lengths, to pack the cuts into")
        ->option_text("FILE");
    parts_command
        ->add_option("--sold", parts.sold,
                     "sold lengths of every cable that the list does not name: \"10 m, 25 m\"")
        ->option_text("LENGTHS");
    parts_command->add_option("--format", parts.format, "text, csv or json")
        ->check(CLI::IsMember(std::vector<std::string>{"text", "csv", "json"}))
        ->option_text("FORMAT");
    parts_command->footer(
        "A list of sold lengths is TOML: [sold.\"H07RN-F\"] and \"3 x 1.5 mm2\" = [\"5 m\", \"10 m\"].\n"
        "Examples:\n"
        "  benchfeed parts bench.toml --sold \"5 m, 10 m, 25 m\"\n"
        "  benchfeed parts bench.toml --allow waste=\"5 %\" --format csv --output parts.csv");

    std::string rule, table;
    CLI::App* explain_command = app.add_subcommand("explain", "print the page of a rule");
    explain_command->add_option("RULE", rule, "rule id, such as heat.plug-overloaded")->required();
    CLI::App* rules_command = app.add_subcommand("rules", "list the rules");
    CLI::App* tables_command = app.add_subcommand("tables", "list the published figures, or print one table");
    tables_command->add_option("ID", table, "table id, such as iec-b52-2");
    CLI::App* schema_command =
        app.add_subcommand("schema", "print the JSON Schema of plans, for editors (draft 2020-12)");
    std::string format = "text";
    for (CLI::App* command : {rules_command, tables_command})
        command->add_option("--format", format, "text or json")
            ->check(CLI::IsMember(text_or_json))
            ->option_text("FORMAT");

    // Set last: commands made later would inherit it.
    app.footer(
        "Exit codes: 0 nothing reaches the level asked for; 1 something does (compare: something got "
        "worse);\n"
        "2 input or usage that cannot be processed, whatever else was found; 130 interrupted.\n"
        "Environment: NO_COLOR, when set and not empty, keeps colour off a terminal.");

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
    compare.fail_on_worse = !not_on_worse;
    cli::end_clean_on_signals();
    if (!output.empty())
        if (const std::string fault = cli::direct_output(output); !fault.empty()) {
            cli::print_error("benchfeed: " + report::harmless(fault) + "\n");
            return cli::Exit::unusable;
        }
    int exit = cli::Exit::unusable;
    if (*check_command)
        exit = check.tries.empty() ? cli::run_check(check, style) : cli::run_try(check, style);
    if (*together_command) exit = cli::run_together(together, style);
    if (*size_command) exit = cli::run_size(size, style);
    if (*card_command) exit = cli::run_card(card, style);
    if (*parts_command) exit = cli::run_parts(parts, style);
    if (*explain_command) exit = cli::run_explain(rule, style);
    if (*rules_command) exit = cli::run_rules(format, style);
    if (*tables_command) exit = cli::run_tables(table, format, style);
    if (*schema_command) exit = cli::run_schema();
    if (*compare_command) exit = cli::run_compare(compare, style);
    if (*new_command) exit = cli::run_new(region);
    if (*completions_command) exit = cli::run_completions(shell, described_program(app));
    if (const std::string fault = cli::finish_output(); !fault.empty()) {
        cli::print_error("benchfeed: " + report::harmless(fault) + "\n");
        return cli::Exit::unusable;
    }
    return exit;
}
