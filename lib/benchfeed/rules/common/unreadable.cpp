// plan.unreadable: a text that is no plan. The reader finds it, before any rule can look: this entry gives it
// the page and the place among the rules that every report needs.
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::unreadable {
namespace {

Yield look(const Situation&) {
    Yield yield;
    yield.outcomes.emplace_back();  // whoever comes here has been read
    yield.outcomes.back().basis = Basis::practice;
    return yield;
}

Explanation explain(const Situation&, const Outcome&, const Limit*) {
    Explanation e;
    e.headline = "The text can be read as a plan";
    return e;
}

}  // namespace

const Rule rule{.id = "plan.unreadable",
                .title = "a text that cannot be read as a plan",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::unreadable
