// Text of a plan: one sheet in one format for each input. Which one follows from its bytes.
#include <benchfeed/report/card.hpp>

#include <array>
#include <numeric>

#include "door.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const text::Document document("a plan", std::string(fuzz::text_of(data, size)));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) return 0;
    constexpr std::array sheets{report::card_sheet, report::diagram_sheet, report::wiring_sheet};
    const std::size_t chosen = std::accumulate(data, data + size, std::size_t{0});
    const report::Sheet sheet = sheets[chosen % 3](document, judged->situation(), judged->judgement(),
                                                   {"fuzz", "0"}, {.what_if = chosen % 2 == 1});
    // Nobody hangs a sheet of a plan that fails onto a cabinet without reading so.
    fuzz::must((sheet.strip == report::Strip::failed) ==
               (judged->judgement().verdict == rules::Verdict::fail));
    const auto papers = report::paper_words();
    const report::Paper& paper = *report::paper_of(papers[chosen / 9 % papers.size()]);
    switch (chosen / 3 % 3) {
        case 0:
            fuzz::must_be_clean(report::sheet_text(sheet, {40 + size % 60, false}));
            break;
        case 1:
            fuzz::must_be_clean(report::sheet_html(sheet, paper));
            break;
        default:
            fuzz::must_be_clean(report::sheet_svg(report::pages_of(sheet, paper)));
            break;
    }
    return 0;
}
