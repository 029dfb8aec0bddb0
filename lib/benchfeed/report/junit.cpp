// JUnit XML: a suite for each plan, a case for each rule of its region.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/located.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::report {

using rules::Outcome;
using rules::Verdict;

namespace {

/// Text or attribute value. Characters that XML 1.0 does not know become "?".
std::string escaped(std::string_view raw) {
    const std::string text = harmless(raw);
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view rest = std::string_view(text).substr(i);
        const std::string_view one = rest.substr(0, character_length(rest));
        i += one.size();
        if (one == "\xEF\xBF\xBE" || one == "\xEF\xBF\xBF")
            out += '?';
        else if (one == "&")
            out += "&amp;";
        else if (one == "<")
            out += "&lt;";
        else if (one == ">")
            out += "&gt;";
        else if (one == "\"")
            out += "&quot;";
        else
            out += one;
    }
    return out;
}

/// What one case says: the outcomes of a rule that decide it.
struct Case {
    std::vector<const Outcome*> reached, open, cautions;
    bool judged = false;  ///< an outcome that is not open
};

Case case_of(const JudgedPlan& plan, rules::Index rule) {
    Case found;
    for (const Outcome& o : plan.judgement.outcomes) {
        if (o.rule != rule) continue;
        if (plan.reaches(o))
            found.reached.push_back(&o);
        else if (o.verdict == Verdict::cannot_judge)
            found.open.push_back(&o);
        else if (o.verdict == Verdict::caution)
            found.cautions.push_back(&o);
        if (o.verdict != Verdict::cannot_judge) found.judged = true;
    }
    return found;
}

/// "line 83: ", with the file where it is a common one.
std::string line_words(const Label& label) {
    if (label.span.nowhere()) return {};
    return fmt::format("{}{}line {}: ", label.file, label.file.empty() ? "" : " ", label.span.line);
}

/// "line 83: box.junction plug: The bench cord ...", one for each outcome.
std::string lines_of(const JudgedPlan& plan, const std::vector<const Outcome*>& outcomes) {
    std::string out;
    for (const Outcome* o : outcomes) {
        const rules::Explanation e = rules::explain(plan.situation, plan.judgement, *o);
        out += line_words(located(plan.document, e.place));
        if (o->accepted != plan::nowhere) out += "accepted ";
        out +=
            fmt::format("{} {}{}{}: {}", rules::words(o->verdict), rules::path_of(plan.situation.plan, o->at),
                        o->part == rules::Part::whole ? "" : " ", rules::words(o->part), e.headline);
        for (const auto& question : e.questions)
            if (o->verdict == Verdict::cannot_judge) out += " " + question.ask;
        out += '\n';
    }
    return out;
}

std::string escaped_lines(const std::string& lines) {
    std::string out;
    for (std::size_t at = 0; at < lines.size();) {
        const std::size_t end = std::min(lines.find('\n', at), lines.size());
        out += escaped(std::string_view(lines).substr(at, end - at)) + "\n";
        at = end + 1;
    }
    return out;
}

std::string headline_of(const JudgedPlan& plan, const Outcome& o) {
    return rules::explain(plan.situation, plan.judgement, o).headline;
}

std::string case_text(const JudgedPlan& plan, const rules::Rule& rule, const Case& found) {
    std::string out =
        fmt::format("    <testcase classname=\"{}\" name=\"{}\">\n", escaped(plan.document.path()), rule.id);
    const std::string empty = out;
    if (!found.reached.empty())
        out += fmt::format("      <failure type=\"{}\" message=\"{}\">{}</failure>\n",
                           rules::words(found.reached.front()->verdict),
                           escaped(headline_of(plan, *found.reached.front())),
                           escaped_lines(lines_of(plan, found.reached)));
    else if (!found.judged)
        out += fmt::format("      <skipped message=\"{}\"/>\n",
                           found.open.empty()
                               ? "nothing in the plan for this rule"
                               : escaped("cannot judge: " + headline_of(plan, *found.open.front())));
    std::string beside = plan.show <= Verdict::caution ? lines_of(plan, found.cautions) : "";
    if (plan.show <= Verdict::cannot_judge && (found.judged || !found.reached.empty()))
        beside += lines_of(plan, found.open);
    if (!beside.empty()) out += fmt::format("      <system-out>{}</system-out>\n", escaped_lines(beside));
    if (out == empty) return out.substr(0, out.size() - 2) + "/>\n";
    return out + "    </testcase>\n";
}

struct Counted {
    std::size_t tests = 0, failures = 0, errors = 0, skipped = 0;
};
std::string suite_opening(std::string_view path, const Counted& counted) {
    return fmt::format(
        "  <testsuite name=\"{}\" tests=\"{}\" failures=\"{}\" errors=\"{}\" skipped=\"{}\">\n",
        escaped(path), counted.tests, counted.failures, counted.errors, counted.skipped);
}
constexpr std::string_view suite_closing = "  </testsuite>\n";

}  // namespace

std::string junit_opening(const Tool& tool) {
    return fmt::format("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"{} {}\">\n", tool.name,
                       tool.version);
}

void junit_plan(const JudgedPlan& plan, const Sink& sink) {
    const std::string_view family = plan.situation.nec() ? "nec" : "iec";
    std::vector<std::pair<const rules::Rule*, Case>> cases;
    const auto all = rules::registry();
    for (rules::Index r = 0; r < all.size(); ++r)
        if (all[r].families.find(family) != std::string_view::npos)
            cases.emplace_back(&all[r], case_of(plan, r));
    Counted counted;
    for (const auto& [rule, found] : cases) {
        ++counted.tests;
        if (!found.reached.empty())
            ++counted.failures;
        else if (!found.judged)
            ++counted.skipped;
    }
    sink(suite_opening(plan.document.path(), counted));
    for (const auto& [rule, found] : cases) sink(case_text(plan, *rule, found));
    sink(suite_closing);
}

std::string junit_unreadable(const std::string& path, const Diagnostics& problems) {
    std::string lines;
    for (const Diagnostic& problem : problems) {
        lines += line_words(problem.labels.empty() ? Label{} : problem.labels.front()) + problem.message +
                 (problem.help.empty() ? "" : "; write: " + problem.help) + "\n";
    }
    return suite_opening(path, {.tests = 1, .errors = 1}) +
           fmt::format(
               "    <testcase classname=\"{}\" name=\"plan.unreadable\">\n"
               "      <error type=\"plan.unreadable\" message=\"{}\">{}</error>\n    </testcase>\n",
               escaped(path), escaped(problems.front().message), escaped_lines(lines)) +
           std::string(suite_closing);
}

std::string junit_closing(bool) {
    return "</testsuites>\n";
}

}  // namespace benchfeed::report
