// The manual page, written out of the description of the commands.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "cli/description.hpp"

namespace benchfeed::cli {

namespace {

/// Text for roff: backslashes and hyphens as they are, no line that begins like a request.
std::string roff(const std::string& text) {
    std::string out;
    bool line_start = true;
    for (const char c : text) {
        if (line_start && (c == '.' || c == '\'')) out += "\\&";
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
        line_start = c == '\n';
    }
    return out;
}

/// Examples keep their lines.
std::string examples(const std::string& more) {
    return more.empty() ? "" : ".PP\n.nf\n" + roff(more) + "\n.fi\n";
}

std::string option_text(const OptionInfo& option) {
    std::string out = fmt::format(".TP\n\\fB{}\\fR", roff(option.name));
    if (!option.value.empty()) out += fmt::format(" \\fI{}\\fR", roff(option.value));
    out += "\n" + roff(option.about);
    if (!option.choices.empty()) {
        out += ".\nOne of";
        for (std::size_t i = 0; i < option.choices.size(); ++i)
            out += (i == 0 ? " " : ", ") + roff(option.choices[i]);
        out += ".";
    }
    return out + "\n";
}

/// What stands under the heading of a command: its words and options.
std::string command_text(const CommandInfo& command) {
    std::string out = roff(command.about) + ".\n";
    for (const ArgumentInfo& argument : command.arguments)
        if (!argument.about.empty())
            out += fmt::format(".TP\n\\fI{}\\fR\n{}\n", roff(argument.name), roff(argument.about));
    for (const OptionInfo& option : command.options) out += option_text(option);
    return out;
}

std::string synopsis(const CommandInfo& command) {
    std::string out = fmt::format("\\fBbenchfeed {}\\fR", roff(command.name));
    if (!command.options.empty()) out += " [options]";
    for (const ArgumentInfo& argument : command.arguments) {
        const std::string one = fmt::format("\\fI{}\\fR{}", roff(argument.name), argument.many ? " ..." : "");
        out += argument.needed ? " " + one : " [" + one + "]";
    }
    return out;
}

}  // namespace

std::string man_page(const ProgramInfo& program) {
    std::string out = fmt::format(
        ".TH BENCHFEED 1 \"\" \"benchfeed {}\" \"User commands\"\n.SH NAME\nbenchfeed \\- check the "
        "electrics of "
        "workbenches with built\\-in power tools\n.SH SYNOPSIS\n",
        program.version);
    for (std::size_t i = 0; i < program.commands.size(); ++i)
        out += (i > 0 ? ".br\n" : "") + synopsis(program.commands[i]) + "\n";
    out += ".SH DESCRIPTION\n" + roff(program.about) + "\n.SH COMMANDS\n";
    for (const CommandInfo& command : program.commands) {
        out += fmt::format(".SS {}\n{}", synopsis(command), command_text(command));
        out += examples(command.more);
    }
    out += ".SH OPTIONS OF EVERY COMMAND\n";
    for (const OptionInfo& option : program.options) out += option_text(option);
    out += ".SH EXIT STATUS\n" + examples(program.more);
    return out;
}

std::string man_page(const ProgramInfo& program, const CommandInfo& command) {
    std::string title = "BENCHFEED-" + command.name;
    std::transform(title.begin(), title.end(), title.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    std::string out = fmt::format(
        ".TH {} 1 \"\" \"benchfeed {}\" \"User commands\"\n.SH NAME\nbenchfeed\\-{} \\- {}\n.SH "
        "SYNOPSIS\n{}\n"
        ".SH DESCRIPTION\n{}",
        roff(title), program.version, roff(command.name), roff(command.about), synopsis(command),
        command_text(command));
    if (!command.more.empty()) out += ".SH EXAMPLES\n" + examples(command.more);
    out += ".SH OPTIONS OF EVERY COMMAND\n";
    for (const OptionInfo& option : program.options) out += option_text(option);
    return out + ".SH EXIT STATUS\n" + examples(program.more) + ".SH SEE ALSO\n\\fBbenchfeed\\fR(1)\n";
}

}  // namespace benchfeed::cli
