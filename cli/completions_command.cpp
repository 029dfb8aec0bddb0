// benchfeed completions SHELL
#include <algorithm>

#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_completions(const std::string& shell, const std::string& of, const ProgramInfo& described) {
    const auto command = std::find_if(described.commands.begin(), described.commands.end(),
                                      [&](const CommandInfo& one) { return one.name == of; });
    if (!of.empty() && (shell != "man" || command == described.commands.end())) {
        print_error(shell != "man"
                        ? "benchfeed: --command is for the manual page: completions man --command check\n"
                        : "benchfeed: there is no command " + report::harmless(of) +
                              "; `benchfeed --help` lists them\n");
        return Exit::unusable;
    }
    if (shell == "bash") print(bash_completion(described));
    if (shell == "zsh") print(zsh_completion(described));
    if (shell == "fish") print(fish_completion(described));
    if (shell == "man") print(of.empty() ? man_page(described) : man_page(described, *command));
    return Exit::good;
}

}  // namespace benchfeed::cli
