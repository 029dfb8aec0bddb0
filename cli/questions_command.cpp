// benchfeed questions PLAN
#include <benchfeed/report/questions.hpp>

#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"
#include "cli/pdf.hpp"

namespace benchfeed::cli {

int run_questions(const CardOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const auto s = plan.judged->situation();
    const auto& judgement = plan.judged->judgement();
    if (options.format == "json") {
        print(report::questions_json(*plan.document, s, judgement, program));
        return Exit::good;
    }
    const report::Sheet sheet = report::questions_sheet(*plan.document, s, judgement, program);
    const report::Paper& paper = *report::paper_of(options.paper);
    if (options.format == "html") {
        print(report::sheet_html(sheet, paper));
    } else if (options.format == "pdf") {
        const PdfOrFault pdf = pdf_of(report::pages_of(sheet, paper));
        if (!pdf.document) {
            print_error("benchfeed: " + pdf.fault + "\n");
            return Exit::unusable;
        }
        print(*pdf.document);
    } else {
        print(report::sheet_text(sheet, style));
    }
    return Exit::good;
}

}  // namespace benchfeed::cli
