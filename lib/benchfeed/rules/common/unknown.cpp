// plan.unknown: facts that the plan leaves open, each asked once, with where to look.
#include <benchfeed/rules/noted.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules::unknown {
namespace {

Yield look(const Situation& s) {
    return caution_if(anything_asked(s));
}

Explanation explain(const Situation& s, const Outcome&, const Limit*) {
    Explanation e;
    const auto groups = noted(s).asked;
    const std::size_t count = count_of(groups);
    e.headline = std::to_string(count) + (count == 1 ? " fact is not known" : " facts are not known");
    e.consequence = "What needs them is left open; no value was guessed.";
    for (const Group& group : groups)
        e.questions.push_back(
            {group.count == 1 ? group.paths + "." + group.key : group.key + " of " + group.paths,
             capital(group.meaning) + "?", group.look});
    return e;
}

}  // namespace

const Rule rule{.id = "plan.unknown",
                .title = "facts that the plan leaves open",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::unknown
