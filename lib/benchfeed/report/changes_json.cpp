#include <benchfeed/report/changes.hpp>
#include <benchfeed/report/json_parts.hpp>

namespace benchfeed::report {

namespace {

Json plan_change_json(const PlanChange& p) {
    constexpr std::string_view kinds[] = {"changed", "renamed", "added", "removed", "unreadable"};
    Json json{{"path", p.path},
              {"old_path", p.old_path.empty() ? Json(nullptr) : Json(p.old_path)},
              {"change", kinds[static_cast<std::size_t>(p.kind)]},
              {"reaches", p.worse()}};
    json["counts"] = nullptr;
    if (p.row && p.kind == PlanChange::Kind::added)
        json["counts"] = {
            {"fail", p.row->fails}, {"cannot judge", p.row->open}, {"caution", p.row->cautions}};
    add_comparison(json, p.comparison);
    return json;
}

}  // namespace

std::string changes_json(const Tool& tool, Changes changes) {
    Json json{{"format", 2},          {"tool", tool_json(tool)}, {"old", changes.before},
              {"new", changes.after}, {"same", changes.same},    {"changes", Json::array()}};
    std::string errors;
    for (const PlanChange& p : changes.plans) {
        json["changes"].push_back(plan_change_json(p));
        if (!p.problems.empty()) errors += (errors.empty() ? "" : ",") + json_unreadable(p.path, p.problems);
    }
    std::string out = dumped(json);
    out.pop_back();  // the closing brace: errors are written as those of check
    return out + ",\"errors\":[" + errors + "]}\n";
}

}  // namespace benchfeed::report
