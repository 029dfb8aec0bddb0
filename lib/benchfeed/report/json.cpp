#include <benchfeed/report/json.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/report/located.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/causes.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/noted.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

using rules::Outcome;
using rules::Verdict;

namespace {

Json text_or_null(const plan::Field<std::string>& field) {
    return field.known() ? words_json(*field) : Json(nullptr);
}

Json question_json(const rules::Question& question) {
    return {{"path", question.path}, {"ask", words_json(question.ask)}, {"look", words_json(question.look)}};
}

Json label_json(const Label& label) {
    return {{"text", words_json(label.text)}, {"place", place_json(label)}};
}

template <class List, class Write>
Json each(const List& list, Write write) {
    Json out = Json::array();
    for (const auto& one : list) out.push_back(write(one));
    return out;
}

/// How far the value is from the limit, on the good side; negative beyond it.
Json margin_json(const Outcome& o) {
    Json value = measure_json(o.value), limit = measure_json(o.edge);
    if (value.is_null() || limit.is_null() || o.value.index() != o.edge.index()) return nullptr;
    const double left = number(o.edge) - number(o.value);
    return {{"number", rounded(o.bound == rules::Bound::at_most ? left : -left)},
            {"unit", unit_name(o.edge)}};
}

std::string outcome_path(const plan::Plan& plan, const Outcome& o) {
    const std::string at = rules::path_of(plan, o.at);
    return o.part == rules::Part::whole ? at : at + "." + std::string(rules::words(o.part));
}

Json change_json(const rules::Change& change) {
    return {{"path", change.path}, {"value", change.value}};
}

Json accepted_json(const plan::Plan& plan, const Outcome& o) {
    if (o.accepted == plan::nowhere) return nullptr;
    const plan::Accept& accept = plan.accepts[o.accepted];
    return {{"reason", words_json(*accept.reason)}, {"revision", words_json(*accept.revision)}};
}

/// The key of an outcome in one text: rule, at, part, set.
std::string outcome_key(const plan::Plan& plan, const Outcome& o) {
    return fmt::format("{}/{}/{}/{}", rules::registry()[o.rule].id, rules::path_of(plan, o.at),
                       rules::words(o.part), rules::set_name(plan, o.set));
}

/// `cause`: the outcome of which this one is a consequence, or nullptr.
/// Line by line.
Json fragment_json(const std::string& fragment) {
    Json lines = Json::array();
    for (const std::string_view line : lines_of(fragment)) lines.push_back(words_json(line));
    return lines;
}

/// The value; where facts that nobody gave move it, both ends beside it.
Json value_json(const Outcome& o) {
    Json value = measure_json(o.value);
    if (value.is_null() || std::holds_alternative<std::monostate>(o.least)) return value;
    const Json other = measure_json(o.least)["number"];
    value["low"] = std::min(value["number"], other);
    value["high"] = std::max(value["number"], other);
    return value;
}

bool counts_as_fail(const Outcome& o) {
    return o.accepted == plan::nowhere && (o.verdict == Verdict::fail || rules::is_grave_question(o));
}

/// The verdict at an end of what nobody gave; null where both ends give the same.
Json open_json(const Outcome& o, Verdict rules::Open::*end) {
    return o.open ? Json(rules::words((*o.open).*end)) : Json(nullptr);
}

Json outcome_json(const JudgedPlan& plan, const Outcome& o, const Outcome* cause) {
    const rules::Situation& s = plan.situation;
    const rules::Rule& rule = rules::registry()[o.rule];
    rules::Explanation e = rules::explain(s, plan.judgement, o);
    if (cause)
        e.remedies.clear();  // what cures the cause is told there
    else if (plan.remedies && o.verdict != Verdict::ok)
        e.remedies = plan.remedies(o);
    const bool limited = !std::holds_alternative<std::monostate>(o.edge);
    Json question = nullptr;
    if (o.verdict == Verdict::cannot_judge && !e.questions.empty())
        question = question_json(e.questions.front());
    const std::string set = rules::set_name(s.plan, o.set);
    Json json{
        {"rule", rule.id},
        {"at", rules::path_of(s.plan, o.at)},
        {"part", rules::words(o.part)},
        {"set", set.empty() ? Json(nullptr) : Json(set)},
        {"outcome", rules::words(o.verdict)},
        {"at_worst", open_json(o, &rules::Open::at_worst)},
        {"at_best", open_json(o, &rules::Open::at_best)},
        {"counts_as_fail", counts_as_fail(o)},
        {"essential", rule.essential},
        {"harm", rules::words(rule.harm)},
        {"value", value_json(o)},
        {"limit", measure_json(o.edge)},
        {"bound", limited ? Json(o.bound == rules::Bound::at_most ? "at most" : "at least") : Json(nullptr)},
        {"margin", margin_json(o)},
        {"basis", rules::words(o.basis)},
        {"cause", cause ? Json(outcome_key(s.plan, *cause)) : Json(nullptr)},
        {"accepted", accepted_json(s.plan, o)},
        {"question", std::move(question)},
        {"questions", each(e.questions, question_json)},
        {"path", outcome_path(s.plan, o)},
        {"headline", words_json(e.headline)},
        {"consequence", words_json(e.consequence)},
        {"remedies", each(e.remedies,
                          [](const rules::Remedy& r) -> Json {
                              return {{"cost", rules::words(r.cost)},
                                      {"text", words_json(r.text)},
                                      {"changes", each(r.changes, change_json)},
                                      {"fragment", fragment_json(r.fragment)}};
                          })},
        {"place", place_json(located(plan.document, e.place))},
        {"related", each(located(plan.document, e.related), label_json)}};
    if (plan.full) {
        json["sources"] = each(e.sources, citation_json);
        json["steps"] = each(e.steps, step_json);
    }
    return json;
}

Json set_json(const rules::Situation& s, const rules::SetFigures& f) {
    Json weakest = nullptr;
    if (f.weakest)
        weakest = {{"at", rules::path_of(s.plan, f.weakest->at)},
                   {"part", rules::words(f.weakest->part)},
                   {"current", measure_json(f.drawn)},
                   {"rating", measure_json(f.rated)},
                   {"plain_current", measure_json(rules::plain_amps(s, *f.weakest, f.loads->loads))}};
    return {{"name", f.loads->name},
            {"loads", each(f.loads->loads, [&](plan::Index load) -> Json { return s.plan[load].path(); })},
            {"assumed", f.loads->assumed},
            {"complete", !f.unknown_load},
            {"weakest", std::move(weakest)},
            {"circuits", circuits_json(s, f.loads->loads)}};
}

Json counts_json(const rules::Judgement& judgement) {
    const rules::Counts counts = rules::count_verdicts(judgement);
    return {{"ok", counts.ok},
            {"cannot judge", counts.cannot_judge},
            {"caution", counts.caution},
            {"fail", counts.fail},
            {"accepted", counts.accepted}};
}

/// Elements of a list, each written as it comes: of a bench of a hundred thousand elements some lists have as
/// many, and as values they would fill the memory.
class Elements {
public:
    explicit Elements(const Sink& sink) : sink_(sink) {}
    void add(const Json& element) {
        sink_((first_ ? "" : ",") + dumped(element));
        first_ = false;
    }

private:
    const Sink& sink_;
    bool first_ = true;
};

void write_outcomes(const JudgedPlan& plan, const Sink& sink) {
    const auto& outcomes = plan.judgement.outcomes;
    const Verdict least = plan.full ? Verdict::ok : plan.show;
    const std::vector<plan::Index> lead = rules::causes(plan.situation, plan.judgement);
    Elements list(sink);
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        if (outcomes[i].verdict < least) continue;
        list.add(outcome_json(plan, outcomes[i], lead[i] == plan::nowhere ? nullptr : &outcomes[lead[i]]));
    }
}

/// The sets, then everything at once.
void write_sets(const JudgedPlan& plan, const Sink& sink) {
    Json everything = nullptr;
    Elements list(sink);
    for (const rules::SetFigures& f : rules::set_figures(plan.situation, plan.judgement))
        if (f.set == rules::everything_set)
            everything = set_json(plan.situation, f);
        else
            list.add(set_json(plan.situation, f));
    sink("],\"everything\":" + dumped(everything));
}

void write_not_checked(const rules::Situation& s, const Sink& sink) {
    Elements list(sink);
    for (const rules::NotChecked& item : rules::not_checked(s))
        list.add({{"what", words_json(item.what)}, {"why", words_json(item.why)}});
}

void write_assumed(const plan::Plan& plan, const Sink& sink) {
    Elements list(sink);
    for (const rules::AssumedField& field : rules::assumed_fields(plan))
        list.add({{"path", field.path}, {"value", words_json(field.value)}, {"why", field.why}});
}

/// What stands before the lists.
Json head_json(const JudgedPlan& plan) {
    const rules::Situation& s = plan.situation;
    return {{"path", plan.document.path()},
            {"title", text_or_null(s.plan.head.title)},
            {"region", text_or_null(s.plan.head.region)},
            {"edition", text_or_null(s.plan.head.edition)},
            {"revision", text_or_null(s.plan.head.revision)},
            {"verdict", rules::words(plan.judgement.verdict)},
            {"headline", words_json(rules::headline(s, plan.judgement))},
            {"counts", counts_json(plan.judgement)}};
}

Json error_json(const std::string& path, const Diagnostic& problem) {
    const Label first = problem.labels.empty() ? Label{} : problem.labels.front();
    const std::vector<Label> others(problem.labels.begin() + (problem.labels.empty() ? 0 : 1),
                                    problem.labels.end());
    return {{"rule", "plan.unreadable"},
            {"path", path},
            {"field", problem.path},
            {"message", words_json(problem.message)},
            {"help", words_json(problem.help)},
            {"place", place_json(first)},
            {"related", each(others, label_json)}};
}

}  // namespace

std::string json_opening(const Tool& tool) {
    return "{\"format\":2,\"tool\":" + dumped(tool_json(tool)) + ",\"plans\":[\n";
}
void json_plan(const JudgedPlan& plan, const Sink& sink) {
    std::string head = dumped(head_json(plan));
    head.pop_back();  // the closing brace
    sink(head + ",\"sets\":[");
    write_sets(plan, sink);
    sink(",\"not_checked\":[");
    write_not_checked(plan.situation, sink);
    sink("],\"assumed\":[");
    write_assumed(plan.situation.plan, sink);
    sink(std::string("],\"full\":") + (plan.full ? "true" : "false") + ",\"outcomes\":[");
    write_outcomes(plan, sink);
    sink("]}");
}
std::string json_unreadable(const std::string& path, const Diagnostics& problems) {
    std::string out;
    for (const Diagnostic& problem : problems)
        out += (out.empty() ? "" : ",\n") + dumped(error_json(path, problem));
    return out;
}
std::string json_closing(bool) {
    return "\n]}\n";
}

namespace {

/// The list under "Sources" of a rule's page, which no rule goes without.
Json sources_of_page(std::string_view page) {
    Json list = Json::array();
    const auto heading = page.find("\n## Sources\n");
    for (auto at = heading;
         at != std::string_view::npos && (at = page.find("\n- ", at)) != std::string_view::npos;) {
        at += 3;
        list.push_back(page.substr(at, page.find('\n', at) - at));
    }
    return list;
}

}  // namespace

std::string rules_json(const Tool& tool) {
    Json json{{"format", 1}, {"tool", tool_json(tool)}, {"rules", Json::array()}};
    for (const rules::Rule& rule : rules::registry())
        json["rules"].push_back({{"rule", rule.id},
                                 {"title", rule.title},
                                 {"harm", rules::words(rule.harm)},
                                 {"essential", rule.essential},
                                 {"families", rule.families},
                                 {"since", rule.since},
                                 {"sources", sources_of_page(rules::page(rule.id))}});
    return dumped(json) + "\n";
}

}  // namespace benchfeed::report
