// benchfeed flatten PLAN
#include <benchfeed/advice/flatten.hpp>
#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"

namespace benchfeed::cli {

int run_flatten(const std::string& plan, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan whole = judged_plan(plan, {}, catalogue, style);
    if (!whole.judged) return Exit::unusable;
    const std::string text = advice::flattened(*whole.document, whole.judged->plan());
    const auto again = check(text::Document(plan, text), catalogue);
    const auto* judged = std::get_if<Judged>(&again);
    if (!judged || !advice::judged_alike(judged->plan(), judged->judgement(), whole.judged->plan(),
                                         whole.judged->judgement())) {
        print_error(
            "benchfeed: the text as one is not judged like the plan with its common files; nothing was "
            "written\n");
        return Exit::unusable;
    }
    print(text);
    return Exit::good;
}

}  // namespace benchfeed::cli
