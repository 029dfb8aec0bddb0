#include <benchfeed/report/advice_json.hpp>
#include <benchfeed/report/together_text.hpp>
#include <benchfeed/rules/circuits.hpp>

namespace benchfeed::report {

namespace {

std::string word(advice::Together answer) {
    switch (answer) {
        case advice::Together::yes:
            return "allowed";
        case advice::Together::no:
            return "forbidden";
        case advice::Together::turns:
            return "turns";
        case advice::Together::cannot_judge:
            return "cannot judge";
    }
    return "";
}

Json sets_json(const rules::Situation& s, const rules::Judgement& judgement, const advice::ChosenSets& sets,
               bool forbidden) {
    Json list = Json::array();
    for (const auto& set : sets.sets) {
        Json circuits = circuits_json(s, set.running);
        Json choices = Json::array();
        for (const auto& choice : set.choices)
            choices.push_back({{"count", choice.count}, {"of", paths_json(s, choice.of)}});
        Json one{{"loads", paths_json(s, set.loads)},
                 {"choices", std::move(choices)},
                 {"current", circuits.size() == 1 ? measure_json(set.amps) : Json(nullptr)},
                 {"circuits", std::move(circuits)}};
        if (forbidden) {
            one["forbidden_by"] = broken_json(s, judgement, set.broken);
            one["certain"] = set.certain;
        } else {
            one["not_beside"] = paths_json(s, set.not_beside);
        }
        list.push_back(std::move(one));
    }
    return {{"sets", std::move(list)}, {"more", sets.more}, {"stopped_at_bound", sets.stopped}};
}

Json plan_sets_json(const rules::Situation& s, const rules::Judgement& judgement,
                    const advice::TogetherAnswer& answer) {
    Json list = Json::array();
    for (const auto& set : answer.sets) {
        const plan::RunSet& run = s.plan.sets[set.set];
        Json weakest = nullptr;
        if (set.weakest.limit != plan::nowhere) {
            const rules::Limit& limit = judgement.limits[set.weakest.limit];
            weakest = {{"at", s.plan[limit.at.index].path()},
                       {"part", std::string(rules::words(limit.part))},
                       {"current", optional_json(set.value)},
                       {"rating", measure_json(limit.edge)},
                       {"plain_current", measure_json(Measure(rules::plain_amps(s, limit, run.loads)))}};
        }
        list.push_back({{"name", run.name},
                        {"loads", paths_json(s, run.loads)},
                        {"assumed", run.assumed},
                        {"answer", word(set.answer)},
                        {"weakest", std::move(weakest)},
                        {"left", optional_json(set.left)},
                        {"watts_left", optional_json(set.watts_left)},
                        {"forbidden_by", broken_json(s, judgement, set.broken)},
                        {"circuits", circuits_json(s, run.loads)}});
    }
    return list;
}

}  // namespace

std::string together_json(const rules::Situation& s, const rules::Judgement& judgement,
                          const advice::TogetherAnswer& answer, const std::vector<advice::Headroom>& rooms,
                          std::string_view version) {
    const auto& loads = answer.company.loads;
    Json pairs = Json::array();
    for (std::size_t a = 0; a < loads.size(); ++a)
        for (std::size_t b = 0; b < a; ++b)
            pairs.push_back(
                {{"loads", paths_json(s, {loads[b], loads[a]})}, {"answer", word(answer.pairs[a][b])}});
    Json each = Json::array();
    for (std::size_t a = 0; a < loads.size(); ++a) {
        const auto& point = s.network.loads[s.network.load_of[loads[a]]];
        each.push_back({{"at", s.plan[loads[a]].path()},
                        {"current", point.known() ? measure_json(Measure(point.current)) : Json(nullptr)},
                        {"alone", word(answer.pairs[a][a])},
                        {"runs_with_it", paths_json(s, answer.company.joins[a])}});
    }
    Json equals = Json::array();
    for (const auto& group : answer.equals) equals.push_back(paths_json(s, group));
    Json room = Json::array();
    for (std::size_t i = 0; i + 1 < rooms.size(); i += 2)
        room.push_back({{"set", s.plan.sets[rooms[i].set].name},
                        {"at", s.plan[rooms[i].at].path()},
                        {"current", optional_json(rooms[i].most)},
                        {"watts", optional_json(rooms[i].watts)},
                        {"current_for_hours", optional_json(rooms[i + 1].most)},
                        {"watts_for_hours", optional_json(rooms[i + 1].watts)}});
    const Json all{{"format", 1},
                   {"tool", {{"name", "benchfeed"}, {"version", std::string(version)}}},
                   {"path", s.plan.path},
                   {"title", s.plan.head.title.value_or("")},
                   {"always", paths_json(s, answer.company.always)},
                   {"always_forbidden_by", broken_json(s, judgement, answer.always_broken)},
                   {"always_perhaps_forbidden", answer.always_perhaps},
                   {"fails_whatever_runs", answer.fails_whatever_runs},
                   {"loads", std::move(each)},
                   {"equal", std::move(equals)},
                   {"pairs", std::move(pairs)},
                   {"largest_allowed", sets_json(s, judgement, answer.largest, false)},
                   {"smallest_forbidden", sets_json(s, judgement, answer.forbidden, true)},
                   {"sets", plan_sets_json(s, judgement, answer)},
                   {"room", std::move(room)}};
    return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace benchfeed::report
