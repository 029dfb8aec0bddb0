// Text of a plan, and of overrides: what stands before a NUL is a --set. Read only.
#include <benchfeed/plan/read_plan.hpp>
#include "door.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::string_view text = fuzz::text_of(data, size);
    std::vector<plan::Override> overrides;
    for (std::size_t nul = 0; overrides.size() < 3 && (nul = text.find('\0')) != std::string_view::npos;) {
        overrides.push_back({std::string(text.substr(0, nul))});
        text.remove_prefix(nul + 1);
    }
    const text::Document document("a plan", std::string(text));
    const plan::Reading reading = plan::read_plan(document, fuzz::words(), overrides);
    Diagnostics of_file;
    for (const Diagnostic& problem : reading.problems)
        if (problem.path != "--set") of_file.push_back(problem);
    fuzz::must_be_printable(document, of_file);
    return 0;
}
