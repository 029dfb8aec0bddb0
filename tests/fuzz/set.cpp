// Overrides, each ended by a NUL, and the text of a plan: judged as a what-if, and told.
#include <benchfeed/report/check_text.hpp>
#include "door.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const fuzz::WhatIf what_if = fuzz::what_if_of(fuzz::text_of(data, size));
    const text::Document document("a plan", std::string(what_if.text));
    const auto result = check(document, fuzz::catalogue(), fuzz::words(), what_if.overrides);
    // Said twice, a change is the same change.
    std::vector<plan::Override> twice = what_if.overrides;
    twice.insert(twice.end(), what_if.overrides.begin(), what_if.overrides.end());
    const auto again = check(document, fuzz::catalogue(), fuzz::words(), twice);
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) {
        fuzz::must(!std::get<Diagnostics>(result).empty());
        fuzz::must(std::holds_alternative<Diagnostics>(again));
        return 0;
    }
    fuzz::must_keep_the_laws(*judged);
    fuzz::must(std::holds_alternative<Judged>(again));
    const auto& outcomes = judged->judgement().outcomes;
    const auto& same = std::get<Judged>(again).judgement().outcomes;
    fuzz::must(std::equal(outcomes.begin(), outcomes.end(), same.begin(), same.end(), fuzz::same_outcome));
    fuzz::must_be_clean(report::check_text(document, judged->situation(), judged->judgement(), {80, false}));
    return 0;
}
