#include "cli/outcome.hpp"

#include <benchfeed/report/style.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int refused(const std::string& fault) {
    print_error("benchfeed: " + report::harmless(fault) + "\n");
    return Exit::unusable;
}

int closed(int exit) {
    const std::string fault = finish_output();
    return fault.empty() ? exit : refused(fault);
}

}  // namespace benchfeed::cli
