// SARIF 2.1.0 (OASIS): one run, every rule, a result for each outcome.
#include <fmt/format.h>

#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

using rules::Outcome;
using rules::Verdict;

namespace {

/// "heat.plug-overloaded" -> "HeatPlugOverloaded": SARIF wants a readable name beside the id.
std::string pascal(std::string_view id) {
    std::string out;
    bool start = true;
    for (const char c : id) {
        if (c == '.' || c == '-') {
            start = true;
            continue;
        }
        out += start && c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        start = false;
    }
    return out;
}

std::string sentence(std::string_view words) {
    std::string out = harmless(words);
    if (!out.empty() && out.front() >= 'a' && out.front() <= 'z')
        out.front() = static_cast<char>(out.front() - 'a' + 'A');
    if (!out.empty() && out.back() != '.' && out.back() != '?') out += '.';
    return out;
}

Json text_json(std::string text) {
    Json json = Json::object();
    json["text"] = std::move(text);
    return json;
}

/// Of the page, what stands under one heading.
std::string section(std::string_view page, std::string_view heading) {
    const std::string mark = fmt::format("\n## {}\n", heading);
    const auto from = page.find(mark);
    if (from == std::string_view::npos) return {};
    const auto start = page.find_first_not_of('\n', from + mark.size());
    return std::string(page.substr(start, std::min(page.find("\n\n## ", start), page.size()) - start));
}

Json rule_json(const rules::Rule& rule) {
    const std::string_view page = rules::page(rule.id);
    Json help = text_json(section(page, "How it is judged"));
    help["markdown"] = page;
    Json json{{"id", rule.id},
              {"name", pascal(rule.id)},
              {"shortDescription", text_json(sentence(rule.title))},
              {"fullDescription", text_json(section(page, "Why it hurts"))},
              {"help", std::move(help)}};
    json["defaultConfiguration"]["level"] = "error";
    json["properties"] = {{"tags", Json::array({rules::words(rule.harm)})}, {"essential", rule.essential}};
    return json;
}

/// A path as a URI reference: what is not plain is written by its bytes.
std::string uri_of(std::string_view path) {
    if (path == "standard input") return "stdin";
    std::string out = path.starts_with('/') ? "file://" : "";
    for (const char c : path) {
        const bool plain = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
                           std::string_view("-._~/").find(c) != std::string_view::npos;
        out += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

/// What has no place of its own stands before the first character.
Json location_json(const std::string& path, const Span& place) {
    const Span span = place.nowhere() ? Span{1, 1, 1, 1} : place;
    Json json = Json::object();
    json["physicalLocation"]["artifactLocation"]["uri"] = uri_of(path);
    json["physicalLocation"]["region"] = {{"startLine", span.line},
                                          {"startColumn", span.column},
                                          {"endLine", span.end_line},
                                          {"endColumn", span.end_column}};
    return json;
}

/// Places that belong to the same finding, numbered as SARIF wants it.
void add_related(Json& result, const std::string& path, const std::vector<Label>& labels) {
    int number = 1;
    for (const Label& label : labels) {
        if (label.span.nowhere()) continue;
        Json json = location_json(path, label.span);
        json["id"] = number++;
        if (!label.text.empty()) json["message"] = text_json(sentence(label.text));
        result["relatedLocations"].push_back(std::move(json));
    }
}

struct Level {
    std::string_view kind, level;
};
/// A level other than none belongs to kind fail alone (3.27.10).
Level level_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::fail:
            return {"fail", "error"};
        case Verdict::caution:
            return {"fail", "warning"};
        case Verdict::cannot_judge:
            return {"open", "none"};
        case Verdict::ok:
            break;
    }
    return {"pass", "none"};
}

std::string message_of(const Outcome& o, const rules::Explanation& e) {
    std::string out = sentence(e.headline);
    if (!e.consequence.empty()) out += " " + sentence(e.consequence);
    for (const auto& question : e.questions) {
        if (o.verdict != Verdict::cannot_judge) break;
        out +=
            " " + sentence(question.ask) + (question.look.empty() ? "" : " Look: " + sentence(question.look));
    }
    if (!e.remedies.empty()) out += " Cure: " + sentence(e.remedies.front().text);
    return out;
}

Json result_json(const JudgedPlan& plan, const Outcome& o) {
    const rules::Situation& s = plan.situation;
    const rules::Rule& rule = rules::registry()[o.rule];
    const rules::Explanation e = rules::explain(s, plan.judgement, o);
    const std::string at = rules::path_of(s.plan, o.at), set = rules::set_name(s.plan, o.set);
    const Level level = level_of(o.verdict);
    Json json{{"ruleId", rule.id},
              {"ruleIndex", o.rule},
              {"kind", level.kind},
              {"level", level.level},
              {"message", text_json(message_of(o, e))}};
    Json location =
        location_json(plan.document.path(), e.place.span.nowhere() ? s.plan.head.header : e.place.span);
    location["logicalLocations"] = Json::array({{{"fullyQualifiedName", at}, {"kind", "element"}}});
    json["locations"] = Json::array({std::move(location)});
    add_related(json, plan.document.path(), e.related);
    json["partialFingerprints"]["outcome/v1"] =
        fmt::format("{}/{}/{}/{}", rule.id, at, rules::words(o.part), set);
    if (o.accepted != plan::nowhere) {
        json["suppressions"] = Json::array({{{"kind", "inSource"}, {"status", "accepted"}}});
        json["suppressions"][0]["justification"] = harmless(*s.plan.accepts[o.accepted].reason);
    }
    json["properties"] = {{"part", rules::words(o.part)},
                          {"set", set},
                          {"basis", rules::words(o.basis)},
                          {"value", measure_json(o.value)},
                          {"limit", measure_json(o.edge)}};
    return json;
}

Json unreadable_json(const std::string& path, const Diagnostic& problem) {
    const rules::Rule* rule = rules::find_rule("plan.unreadable");
    std::string message = sentence(problem.message);
    if (!problem.help.empty()) message += " Write: " + sentence(problem.help);
    Json json{{"ruleId", rule->id},
              {"ruleIndex", rule - rules::registry().data()},
              {"kind", "fail"},
              {"level", "error"},
              {"message", text_json(std::move(message))}};
    const Span place = problem.labels.empty() ? Span{} : problem.labels.front().span;
    json["locations"] = Json::array({location_json(path, place)});
    if (problem.labels.size() > 1)
        add_related(json, path, std::vector<Label>(problem.labels.begin() + 1, problem.labels.end()));
    json["partialFingerprints"]["outcome/v1"] =
        fmt::format("{}/{}/{}", rule->id, harmless(problem.path), harmless(problem.message));
    return json;
}

}  // namespace

std::string sarif_opening(const Tool& tool) {
    Json driver{{"name", tool.name}, {"version", tool.version}, {"semanticVersion", tool.version}};
    driver["rules"] = Json::array();
    for (const rules::Rule& rule : rules::registry()) driver["rules"].push_back(rule_json(rule));
    return "{\"$schema\":\"https://json.schemastore.org/"
           "sarif-2.1.0.json\",\"version\":\"2.1.0\",\"runs\":[{\n"
           "\"tool\":{\"driver\":" +
           dumped(driver) + "},\n\"columnKind\":\"unicodeCodePoints\",\n\"results\":[\n";
}

std::string sarif_plan(const JudgedPlan& plan) {
    std::string out;
    for (const Outcome& o : plan.judgement.outcomes)
        out += (out.empty() ? "" : ",\n") + dumped(result_json(plan, o));
    return out;
}

std::string sarif_unreadable(const std::string& path, const Diagnostics& problems) {
    std::string out;
    for (const Diagnostic& problem : problems)
        out += (out.empty() ? "" : ",\n") + dumped(unreadable_json(path, problem));
    return out;
}

std::string sarif_closing(bool all_readable) {
    Json invocation = Json::object();
    invocation["executionSuccessful"] = all_readable;
    return "\n],\n\"invocations\":[" + dumped(invocation) + "]\n}]}\n";
}

}  // namespace benchfeed::report
