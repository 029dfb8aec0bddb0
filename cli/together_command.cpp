// benchfeed together PLAN
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include <benchfeed/report/together_text.hpp>
#include <benchfeed/version.hpp>
#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"
#include "cli/progress.hpp"

namespace benchfeed::cli {

namespace {

/// Free outlets, and what the bench's own plugs feed: there another outlet could go.
std::vector<plan::Index> running_places(const rules::Situation& s) {
    std::vector<plan::Index> found;
    for (const plan::Index i : s.network.order) {
        const plan::Index parent = s.plan[i].parent;
        const bool entrance = parent != plan::nowhere && s.network.house[parent] && !s.network.house[i] &&
                              s.plan[i].kind != plan::Kind::load;
        if (entrance) found.push_back(i);
    }
    const auto free = advice::free_outlets(s);
    for (const plan::Index outlet : free)
        if (std::find(found.begin(), found.end(), outlet) == found.end()) found.push_back(outlet);
    return found;
}

}  // namespace

int run_together(const TogetherOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    const auto s = plan.judged->situation();
    const auto& judgement = plan.judged->judgement();
    std::optional<Busy> busy(std::in_place, "looking for sets");
    const auto answer = advice::together(s, judgement,
                                         {.most_sets = options.all ? std::size_t{10'000} : 20,
                                          .most_steps = options.all ? std::size_t{8'000'000} : 400'000});
    std::vector<advice::Headroom> rooms;
    if (options.room)
        for (plan::Index set = 0; set < s.plan.sets.size(); ++set)
            for (const plan::Index place : running_places(s))
                for (const auto stay : {advice::Stay::minutes, advice::Stay::hours})
                    rooms.push_back(advice::headroom(s, judgement, set, place, stay));
    busy.reset();
    print(options.json ? report::together_json(s, judgement, answer, rooms, version)
                       : report::together_text(s, judgement, answer, rooms, style));
    return answer.declared_sets_fit() && !answer.always_broken ? Exit::good : Exit::found;
}

}  // namespace benchfeed::cli
