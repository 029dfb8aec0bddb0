// benchfeed new --region R
#include <fmt/format.h>

#include <benchfeed/report/starter.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

int run_new(const std::string& region) {
    const std::string_view text = report::starter(region);
    if (text.empty()) {
        std::string known;
        for (const auto one : report::starter_regions())
            known += (known.empty() ? "" : ", ") + std::string(one);
        print_error(fmt::format("benchfeed: there is no starter for region {}; write one of {}\n",
                                report::harmless(region), known));
        return Exit::unusable;
    }
    print(text);
    return Exit::good;
}

}  // namespace benchfeed::cli
