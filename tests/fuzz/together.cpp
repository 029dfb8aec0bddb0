// Text of a plan: which loads may run at once.
//
// Plans are kept small and the search short: with a power factor on every load the answer takes a time that
// doubles with each of them, which would find nothing else.
#include <benchfeed/advice/together.hpp>

#include <benchfeed/report/together_text.hpp>
#include <benchfeed/rules/summary.hpp>
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

/// The text with one set more behind it, judged; nothing where that makes no plan of it.
std::optional<Judged> with_set(std::string_view text, const plan::Plan& plan,
                               const std::vector<plan::Index>& loads) {
    std::string more = "\n[[together]]\nname = \"asked for\"\nloads = [";
    for (const plan::Index load : loads) more += "\"" + plan[load].name + "\", ";
    auto result =
        check(text::Document("a plan", std::string(text) + more + "]\n"), fuzz::catalogue(), fuzz::words());
    if (auto* judged = std::get_if<Judged>(&result)) return std::move(*judged);
    return std::nullopt;
}

/// What check says of a set once it is written down: allowed ones hold, forbidden ones fail. Two of each
/// list, since each is a plan judged.
void must_be_so_when_written(std::string_view text, const plan::Plan& plan,
                             const advice::TogetherAnswer& answer) {
    if (answer.always_broken) return;
    for (const auto* list : {&answer.largest.sets, &answer.forbidden.sets})
        for (std::size_t i = 0; i < std::min<std::size_t>(list->size(), 2); ++i) {
            const bool allowed = list == &answer.largest.sets;
            // A plan has no word for a switch that keeps off what starts by itself: written, it fails.
            if (!(*list)[i].not_beside.empty()) continue;
            const auto written = with_set(text, plan, (*list)[i].loads);
            if (!written) continue;
            bool fails = false, open = false;
            for (const rules::Outcome& o : written->judgement().outcomes) {
                if (o.limit == plan::nowhere || rules::set_name(written->plan(), o.set) != "asked for")
                    continue;
                fails = fails || o.verdict == rules::Verdict::fail;
                open = open ||
                       (o.verdict == rules::Verdict::cannot_judge && rules::registry()[o.rule].essential);
            }
            fuzz::must(allowed ? !fails && !open : fails);
        }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::text_of(data, size);
    const auto result = check(text::Document("a plan", std::string(text)), fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) return 0;
    if (judged->situation().network.loads.size() > most_loads) return fuzz::leave_out();
    const auto s = judged->situation();
    const auto& judgement = judged->judgement();
    const auto answer = advice::together(s, judgement, {.most_sets = 20, .most_steps = 20'000});
    must_agree(answer);
    must_be_so_when_written(text, s.plan, answer);
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
