// Text of a plan: which loads may run at once.
//
// Plans are kept small and the search short: with a power factor on every load the answer takes a time that
// doubles with each of them, which would find nothing else.
#include <benchfeed/advice/together.hpp>

#include <benchfeed/report/together_text.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

constexpr std::size_t most_loads = 10;

bool within(const std::vector<plan::Index>& small, const std::vector<plan::Index>& large) {
    return std::includes(large.begin(), large.end(), small.begin(), small.end());
}

/// Both lists hold sets of which none is part of another; nothing forbidden is part of what is allowed.
void must_agree(const advice::TogetherAnswer& answer) {
    for (const advice::ChosenSet& forbidden : answer.forbidden.sets)
        for (const advice::ChosenSet& allowed : answer.largest.sets)
            fuzz::must(!within(forbidden.loads, allowed.loads));
    for (const auto* list : {&answer.largest.sets, &answer.forbidden.sets})
        for (std::size_t a = 0; a < list->size(); ++a)
            for (std::size_t b = 0; b < list->size(); ++b)
                fuzz::must(a == b || !within((*list)[a].loads, (*list)[b].loads));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto result = check(text::Document("a plan", std::string(fuzz::text_of(data, size))),
                              fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged || judged->situation().network.loads.size() > most_loads) return 0;
    const auto s = judged->situation();
    const auto& judgement = judged->judgement();
    const auto answer = advice::together(s, judgement, {.most_sets = 20, .most_steps = 20'000});
    must_agree(answer);
    fuzz::must(answer.sets.size() == s.plan.sets.size());
    for (const advice::PlanSet& set : answer.sets)
        if (set.answer == advice::Together::yes)
            for (const rules::Outcome& o : judgement.outcomes)
                fuzz::must(o.set != set.set || o.verdict != rules::Verdict::fail);
    if (size % 2 == 0)
        fuzz::must_be_clean(report::together_text(s, judgement, answer, {}, {80, false}));
    else
        fuzz::must_be_clean(report::together_json(s, judgement, answer, {}, "0"));
    return 0;
}
