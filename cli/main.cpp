// Arguments -> a command. CLI11 is included here and in the two headers for this file and nowhere else: it
// takes long to compile.
#include <CLI/CLI.hpp>
#include <exception>
#include <map>
#include <new>
#include <span>
#include <sstream>

#include <benchfeed/report/sheet.hpp>
#include "cli/arguments.hpp"
#include "cli/commands.hpp"
#include "cli/common_source.hpp"
#include "cli/described.hpp"
#include "cli/files.hpp"
#include "cli/outcome.hpp"
#include "cli/terminal.hpp"

namespace {

using namespace benchfeed;
using namespace benchfeed::cli;

void describe_new(CLI::App& command, Arguments& to) {
    advice::Answers& known = to.fresh.answers;
    const auto word = [&](const char* name, auto& answer, const char* about, const char* as) {
        command.add_option(name, answer, about)->allow_extra_args(false)->option_text(as);
    };
    word("--region", known.region, "whose practice: EU, UK, US, CH or AU", "REGION");
    word("--supply", known.supply, "\"230/400 V TN-S\"", "WORDS");
    word("--device", known.device, "before the wall outlet: \"B16 30 mA\"", "WORDS");
    word("--outlet", known.outlet, "pattern of the wall outlet: \"CEE 7/3\"", "PATTERN");
    word("--plug", known.plug, "of the bench, its fuse too: \"BS 1363 13 A\"", "PATTERN");
    word("--lead", known.lead, "cord of the bench: \"3 m H07RN-F 3G1.5\"", "WORDS");
    word("--tool", known.tools, "\"saw 1600 W 7.0 A universal\"", "WORDS ...");
    word("--extractor", known.extractors, "\"1200 W starts with saw\"", "WORDS ...");
    word("--load", known.loads, "anything else: \"lamp 20 W light\"", "WORDS ...");
    word("--switch", known.switches, "for all, or one for each: \"2 poles 16(10) A no-volt\"", "WORDS ...");
    command.add_flag("--ask", to.fresh.ask, "ask for the rest, one question at a time");
    command.footer(
        "Examples:\n  benchfeed new --region EU --output bench.toml\n  benchfeed new --ask --output "
        "bench.toml\n"
        "  benchfeed new --region EU --device \"B16 30 mA\" --tool \"saw 1600 W 7.0 A universal\"");
}

void describe_completions(CLI::App& command, Arguments& to) {
    command.add_option("SHELL", to.shell, "bash, zsh, fish or man")
        ->required()
        ->check(CLI::IsMember(std::vector<std::string>{"bash", "zsh", "fish", "man"}));
    command.add_option("--command", to.page_of, "the manual page of one command alone, with man")
        ->option_text("NAME");
    command.footer(
        "Examples:\n"
        "  benchfeed completions bash --output /etc/bash_completion.d/benchfeed\n"
        "  benchfeed completions man --output benchfeed.1\n"
        "  benchfeed completions man --command check --output benchfeed-check.1");
}

void describe_together(CLI::App& command, Arguments& to) {
    add_plan(command, to.together.plan);
    add_set(command, to.together.overrides);
    command.add_flag("--all", to.together.all, "list up to 10 000 sets instead of 20");
    command.add_flag("--room", to.together.room, "and the largest further load, by set and place");
    add_json(command, to.together.json);
}

void describe_size(CLI::App& command, Arguments& to) {
    add_plan(command, to.size.plan);
    add_set(command, to.size.overrides);
    command.add_option("--price", to.size.prices, "least cost by this price list instead of least copper")
        ->option_text("FILE");
    command.add_flag("--cautions", to.size.cautions, "cure what is only a caution as well");
    command.add_option("--write", to.size.write, "write the plan with the chosen sections")
        ->option_text("OUT");
    add_json(command, to.size.json);
}

void describe_card(CLI::App& command, Arguments& to) {
    cli::CardOptions& card = to.card;
    add_plan(command, card.plan);
    add_set(command, card.overrides);
    command
        .add_option("--sheet", card.sheet,
                    "card, diagram (alone and large), or wiring: which core ends at which terminal")
        ->check(CLI::IsMember(std::vector<std::string>{"card", "diagram", "wiring"}))
        ->option_text("SHEET");
    add_format(command, card.format, "text, html (to print), pdf or svg", {"text", "html", "pdf", "svg"});
    command.add_option("--paper", card.paper, "of html, pdf and svg; default A4")
        ->check(CLI::IsMember(report::paper_words()))
        ->option_text("PAPER");
    command.add_option("--page", card.page, "of svg: this page alone; all, one below another, without it")
        ->check(CLI::Range(1u, 1000u))
        ->option_text("N");
    command.add_option("--columns", card.columns, "width of text; that of the terminal, or 80")
        ->check(CLI::Range(30u, 400u))
        ->option_text("N");
    command.footer(
        "A plan with fails gives a sheet that says so in its first lines, and exit code 1.\n"
        "Examples:\n"
        "  benchfeed card bench.toml\n"
        "  benchfeed card bench.toml --format pdf --paper A5 --output card.pdf\n"
        "  benchfeed card bench.toml --sheet diagram --format html --output diagram.html\n"
        "  benchfeed card bench.toml --sheet wiring");
}

void describe_questions(CLI::App& command, Arguments& to) {
    cli::CardOptions& sheet = to.card;
    add_plan(command, sheet.plan);
    add_set(command, sheet.overrides);
    add_format(command, sheet.format, "text, html (to print), pdf or json", {"text", "html", "pdf", "json"});
    command.add_option("--paper", sheet.paper, "of html and pdf; default A4")
        ->check(CLI::IsMember(report::paper_words()))
        ->option_text("PAPER");
    command.footer(
        "In walking order, from the panel to the plates; the rank says what decides most.\n"
        "Examples:\n"
        "  benchfeed questions bench.toml\n"
        "  benchfeed questions bench.toml --format pdf --output questions.pdf");
}

void describe_parts(CLI::App& command, Arguments& to) {
    cli::PartsOptions& parts = to.parts;
    add_plan(command, parts.plan);
    add_set(command, parts.overrides);
    command
        .add_option("--allow", parts.allowances,
                    "replace what is added: free-end, bends, service-loop, clip-spacing, waste, ferrules or "
                    "spare-ways, as free-end=\"0.3 m\"")
        ->allow_extra_args(false)
        ->option_text("NAME=VALUE ...");
    command.add_option("--stock", parts.stock, "list of sold lengths, to pack the cuts into")
        ->option_text("FILE");
    command
        .add_option("--sold", parts.sold,
                    "sold lengths of every cable that the list does not name: \"10 m, 25 m\"")
        ->option_text("LENGTHS");
    add_format(command, parts.format, "text, csv or json", {"text", "csv", "json"});
    command.footer(
        "A list of sold lengths is TOML: [sold.\"H07RN-F\"] and \"3 x 1.5 mm2\" = [\"5 m\", \"10 m\"].\n"
        "Examples:\n"
        "  benchfeed parts bench.toml --sold \"5 m, 10 m, 25 m\"\n"
        "  benchfeed parts bench.toml --allow waste=\"5 %\" --format csv --output parts.csv");
}

void describe_explain(CLI::App& command, Arguments& to) {
    command.add_option("RULE", to.rule, "rule id, such as heat.plug-overloaded")->required();
}

void describe_rules(CLI::App& command, Arguments& to) {
    add_format(command, to.format, "text or json", text_or_json);
}

void describe_tables(CLI::App& command, Arguments& to) {
    command.add_option("ID", to.table.id, "a table, such as iec-b52-2; or cables, patterns or devices");
    command.add_option("--region", to.table.region, "of cables, patterns and devices: those of one region")
        ->option_text("REGION");
    add_format(command, to.table.format, "text or json", text_or_json);
    command.footer("Example:\n  benchfeed tables cables --region UK");
}

void describe_schema(CLI::App& command, Arguments& to) {
    command.add_flag("--common", to.of_common, "of common files instead of plans");
    command.footer(
        "A TOML editor takes it by a first line in the plan: #:schema benchfeed.schema.json\n"
        "Example:\n  benchfeed schema --output benchfeed.schema.json");
}

/// The files that a command reads and writes, besides those of all commands.
struct Files {
    std::vector<std::string> read;
    std::vector<cli::Written> written;
};

struct Command {
    std::string name, about;
    void (*describe)(CLI::App&, Arguments&);
    int (*run)(Arguments&, const report::Style&, const CLI::App&);
    Files (*files)(const Arguments&) = [](const Arguments&) { return Files{}; };
};

const std::vector<Command>& commands() {
    using Style = report::Style;
    using App = CLI::App;
    static const std::vector<Command> list{
        {"check", "judge plans: worst harm first, then amps, findings, what was not checked", describe_check,
         [](Arguments& a, const Style& style, const App&) -> int {
             if (a.strict) a.check.fail_on = FailOn::caution;
             return a.check.tries.empty() ? cli::run_check(a.check, style) : cli::run_try(a.check, style);
         },
         [](const Arguments& a) -> Files {
             std::vector<std::string> read = cli::find_plans(a.check.plans).paths;
             read.push_back(a.check.baseline);
             return {std::move(read), {{"--report", a.check.report, ""}}};
         }},
        {"compare", "what differs between two plans, which verdicts moved, what to test again",
         describe_compare,
         [](Arguments& a, const Style& style, const App&) -> int {
             a.compare.fail_on_worse = !a.not_on_worse;
             return cli::run_compare(a.compare, style);
         },
         [](const Arguments& a) -> Files {
             return {cli::find_plans({a.compare.before, a.compare.after}).paths, {}};
         }},
        {"new", "print a commented plan from what you know of the bench", describe_new,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_new(a.fresh, style); }},
        {"completions", "print completions for a shell, or the manual page", describe_completions,
         [](Arguments& a, const Style&, const App& app) -> int {
             return cli::run_completions(a.shell, a.page_of, cli::described_program(app));
         }},
        {"together", "which loads may run together, and which must not", describe_together,
         [](Arguments& a, const Style& style, const App&) -> int {
             return cli::run_together(a.together, style);
         },
         [](const Arguments& a) -> Files {
             return {{a.together.plan}, {}};
         }},
        {"size", "the least copper with which every rule holds", describe_size,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_size(a.size, style); },
         [](const Arguments& a) -> Files {
             return {{a.size.plan, a.size.prices}, {{"--write", a.size.write, a.size.plan}}};
         }},
        {"card", "the sheet for the cabinet: isolation, sets, outlets, cables, tests", describe_card,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_card(a.card, style); },
         [](const Arguments& a) -> Files {
             return {{a.card.plan}, {}};
         }},
        {"parts", "what to buy: cable with its cuts, plugs, outlets, switches, boxes, small parts",
         describe_parts,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_parts(a.parts, style); },
         [](const Arguments& a) -> Files {
             return {{a.parts.plan, a.parts.stock}, {}};
         }},
        {"questions", "what to look up, in the order of what it decides: a sheet with blanks",
         describe_questions,
         [](Arguments& a, const Style& style, const App&) -> int {
             return cli::run_questions(a.card, style);
         },
         [](const Arguments& a) -> Files {
             return {{a.card.plan}, {}};
         }},
        {"accepted", "what owners live with: every [[accept]] of these plans, and whether it still holds",
         describe_accepted,
         [](Arguments& a, const Style& style, const App&) -> int {
             return cli::run_accepted(a.check, style);
         },
         [](const Arguments& a) -> Files {
             return {cli::find_plans(a.check.plans).paths, {}};
         }},
        {"flatten", "a plan and what it takes from common files as one text, remarks kept", describe_flatten,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_flatten(a.flat, style); },
         [](const Arguments& a) -> Files {
             return {{a.flat}, {}};
         }},
        {"explain", "print the page of a rule", describe_explain,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_explain(a.rule, style); }},
        {"rules", "list the rules", describe_rules,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_rules(a.format, style); }},
        {"tables", "list the published figures, or print one table", describe_tables,
         [](Arguments& a, const Style& style, const App&) -> int { return cli::run_tables(a.table, style); }},
        {"schema", "print the JSON Schema of plans, for editors (draft 2020-12)", describe_schema,
         [](Arguments& a, const Style&, const App&) -> int { return cli::run_schema(a.of_common); }},
    };
    return list;
}

/// Describing every option of every command takes as long as judging a small plan: only commands whose name
/// stands among the words are described, and all of them for completions, which tell about all.
bool is_asked(const Command& command, std::span<char*> words) {
    return std::any_of(words.begin(), words.end(),
                       [&](std::string_view word) { return word == command.name || word == "completions"; });
}

/// Why something that the user has would be lost by this command; "" if nothing would.
std::string what_is_lost(const Command& command, const Arguments& arguments, const std::string& output) {
    const bool into_file = cli::prints_into_file();
    if (output.empty() && arguments.check.report.empty() && arguments.size.write.empty() && !into_file)
        return "";  // nothing is written: folders are not gone through twice
    Files files = command.files(arguments);
    files.written.push_back({"--output", output, ""});
    std::erase_if(files.written, [](const cli::Written& one) { return one.path.empty(); });
    std::erase(files.read, "");
    return cli::what_is_lost(files.written, files.read);
}

/// Run a command whose files nobody loses.
int run(const Command& command, Arguments& arguments, const std::string& output, cli::Colour colour,
        const CLI::App& app) {
    const report::Style style{output.empty() ? cli::terminal_width() : 80,
                              cli::wants_colour(colour, !output.empty())};
    if (const std::string fault = what_is_lost(command, arguments, output); !fault.empty())
        return cli::refused(fault);
    if (!output.empty())
        if (const std::string fault = cli::direct_output(output); !fault.empty()) return cli::refused(fault);
    try {
        return cli::closed(command.run(arguments, style, app));
    } catch (const std::bad_alloc&) {
        cli::discard_output();
        return cli::refused("out of memory");
    } catch (const std::exception& e) {
        cli::discard_output();
        return cli::refused(std::string("internal error: ") + e.what() +
                            ". The mistake is benchfeed's: please report it, with the plan");
    }
}

}  // namespace

int main(int argc, char** argv) {
    cli::keep_standard_streams();
    cli::end_clean_on_signals();
    cli::keep_freed_memory();
    CLI::App app{
        "benchfeed checks the electrics of workbenches with built-in power tools.\n"
        "It advises; local codes and a licensed electrician decide.",
        "benchfeed"};
    app.set_version_flag("--version", std::string("benchfeed ") + version);
    app.require_subcommand(1);
    cli::Colour colour = cli::Colour::automatic;
    const std::map<std::string, cli::Colour> colours{
        {"auto", cli::Colour::automatic}, {"always", cli::Colour::always}, {"never", cli::Colour::never}};
    app.add_option("--color", colour, "auto, always or never")
        ->transform(CLI::CheckedTransformer(colours))
        ->option_text("WHEN");
    std::string output;
    app.add_option("--output", output, "write to a file instead of standard output: whole or not at all")
        ->option_text("FILE");
    std::string root;
    app.add_option("--root", root, "common files are read below this folder alone; the working directory")
        ->option_text("FOLDER");
    app.fallthrough();
    Arguments arguments;
    std::vector<CLI::App*> known;
    for (const Command& command : commands()) {
        known.push_back(app.add_subcommand(command.name, command.about));
        if (is_asked(command, {argv, static_cast<std::size_t>(argc)}))
            command.describe(*known.back(), arguments);
    }
    // Set last: commands made later would inherit it.
    app.footer(
        "Exit codes: 0 nothing reaches the level asked for; 1 something does (compare: something got "
        "worse);\n"
        "2 input or usage that cannot be processed, or a report that cannot be written, whatever else was "
        "found;\n"
        "130 interrupted (128 and the number of the signal).\n"
        "Environment: NO_COLOR, when set and not empty, or TERM=dumb keeps colour off.");

    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& e) {  // --help and --version
        std::ostringstream out;
        const int exit = app.exit(e, out, out);
        cli::print(out.str());
        return cli::closed(exit);
    } catch (const CLI::ParseError& e) {
        app.exit(e);
        return cli::Exit::unusable;
    }
    for (std::size_t i = 0; i < known.size(); ++i)
        if (*known[i]) {
            if (const std::string fault = root.empty() ? "" : cli::set_root(root); !fault.empty())
                return cli::refused(fault);
            return run(commands()[i], arguments, output, colour, app);
        }
    return cli::Exit::unusable;
}
