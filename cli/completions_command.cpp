// benchfeed completions SHELL
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_completions(const std::string& shell, const ProgramInfo& described) {
    if (shell == "bash") print(bash_completion(described));
    if (shell == "zsh") print(zsh_completion(described));
    if (shell == "fish") print(fish_completion(described));
    if (shell == "man") print(man_page(described));
    return Exit::good;
}

}  // namespace benchfeed::cli
