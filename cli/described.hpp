#pragma once
// What the parser of arguments knows of itself, for completions and manual pages. For main.cpp alone: CLI11
// takes long to compile.
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include <benchfeed/rules/rule.hpp>
#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/version.hpp>
#include "cli/description.hpp"

namespace benchfeed::cli {

/// "{text,json}" in the name of an option's type, as its validator writes it; transformers add "->0" to each.
inline std::vector<std::string> choices_of(const CLI::Option& option) {
    const std::string type = option.get_type_name();
    const auto from = type.find('{');
    std::vector<std::string> choices;
    if (from == std::string::npos) return choices;
    for (const std::string& word : CLI::detail::split(type.substr(from + 1, type.find('}') - from - 1), ','))
        choices.push_back(word.substr(0, word.find("->")));
    return choices;
}

/// What the ids are of which the parser knows only the name.
inline std::vector<std::string> ids_of(const std::string& argument) {
    std::vector<std::string> ids;
    if (argument == "RULE")
        for (const auto& rule : rules::registry()) ids.emplace_back(rule.id);
    if (argument == "ID")
        for (const auto id : tables::Catalogue().ids()) ids.emplace_back(id);
    return ids;
}

inline OptionInfo described(const CLI::Option& option) {
    OptionInfo info;
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

inline CommandInfo described(const CLI::App& command) {
    CommandInfo info{command.get_name(), command.get_description(), command.get_footer(), {}, {}};
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
inline ProgramInfo described_program(const CLI::App& app) {
    ProgramInfo info{app.get_name(), app.get_description(), app.get_footer(), version, {}, {}};
    for (const CLI::Option* option : app.get_options())
        if (option->get_name() != "--version" && option->get_name().find("--help") == std::string::npos)
            info.options.push_back(described(*option));
    for (const CLI::App* command : app.get_subcommands({})) info.commands.push_back(described(*command));
    return info;
}

}  // namespace benchfeed::cli
