// SARIF 2.1.0 (OASIS): one run, every rule, a result for each cause. Hosts take 25 000 results of a run, show
// 5000, and put each at the line of its first location: so that is the value that somebody would change.
#include <fmt/format.h>

#include <benchfeed/report/baseline.hpp>
#include <benchfeed/report/cause_place.hpp>
#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/report/located.hpp>
#include <benchfeed/report/sarif_pieces.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

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
    if (!path.starts_with('/')) json["physicalLocation"]["artifactLocation"]["uriBaseId"] = "%SRCROOT%";
    json["physicalLocation"]["region"] = {{"startLine", span.line},
                                          {"startColumn", span.column},
                                          {"endLine", span.end_line},
                                          {"endColumn", span.end_column}};
    return json;
}

/// Places that belong to the same finding, numbered as SARIF wants it; a host takes so many.
constexpr std::size_t most_related = 100;
void add_related(Json& result, const std::string& path, const std::vector<Label>& labels) {
    int number = 1;
    for (const Label& label : labels) {
        if (label.span.nowhere() || number > static_cast<int>(most_related)) continue;
        Json json = location_json(label.file.empty() ? path : label.file, label.span);
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

std::string fingerprint(const plan::Plan& plan, const Outcome& o) {
    return fmt::format("{}/{}/{}/{}", rules::registry()[o.rule].id, rules::path_of(plan, o.at),
                       rules::words(o.part), rules::set_name(plan, o.set));
}

std::string message_of(const rules::Situation& s, const rules::Finding& f, const rules::Explanation& e) {
    std::string out = sentence(e.headline);
    if (!e.consequence.empty()) out += " " + sentence(e.consequence);
    for (const auto& question : e.questions) {
        if (f.outcome->verdict != Verdict::cannot_judge) break;
        out +=
            " " + sentence(question.ask) + (question.look.empty() ? "" : " Look: " + sentence(question.look));
    }
    constexpr std::size_t most_named = 8;
    for (const std::string& told : rules::told_under(s, f, most_named)) out += " " + told;
    if (!e.remedies.empty()) out += " Cure: " + sentence(e.remedies.front().text);
    return out;
}

/// Cures that were tried and are nothing but other values in the plan's own text.
void add_fixes(Json& json, const JudgedPlan& plan, const std::vector<rules::Remedy>& tried) {
    for (const rules::Remedy& remedy : tried) {
        Json list = Json::array();
        for (const Replacement& one : replacements(plan.situation, remedy)) {
            const Json location = location_json(plan.document.path(), one.place)["physicalLocation"];
            list.push_back({{"deletedRegion", location["region"]}, {"insertedContent", text_json(one.text)}});
        }
        if (list.empty()) continue;
        Json change = Json::object();
        change["artifactLocation"] =
            location_json(plan.document.path(), {})["physicalLocation"]["artifactLocation"];
        change["replacements"] = std::move(list);
        json["fixes"].push_back({{"description", text_json(sentence(remedy.text))},
                                 {"artifactChanges", Json::array({std::move(change)})}});
    }
}

/// Where a finding is told, and what it leaves for the places beside.
struct Places {
    Label first;
    std::vector<Label> others;
};
Places places_of(const JudgedPlan& plan, const rules::Finding& f, const rules::Explanation& e,
                 const Span& cause) {
    Label own = e.place;
    if (own.span.nowhere()) own.span = plan.situation.plan.head.header;
    Places places{own, e.related};
    if (!cause.nowhere() && !(cause == own.span)) {
        places.first = {cause, ""};
        own.text = own.text.empty() ? "here it shows" : own.text;
        places.others.insert(places.others.begin(), own);
    }
    std::vector<const Outcome*> told = f.follows;
    told.insert(told.end(), f.answers.begin(), f.answers.end());
    for (const Outcome* o : told) {
        Label label = rules::explain(plan.situation, plan.judgement, *o).place;
        if (label.span.nowhere()) continue;
        label.text = rules::in_brief(plan.situation, *o);
        places.others.push_back(std::move(label));
        if (places.others.size() >= most_related) break;
    }
    return places;
}

Json result_json(const JudgedPlan& plan, const rules::Finding& f, Span cause) {
    const Outcome& o = *f.outcome;
    const rules::Situation& s = plan.situation;
    const rules::Rule& rule = rules::registry()[o.rule];
    rules::Explanation e = rules::explain(s, plan.judgement, o);
    // Each cure is judged with the whole plan, which takes its time: fails are worth it.
    const bool tried = o.verdict == Verdict::fail && plan.remedies && o.accepted == plan::nowhere;
    if (tried) e.remedies = plan.remedies(o);
    if (cause.nowhere() && tried) cause = cause_place(s, o, e.remedies);
    const std::string at = rules::path_of(s.plan, o.at), set = rules::set_name(s.plan, o.set);
    const Level level = level_of(o.verdict);
    Json json{{"ruleId", rule.id},
              {"ruleIndex", o.rule},
              {"kind", level.kind},
              {"level", level.level},
              {"message", text_json(message_of(s, f, e))}};
    const Places places = places_of(plan, f, e, cause);
    const Label place = located(plan.document, places.first);
    Json location = location_json(place.file.empty() ? plan.document.path() : place.file, place.span);
    location["logicalLocations"] = Json::array({{{"fullyQualifiedName", at}, {"kind", "element"}}});
    json["locations"] = Json::array({std::move(location)});
    std::vector<Label> others = located(plan.document, places.others);
    if (!place.file.empty()) {  // the plan that suffers by a common file
        others.insert(others.begin(), {s.plan.head.common.span, "the plan that uses it"});
    }
    add_related(json, plan.document.path(), others);
    json["partialFingerprints"]["outcome/v1"] = fingerprint(s.plan, o);
    if (tried) add_fixes(json, plan, e.remedies);
    if (o.accepted != plan::nowhere) {
        json["suppressions"] = Json::array({{{"kind", "inSource"}, {"status", "accepted"}}});
        json["suppressions"][0]["justification"] = harmless(*s.plan.accepts[o.accepted].reason);
    }
    json["properties"] = {{"planUri", uri_of(plan.document.path())},
                          {"part", rules::words(o.part)},
                          {"set", set},
                          {"basis", rules::words(o.basis)},
                          {"value", measure_json(o.value)},
                          {"limit", measure_json(o.edge)}};
    for (const auto* told_under : {&f.follows, &f.answers})
        for (const Outcome* one : *told_under)
            json["properties"]["follows"].push_back(fingerprint(s.plan, *one));
    for (const rules::Index other : f.also)
        json["properties"]["also"].push_back(rules::set_name(s.plan, other));
    return json;
}

/// With what an earlier report said of it, where there is one.
std::string told(Json json, const std::string& path, Baseline* baseline) {
    if (baseline)
        json["baselineState"] = baseline->state(uri_of(path), json["partialFingerprints"]["outcome/v1"]);
    return dumped(json);
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
    const Label place = problem.labels.empty() ? Label{} : problem.labels.front();
    json["locations"] = Json::array({location_json(place.file.empty() ? path : place.file, place.span)});
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

void sarif_plan(const JudgedPlan& plan, const Sink& sink) {
    bool first = true;
    const auto add = [&](const rules::Finding& f) {
        if (f.outcome->verdict < plan.show) return;
        Json json = result_json(plan, f, {});
        sink((first ? "" : ",\n") + told(std::move(json), plan.document.path(), plan.baseline));
        first = false;
    };
    for (const rules::Finding& f : rules::findings(plan.situation, plan.judgement)) add(f);
    for (const rules::Finding& f : rules::accepted(plan.situation, plan.judgement)) add(f);
    for (const Outcome& o : plan.judgement.outcomes)
        if (o.verdict == Verdict::ok) add({&o, {}, {}, {}});
}

std::string sarif_moved(const JudgedPlan& plan, const rules::Finding& finding, const Span& cause) {
    return dumped(result_json(plan, finding, cause));
}

std::string sarif_absent(const Baseline& baseline) {
    std::string out;
    for (const std::string& result : baseline.absent()) out += (out.empty() ? "" : ",\n") + result;
    return out;
}

namespace {

std::string mistakes(const std::string& path, const Diagnostics& problems, Baseline* baseline) {
    std::string out;
    for (const Diagnostic& problem : problems)
        out += (out.empty() ? "" : ",\n") + told(unreadable_json(path, problem), path, baseline);
    return out;
}

}  // namespace

std::string sarif_unreadable(const std::string& path, const Diagnostics& problems) {
    return mistakes(path, problems, nullptr);
}

std::string sarif_unreadable(const std::string& path, const Diagnostics& problems, Baseline& baseline) {
    return mistakes(path, problems, &baseline);
}

std::string sarif_closing(bool all_readable) {
    Json invocation = Json::object();
    invocation["executionSuccessful"] = all_readable;
    Json bases = Json::object();
    bases["%SRCROOT%"]["description"] = text_json("The folder in which benchfeed ran.");
    Json automation = Json::object();
    automation["id"] = "benchfeed/";
    return "\n],\n\"automationDetails\":" + dumped(automation) +
           ",\n\"originalUriBaseIds\":" + dumped(bases) + ",\n\"invocations\":[" + dumped(invocation) +
           "]\n}]}\n";
}

}  // namespace benchfeed::report
