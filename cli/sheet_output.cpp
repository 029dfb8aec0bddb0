#include "cli/sheet_output.hpp"

#include <fmt/format.h>

#include "cli/files.hpp"
#include "cli/pdf.hpp"

namespace benchfeed::cli {

namespace {

Exit print_svg(const report::Pages& pages, std::size_t page) {
    if (page > pages.pages.size()) {
        print_error(
            fmt::format("benchfeed: --page {}: the sheet has {} on this paper\n", page, pages.pages.size()));
        return Exit::unusable;
    }
    print(report::sheet_svg(pages, page));
    return Exit::good;
}

Exit print_pdf(const report::Pages& pages) {
    const PdfOrFault pdf = pdf_of(pages);
    if (!pdf.document) {
        print_error("benchfeed: " + pdf.fault + "\n");
        return Exit::unusable;
    }
    print(*pdf.document);
    return Exit::good;
}

}  // namespace

Exit print_sheet(const report::Sheet& sheet, const CardOptions& options, const report::Style& style) {
    const report::Paper& paper = *report::paper_of(options.paper);
    if (options.format == "svg") return print_svg(report::pages_of(sheet, paper), options.page);
    if (options.format == "pdf") return print_pdf(report::pages_of(sheet, paper));
    report::Style columns = style;
    if (options.columns > 0) columns.width = options.columns;
    print(options.format == "html" ? report::sheet_html(sheet, paper) : report::sheet_text(sheet, columns));
    return Exit::good;
}

}  // namespace benchfeed::cli
