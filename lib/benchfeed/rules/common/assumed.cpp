// plan.assumed: values that were taken for granted, each printed once.
#include <benchfeed/rules/noted.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::assumed {
namespace {

Yield look(const Situation& s) {
    return caution_if(anything_assumed(s));
}

Explanation explain(const Situation& s, const Outcome&, const Limit*) {
    Explanation e;
    const auto groups = noted(s).assumed;
    const std::size_t count = count_of(groups);
    e.headline = std::to_string(count) + (count == 1 ? " value is assumed" : " values are assumed");
    e.consequence = "Results depend on these values: confirm or correct each in the plan.";
    for (const Group& group : groups)
        e.questions.push_back({group.paths, group.key + " = " + group.value, ""});
    return e;
}

}  // namespace

const Rule rule{.id = "plan.assumed",
                .title = "values that were assumed",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::assumed
