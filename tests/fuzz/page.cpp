// Text of a plan: the report as one HTML page.
#include <benchfeed/advice/pictures.hpp>
#include <benchfeed/report/check_html.hpp>
#include "door.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const text::Document document("a plan", std::string(fuzz::text_of(data, size)));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) return 0;
    const auto s = judged->situation();
    const auto& judgement = judged->judgement();
    const std::string page =
        report::check_html(document, s, judgement,
                           {advice::load_bars(s, judgement), advice::volt_pictures(s, judgement),
                            advice::start_pictures(s, judgement)},
                           {"fuzz", "0"});
    fuzz::must_be_clean(page);
    // Words of the plan open and close nothing.
    fuzz::must(fuzz::count(page, "<script") == 0);
    for (const std::string_view tag : {"table", "section", "svg", "figure", "ul", "dl"}) {
        const std::string open = "<" + std::string(tag), close = "</" + std::string(tag) + ">";
        fuzz::must(fuzz::count(page, open + ">") + fuzz::count(page, open + " ") == fuzz::count(page, close));
    }
    return 0;
}
