// benchfeed card PLAN
#include <benchfeed/report/card.hpp>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"
#include "cli/pdf.hpp"

namespace benchfeed::cli {

int run_card(const CardOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const auto s = plan.judged->situation();
    const auto& judgement = plan.judged->judgement();
    const report::CardOptions made{.what_if = !options.overrides.empty()};
    const auto sheet_of = options.sheet == "wiring"    ? report::wiring_sheet
                          : options.sheet == "diagram" ? report::diagram_sheet
                                                       : report::card_sheet;
    const report::Sheet sheet = sheet_of(*plan.document, s, judgement, program, made);
    const report::Paper& paper = *report::paper_of(options.paper);
    report::Style columns = style;
    if (options.columns > 0) columns.width = options.columns;
    if (options.format == "html") {
        print(report::sheet_html(sheet, paper));
    } else if (options.format == "svg") {
        const report::Pages pages = report::pages_of(sheet, paper);
        if (options.page > pages.pages.size()) {
            print_error(fmt::format("benchfeed: --page {}: the sheet has {} on this paper\n", options.page,
                                    pages.pages.size()));
            return Exit::unusable;
        }
        print(report::sheet_svg(pages, options.page));
    } else if (options.format == "pdf") {
        const PdfOrFault pdf = pdf_of(report::pages_of(sheet, paper));
        if (!pdf.document) {
            print_error("benchfeed: " + pdf.fault + "\n");
            return Exit::unusable;
        }
        print(*pdf.document);
    } else {
        print(report::sheet_text(sheet, columns));
    }
    // A sheet that must not be taped up is no success; it has no list of what may run together either.
    return fails(judgement, FailOn::fail) ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
