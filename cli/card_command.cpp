// benchfeed card PLAN
#include <benchfeed/report/card.hpp>

#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"
#include "cli/sheet_output.hpp"

namespace benchfeed::cli {

int run_card(const CardOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const auto& judgement = plan.judged->judgement();
    const report::CardOptions made{.what_if = !options.overrides.empty()};
    const auto sheet_of = options.sheet == "wiring"    ? report::wiring_sheet
                          : options.sheet == "diagram" ? report::diagram_sheet
                                                       : report::card_sheet;
    const report::Sheet sheet = sheet_of(*plan.document, plan.judged->situation(), judgement, program, made);
    if (const Exit exit = print_sheet(sheet, options, style); exit != Exit::good) return exit;
    // A sheet that must not be taped up is no success; it has no list of what may run together either.
    return fails(judgement, FailOn::fail) ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
