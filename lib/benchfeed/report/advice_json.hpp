#pragma once
// What the JSON writers of advice share. Not for use outside this folder.
#include <benchfeed/advice/conditions.hpp>
#include <benchfeed/report/json_parts.hpp>

namespace benchfeed::report {

inline Json paths_json(const rules::Situation& s, const std::vector<plan::Index>& elements) {
    Json list = Json::array();
    for (const plan::Index element : elements) list.push_back(s.plan[element].path());
    return list;
}
/// Rule, place, value and limit.
inline Json broken_json(const rules::Situation& s, const rules::Judgement& judgement,
                        const std::optional<advice::Broken>& broken) {
    if (!broken) return nullptr;
    const rules::Limit& limit = judgement.limits[broken->limit];
    const rules::Rule& rule = rules::registry()[limit.rule];
    return {{"rule", std::string(rule.id)},
            {"harm", std::string(rules::words(rule.harm))},
            {"at", s.plan[limit.at.index].path()},
            {"part", std::string(rules::words(limit.part))},
            {"value", measure_json(broken->evaluated.value)},
            {"limit", measure_json(limit.edge)},
            {"bound", limit.bound == rules::Bound::at_most ? "at most" : "at least"}};
}

}  // namespace benchfeed::report
