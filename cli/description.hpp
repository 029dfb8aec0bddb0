#pragma once
// The commands and options as data: out of the argument parser, into completions and the man page.
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::cli {

struct OptionInfo {
    std::string name;   ///< "--set"
    std::string value;  ///< "PATH=VALUE"; empty for a flag
    std::string about;
    std::vector<std::string> choices;  ///< of the value; empty: anything
    bool file = false;                 ///< the value is the path of a file
};

struct ArgumentInfo {
    std::string name;  ///< "PLAN"
    std::string about;
    std::vector<std::string> choices;
    bool file = false, many = false, needed = false;
};

struct CommandInfo {
    std::string name, about, more;  ///< `more`: examples, as --help prints them last
    std::vector<ArgumentInfo> arguments;
    std::vector<OptionInfo> options;
};

struct ProgramInfo {
    std::string name, about, more, version;
    std::vector<OptionInfo> options;  ///< of every command
    std::vector<CommandInfo> commands;
};

[[nodiscard]] std::string bash_completion(const ProgramInfo& program);
[[nodiscard]] std::string zsh_completion(const ProgramInfo& program);
[[nodiscard]] std::string fish_completion(const ProgramInfo& program);
/// A page for section 1, for groff's man macros.
[[nodiscard]] std::string man_page(const ProgramInfo& program);
/// The page of one command: benchfeed-check(1).
[[nodiscard]] std::string man_page(const ProgramInfo& program, const CommandInfo& command);

}  // namespace benchfeed::cli
