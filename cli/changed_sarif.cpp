#include "cli/changed_sarif.hpp"

#include <algorithm>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/sarif_pieces.hpp>

namespace benchfeed::cli {

namespace {

report::JudgedPlan judged_plan(const PlanNow& now, advice::CureTrials& trials) {
    return {now.document, now.judged.situation(), now.judged.judgement(),
            [](const rules::Outcome& o) { return reaches(o, FailOn::fail); },
            [&now, &trials](const rules::Outcome& o) {
                return advice::cures({now.document, now.catalogue, now.words, now.overrides},
                                     now.judged.situation(), now.judged.judgement(), o, trials);
            }};
}

/// What moved that a finding tells, itself or another part with the same cause.
const rules::Moved* moved_of(const rules::Finding& f, const plan::Plan& plan, const rules::Comparison& c) {
    const auto find = [&](const rules::Outcome& o) {
        const auto it = std::find_if(c.moved.begin(), c.moved.end(),
                                     [&](const rules::Moved& m) { return rules::got_worse(m, plan, o); });
        return it == c.moved.end() ? nullptr : &*it;
    };
    if (const auto* own = find(*f.outcome)) return own;
    for (const auto* told_under : {&f.follows, &f.answers})
        for (const rules::Outcome* o : *told_under)
            if (const auto* same = find(*o)) return same;
    return nullptr;
}

/// Where the first of its reasons is written, one at its own element before others; nowhere: it was taken
/// away.
Span place_of_change(const rules::Moved& moved, const rules::Comparison& c) {
    Span first;
    for (const rules::Difference& d : c.differences) {
        if (std::find(moved.because.begin(), moved.because.end(), d.path) == moved.because.end()) continue;
        for (const auto& field : d.fields) {
            if (field.place.nowhere()) continue;
            if (d.path.starts_with(moved.at)) return field.place;
            if (first.nowhere()) first = field.place;
        }
    }
    return first;
}

}  // namespace

std::string changed_sarif(const PlanNow& now, const rules::Comparison& comparison) {
    advice::CureTrials trials{.left = advice::most_trials(now.judged.plan())};
    const report::JudgedPlan plan = judged_plan(now, trials);
    std::string out;
    for (const rules::Finding& f : rules::findings(plan.situation, plan.judgement)) {
        const rules::Moved* moved = moved_of(f, now.judged.plan(), comparison);
        if (!moved) continue;
        out += (out.empty() ? "" : ",\n") + report::sarif_moved(plan, f, place_of_change(*moved, comparison));
    }
    return out;
}

std::string new_sarif(const PlanNow& now) {
    advice::CureTrials trials{.left = advice::most_trials(now.judged.plan())};
    return report::written(report::sarif_plan, judged_plan(now, trials));
}

}  // namespace benchfeed::cli
