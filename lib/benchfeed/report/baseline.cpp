#include <benchfeed/report/baseline.hpp>

#include <benchfeed/report/json_parts.hpp>

namespace benchfeed::report {

namespace {

/// A text at the end of a way through objects and lists; "" where there is none.
std::string text_at(const Json& json, std::initializer_list<const char*> way) {
    const Json* here = &json;
    for (const char* key : way) {
        if (here->is_array()) here = here->empty() ? nullptr : &here->front();
        if (!here || !here->is_object() || !here->contains(key)) return "";
        here = &(*here)[key];
    }
    return here->is_string() ? here->get<std::string>() : "";
}

/// The file of the plan, which is not always that of the place.
std::string plan_of(const Json& result) {
    const std::string plan = text_at(result, {"properties", "planUri"});
    return plan.empty() ? text_at(result, {"locations", "physicalLocation", "artifactLocation", "uri"})
                        : plan;
}

}  // namespace

Baseline::Baseline(std::string_view sarif) {
    const Json json = Json::parse(sarif, nullptr, false);
    const bool is_one = json.is_object() && json.contains("runs") && json["runs"].is_array();
    if (!is_one) {
        fault_ = "is no SARIF report";
        return;
    }
    for (const Json& run : json["runs"]) {
        if (!run.is_object() || !run.contains("results") || !run["results"].is_array()) continue;
        for (const Json& result : run["results"]) {
            const Key key{plan_of(result), text_at(result, {"partialFingerprints", "outcome/v1"})};
            if (key.second.empty() || text_at(result, {"baselineState"}) == "absent") continue;
            if (!known_.insert(key).second) continue;
            Json kept = result;
            kept["baselineState"] = "absent";
            // Numbers of the earlier list of rules need not be those of this one.
            kept.erase("ruleIndex");
            results_.emplace_back(key, dumped(kept));
        }
    }
}

std::string Baseline::state(const std::string& uri, const std::string& fingerprint) {
    const Key key{uri, fingerprint};
    const std::lock_guard lock(mutex_);
    asked_.insert(key);
    return known_.contains(key) ? "unchanged" : "new";
}

std::vector<std::string> Baseline::absent() const {
    std::vector<std::string> list;
    for (const auto& [key, result] : results_)
        if (!asked_.contains(key)) list.push_back(result);
    return list;
}

}  // namespace benchfeed::report
