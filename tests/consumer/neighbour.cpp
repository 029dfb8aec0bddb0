// Folders named as those of benchfeed, and both of them used.
#include "plan/plan.hpp"
#include "version.hpp"

#include <benchfeed/advice/size.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/check.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/version.hpp>

#include <iostream>
#include <iterator>

#if !defined(CONSUMER_HAS_A_PLAN) || !defined(CONSUMER_HAS_A_VERSION)
#error "the consumer's own headers were not found first"
#endif

// Judges the plan on standard input in the format of programs; prints the version without a plan.
int main(int argc, char**) {
    using namespace benchfeed;
    const report::Tool tool{"neighbour", version};
    if (argc > 1) {
        std::cout << tool.version << "\n";
        return 0;
    }
    const text::Document document("a bench", std::string(std::istreambuf_iterator<char>(std::cin), {}));
    const tables::Catalogue tables;
    const auto result = check(document, tables);
    const auto* judged = std::get_if<Judged>(&result);
    if (judged == nullptr) return 2;
    const auto reaches_fail = [](const rules::Outcome& o) { return reaches(o, FailOn::fail); };
    std::cout << report::json_opening(tool)
              << report::written(report::json_plan,
                                 {document, judged->situation(), judged->judgement(), reaches_fail, {}})
              << report::json_closing(true);
    return fails(judged->judgement(), FailOn::fail) ? 1 : 0;
}
