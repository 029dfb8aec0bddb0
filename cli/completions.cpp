// Completions for three shells, written out of the description of the commands.
#include <fmt/format.h>

#include <algorithm>

#include "cli/description.hpp"

namespace benchfeed::cli {

namespace {

std::string joined(const std::vector<std::string>& words, std::string_view between = " ") {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? std::string() : std::string(between)) + word;
    return out;
}

std::string replaced(std::string text, std::string_view what, std::string_view with) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += with.size())
        text.replace(at, what.size(), with);
    return text;
}

std::string command_names(const ProgramInfo& program) {
    std::string out;
    for (const CommandInfo& command : program.commands) out += (out.empty() ? "" : " ") + command.name;
    return out;
}

std::vector<OptionInfo> all_options(const ProgramInfo& program, const CommandInfo& command) {
    std::vector<OptionInfo> all = command.options;
    all.insert(all.end(), program.options.begin(), program.options.end());
    return all;
}

std::string option_names(const std::vector<OptionInfo>& options) {
    std::string out;
    for (const OptionInfo& option : options) out += (out.empty() ? "" : " ") + option.name;
    return out;
}

bool takes_files(const CommandInfo& command) {
    return std::any_of(command.arguments.begin(), command.arguments.end(),
                       [](const ArgumentInfo& a) { return a.file; });
}

std::vector<std::string> argument_choices(const CommandInfo& command) {
    return command.arguments.empty() ? std::vector<std::string>{} : command.arguments.front().choices;
}

std::string bash_values(const OptionInfo& option) {
    if (option.file)
        return fmt::format("            {}) COMPREPLY=($(compgen -f -- \"$cur\")); return ;;\n", option.name);
    if (option.value.empty()) return "";
    return fmt::format("            {}) COMPREPLY=($(compgen -W \"{}\" -- \"$cur\")); return ;;\n",
                       option.name, joined(option.choices));
}

std::string bash_command(const ProgramInfo& program, const CommandInfo& command) {
    const auto options = all_options(program, command);
    std::string out = fmt::format("    {})\n        case $prev in\n", command.name);
    for (const OptionInfo& option : command.options) out += bash_values(option);
    out += "        esac\n        if [[ $cur == -* ]]; then\n";
    out += fmt::format("            COMPREPLY=($(compgen -W \"{} --help\" -- \"$cur\"))\n",
                       option_names(options));
    if (takes_files(command)) {
        out +=
            "        else\n            COMPREPLY=($(compgen -f -X '!*.toml' -- \"$cur\") $(compgen -d -- "
            "\"$cur\"))\n";
    } else if (const auto choices = argument_choices(command); !choices.empty()) {
        out += fmt::format("        else\n            COMPREPLY=($(compgen -W \"{}\" -- \"$cur\"))\n",
                           joined(choices));
    }
    return out + "        fi ;;\n";
}

/// Text inside single quotes of zsh's _arguments: no quotes, brackets or colons of its own.
std::string zsh_text(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '[' || c == ']' || c == ':') out += '\\';
        out += c;
    }
    return replaced(out, "'", "'\\''");
}

std::string zsh_option(const OptionInfo& option) {
    const std::string repeat = option.name == "--set" ? "*" : "";
    if (option.value.empty())
        return fmt::format(" \\\n            '{}[{}]'", option.name, zsh_text(option.about));
    const std::string values = option.file              ? "_files"
                               : option.choices.empty() ? ""
                                                        : "(" + joined(option.choices) + ")";
    return fmt::format(" \\\n            '{}{}=[{}]:{}:{}'", repeat, option.name, zsh_text(option.about),
                       zsh_text(option.value), values);
}

std::string zsh_argument(const ArgumentInfo& argument) {
    const std::string values = argument.file              ? "_files -g \"*.toml(-.) *(-/)\""
                               : argument.choices.empty() ? ""
                                                          : "(" + joined(argument.choices) + ")";
    return fmt::format(" \\\n            '{}:{}:{}'", argument.many ? "*" : "", zsh_text(argument.name),
                       values);
}

std::string fish_text(const std::string& text) {
    return "'" + replaced(replaced(text, "\\", "\\\\"), "'", "\\'") + "'";
}

std::string fish_option(const OptionInfo& option, const std::string& when) {
    std::string out = fmt::format("complete -c benchfeed{} -l {} -d {}", when, option.name.substr(2),
                                  fish_text(option.about));
    if (option.value.empty()) return out + "\n";
    out += option.file ? " -rF" : " -x";
    if (!option.choices.empty()) out += " -a " + fish_text(joined(option.choices));
    return out + "\n";
}

}  // namespace

std::string bash_completion(const ProgramInfo& program) {
    std::string out =
        "# bash completion for benchfeed: source it, or put it into the folder of completions\n"
        "_benchfeed() {\n"
        "    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command= word\n"
        "    COMPREPLY=()\n"
        "    for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n"
        "        case $word in\n" +
        fmt::format("        {}) command=$word; break ;;\n        esac\n    done\n    case $prev in\n",
                    replaced(command_names(program), " ", "|"));
    for (const OptionInfo& option : program.options) out += bash_values(option);
    out += "    esac\n    case $command in\n";
    for (const CommandInfo& command : program.commands) out += bash_command(program, command);
    out += fmt::format("    *) COMPREPLY=($(compgen -W \"{} {} --help --version\" -- \"$cur\")) ;;\n",
                       command_names(program), option_names(program.options));
    return out + "    esac\n}\ncomplete -o filenames -F _benchfeed benchfeed\n";
}

std::string zsh_completion(const ProgramInfo& program) {
    std::string out =
        "#compdef benchfeed\n"
        "# zsh completion for benchfeed: put it into a folder of $fpath as _benchfeed\n"
        "_benchfeed() {\n"
        "    local context state state_descr line\n    typeset -A opt_args\n    local -a commands\n    "
        "commands=(\n";
    for (const CommandInfo& command : program.commands)
        out += fmt::format("        '{}:{}'\n", command.name, zsh_text(command.about));
    out += "    )\n    _arguments -C '1:command:->command' '*::argument:->argument'";
    for (const OptionInfo& option : program.options) out += zsh_option(option);
    out +=
        "\n    case $state in\n    command) _describe command commands ;;\n    argument)\n        case "
        "$line[1] in\n";
    for (const CommandInfo& command : program.commands) {
        out += fmt::format("        {})\n            _arguments", command.name);
        for (const OptionInfo& option : all_options(program, command)) out += zsh_option(option);
        for (const ArgumentInfo& argument : command.arguments) out += zsh_argument(argument);
        out += " ;;\n";
    }
    return out +
           "        esac ;;\n    esac\n}\nif [[ $funcstack[1] = _benchfeed ]]; then\n    _benchfeed "
           "\"$@\"\nelse\n    "
           "compdef _benchfeed benchfeed\nfi\n";
}

std::string fish_completion(const ProgramInfo& program) {
    const std::string names = command_names(program);
    const std::string none = fmt::format(" -n 'not __fish_seen_subcommand_from {}'", names);
    std::string out =
        "# fish completion for benchfeed: put it into a folder of $fish_complete_path\ncomplete -c benchfeed "
        "-f\n";
    for (const OptionInfo& option : program.options) out += fish_option(option, "");
    for (const CommandInfo& command : program.commands) {
        out += fmt::format("complete -c benchfeed{} -a {} -d {}\n", none, command.name,
                           fish_text(command.about));
        const std::string here = fmt::format(" -n '__fish_seen_subcommand_from {}'", command.name);
        for (const OptionInfo& option : command.options) out += fish_option(option, here);
        if (takes_files(command)) out += fmt::format("complete -c benchfeed{} -F\n", here);
        if (const auto choices = argument_choices(command); !choices.empty())
            out += fmt::format("complete -c benchfeed{} -a {}\n", here, fish_text(joined(choices)));
    }
    return out;
}

}  // namespace benchfeed::cli
