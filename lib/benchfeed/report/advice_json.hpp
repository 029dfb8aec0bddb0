#pragma once
// What the JSON writers of advice share. Not for use outside this folder.
#include <cmath>
#include <nlohmann/json.hpp>

#include <benchfeed/advice/conditions.hpp>

namespace benchfeed::report {

/// Six digits: the same bytes from every compiler.
inline nlohmann::ordered_json rounded(double value) {
    if (!std::isfinite(value)) return nullptr;
    if (value == 0) return 0.0;
    const double scale = std::pow(10.0, 5 - std::floor(std::log10(std::abs(value))));
    return std::round(value * scale) / scale;
}
inline nlohmann::ordered_json measure_json(const Measure& measure) {
    if (std::holds_alternative<std::monostate>(measure)) return nullptr;
    return {{"number", rounded(number(measure))}, {"unit", std::string(unit_name(measure))}};
}
template <class Q>
nlohmann::ordered_json optional_json(const std::optional<Q>& quantity) {
    return quantity ? measure_json(Measure(*quantity)) : nlohmann::ordered_json(nullptr);
}
inline nlohmann::ordered_json paths_json(const rules::Situation& s,
                                         const std::vector<plan::Index>& elements) {
    auto list = nlohmann::ordered_json::array();
    for (const plan::Index element : elements) list.push_back(s.plan[element].path());
    return list;
}
/// Rule, place, value and limit.
inline nlohmann::ordered_json broken_json(const rules::Situation& s, const rules::Judgement& judgement,
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
