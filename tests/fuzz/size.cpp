// A price list, a NUL and the text of a plan: the least copper, and the text with it. Without a NUL without
// prices.
//
// Plans are kept small and the search short: every step of it judges a plan.
#include <benchfeed/advice/size.hpp>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/report/size_text.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

constexpr std::size_t most_elements = 40, most_loads = 8;

/// Written into the text, the sizes are judged as they were found.
void must_be_written(const text::Document& document, const Judged& judged, const advice::Sized& sized) {
    const advice::Edits edits = advice::edits_of(sized, judged.plan());
    if (!edits.missing.empty()) return;
    const auto again = check(text::Document("a plan", advice::edited(document, edits.edits)),
                             fuzz::catalogue(), fuzz::words());
    const auto* written = std::get_if<Judged>(&again);
    fuzz::must(written && advice::faults_of(written->judgement()) == sized.uncured);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes = fuzz::text_of(data, size);
    const auto texts = fuzz::split(bytes);
    const text::Document list("prices", texts ? std::string(texts->first) : "");
    const auto prices = advice::read_prices(list);
    if (texts)
        if (const auto* problems = std::get_if<Diagnostics>(&prices)) {
            fuzz::must(!problems->empty());
            fuzz::must_be_printable(list, *problems);
            return 0;
        }
    const text::Document document("a plan", std::string(texts ? texts->second : bytes));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) return 0;
    if (judged->plan().elements.size() > most_elements ||
        judged->situation().network.loads.size() > most_loads)
        return fuzz::leave_out();
    const auto* used = texts ? &std::get<advice::PriceList>(prices) : nullptr;
    const advice::Sized sized = advice::size(judged->situation(), {.prices = used, .most_trials = 40});
    fuzz::must(advice::faults_of(sized.judgement) == sized.uncured);
    must_be_written(document, *judged, sized);
    const auto after = sized.situation(fuzz::catalogue());
    fuzz::must_be_clean(report::size_text(after, sized, {}, {}, used, {80, false}));
    fuzz::must_be_clean(report::size_json(after, sized, {}, {}, used, "0"));
    return 0;
}
