#include <benchfeed/report/finding_text.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/place.hpp>
#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Explanation;
using rules::Finding;
using rules::Verdict;

namespace {

std::string step_text(const Step& step, const Style& style) {
    const std::string margin = "      ";
    if (!step.words.empty()) return wrapped(harmless(step.words), margin, margin, style);
    std::string out;
    if (step.result.empty()) {
        out = wrapped(step.numbers, margin, margin + "  ", style);
    } else {
        const std::string line =
            step.symbol + " = " + step.formula + " = " + step.numbers + " = " + step.result;
        if (columns(line) + margin.size() <= style.width) {
            out = margin + line + "\n";
        } else {
            out = wrapped(step.symbol + " = " + step.formula, margin, margin + "  ", style);
            out += wrapped("= " + step.numbers, margin + "  ", margin + "    ", style);
            out += margin + "  = " + step.result + "\n";
        }
    }
    for (const std::string& source : step.sources)
        out += wrapped(source, margin + "    by ", margin + "       ", style);
    return out;
}

std::string title_line(const Finding& f, const Style& style) {
    const rules::Rule& rule = rules::registry()[f.outcome->rule];
    const std::string verdict(rules::words(f.outcome->verdict));
    std::string rest = fmt::format(" {} ({})", rule.id, rules::words(f.outcome->basis));
    if (f.outcome->verdict == Verdict::cannot_judge) rest = fmt::format(" {}", rule.id);
    return wrapped(inked(verdict, ink_of(f.outcome->verdict), style) + rest, "", "  ", style);
}

std::string questions_text(const Explanation& e, const Style& style) {
    std::string out;
    for (const auto& q : e.questions) {
        const std::string where = q.path.empty() ? "" : " [" + harmless(q.path) + "]";
        out += wrapped(harmless(q.ask) + where + (q.look.empty() ? "" : " Look: " + q.look + "."), "    ? ",
                       "      ", style);
    }
    return out;
}

/// Lines to add to the plan, as they are: they are copied, not read.
std::string fragment_text(const std::string& fragment) {
    std::string out = fragment.empty() ? "" : "      Add to the plan:\n";
    for (const std::string_view line : lines_of(fragment))
        out += line.empty() ? "\n" : "        " + harmless(line) + "\n";
    return out;
}

}  // namespace

std::string finding_text(const text::Document& document, const rules::Situation& s,
                         const rules::Judgement& judgement, const Finding& f, const Style& style,
                         const Remedies& remedies) {
    Explanation e = rules::explain(s, judgement, *f.outcome);
    if (remedies) e.remedies = remedies(*f.outcome);
    std::string out = title_line(f, style);
    out += wrapped(harmless(sentence(e.headline)), "  ", "  ", style);
    std::string also;
    for (const auto set : f.also)
        if (set != rules::no_set) also += (also.empty() ? "" : ", ") + rules::set_words(s, set);
    if (!also.empty()) out += wrapped("The same in: " + harmless(also) + ".", "  ", "  ", style);
    for (const std::string& sentence : rules::told_under(s, f))
        out += wrapped(harmless(sentence), "  ", "  ", style);
    out += place_words(document, e.place, "  ", style);
    for (const Label& label : e.related) out += place_words(document, label, "  ", style);
    if (!e.consequence.empty()) out += wrapped(harmless(e.consequence), "    What happens: ", "    ", style);
    if (!e.steps.empty()) out += "    Worked:\n";
    for (const Step& step : e.steps) out += step_text(step, style);
    std::vector<std::string> told;
    for (const Step& step : e.steps) told.insert(told.end(), step.sources.begin(), step.sources.end());
    for (const auto& source : e.sources) {
        const std::string text = network::cited(source);
        const bool known = std::any_of(told.begin(), told.end(), [&](const std::string& t) {
            return t.find(text) != std::string::npos;
        });
        if (!known) out += wrapped(text, "    Source: ", "      ", style);
        if (!known) told.push_back(text);
    }
    out += questions_text(e, style);
    for (const auto& remedy : e.remedies) {
        out += wrapped(
            harmless(remedy.text) + ".",
            "    " + inked(fmt::format("Cure ({}):", rules::words(remedy.cost)), Ink::good, style) + " ",
            "      ", style);
        out += fragment_text(remedy.fragment);
    }
    return out;
}

}  // namespace benchfeed::report
