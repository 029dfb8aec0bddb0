#include <benchfeed/report/check_text.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Explanation;
using rules::Finding;
using rules::Verdict;

namespace {

constexpr std::size_t cautions_shown = 5;

Ink ink_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::fail:
            return Ink::bad;
        case Verdict::cannot_judge:
        case Verdict::caution:
            return Ink::doubtful;
        case Verdict::ok:
            return Ink::good;
    }
    return Ink::plain;
}

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
    return inked(verdict, ink_of(f.outcome->verdict), style) + rest + "\n";
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

std::string finding_text(const text::Document& document, const rules::Situation& s,
                         const rules::Judgement& judgement, const Finding& f, const Style& style,
                         const CheckTextOptions& options) {
    Explanation e = rules::explain(s, judgement, *f.outcome);
    if (options.remedies) e.remedies = options.remedies(*f.outcome);
    std::string out = title_line(f, style);
    out += wrapped(harmless(sentence(e.headline)), "  ", "  ", style);
    std::string also;
    for (const auto set : f.also)
        if (set != rules::no_set) also += (also.empty() ? "" : ", ") + rules::set_words(s, set);
    if (!also.empty()) out += wrapped("The same in: " + harmless(also) + ".", "  ", "  ", style);
    if (!f.follows.empty()) {
        std::vector<std::string> parts;
        for (const rules::Outcome* o : f.follows) parts.push_back(rules::in_brief(s, *o));
        out += wrapped("For the same reason: " + harmless(rules::list(parts)) + ".", "  ", "  ", style);
    }
    out += place_text(document, e.place, "  ", style);
    for (const Label& label : e.related) out += place_text(document, label, "  ", style);
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
        out += wrapped(harmless(remedy.text) + ".", fmt::format("    Cure ({}): ", rules::words(remedy.cost)),
                       "      ", style);
        out += fragment_text(remedy.fragment);
    }
    return out;
}

/// What the plan accepts, with the reason and how old the decision is.
std::string accepted_text(const text::Document& document, const rules::Situation& s,
                          const rules::Judgement& judgement, const Style& style) {
    const auto found = rules::accepted(s, judgement);
    std::string out = found.empty() ? "" : "\n" + inked("Accepted", Ink::strong, style) + "\n";
    for (const Finding& f : found) {
        const plan::Accept& accept = s.plan.accepts[f.outcome->accepted];
        const Explanation e = rules::explain(s, judgement, *f.outcome);
        out += wrapped(fmt::format("{} {}: {}", rules::words(f.outcome->verdict),
                                   rules::registry()[f.outcome->rule].id, harmless(sentence(e.headline))),
                       "  - ", "    ", style);
        out += wrapped(
            harmless(fmt::format("{}: {}", rules::age_words(s.plan, accept), sentence(*accept.reason))),
            "    ", "    ", style);
        out += place_text(document, {accept.header, ""}, "    ", style);
    }
    return out;
}

}  // namespace

std::string check_text(const text::Document& document, const rules::Situation& s,
                       const rules::Judgement& judgement, const Style& style,
                       const CheckTextOptions& options) {
    const auto found = rules::findings(s, judgement);
    const Verdict worst = found.empty() ? Verdict::ok : found.front().outcome->verdict;
    // The sentence is broken first and inked after: colour has no width.
    std::string out;
    const std::string first = wrapped(harmless(rules::headline(s, judgement, found)), "", "", style);
    out += inked(std::string_view(first).substr(0, first.size() - 1),
                 worst == Verdict::fail ? Ink::bad : Ink::strong, style) +
           "\n";
    if (options.quiet) return out;
    for (const std::string& line : rules::set_lines(s, judgement))
        out += wrapped(harmless(line), "", "  ", style);

    const Told told = what_is_told(s, judgement, found, cautions_shown);
    for (const Finding* f : told.plain)
        out += "\n" + finding_text(document, s, judgement, *f, style, options);
    if (!told.practice.empty())
        out += "\n" + inked("Common practice, nobody's limit", Ink::strong, style) + "\n";
    for (const Finding* f : told.practice)
        out += "\n" + finding_text(document, s, judgement, *f, style, options);
    if (told.same_question > 0)
        out += "\n" + wrapped(fmt::format("The same questions keep {} more outcome{} open.",
                                          told.same_question, told.same_question == 1 ? "" : "s"),
                              "", "", style);
    if (told.cautions_left > 0)
        out += "\n" + wrapped(fmt::format("{} more caution{} not shown here.", told.cautions_left,
                                          told.cautions_left == 1 ? " is" : "s are"),
                              "", "", style);

    out += accepted_text(document, s, judgement, style);
    out += "\n" + inked("Not checked", Ink::strong, style) + "\n";
    for (const auto& item : rules::not_checked(s))
        out += wrapped(harmless(item.what + ": " + item.why + "."), "  - ", "    ", style);
    out += "\n" + wrapped(closing_words, "", "", style);
    return out;
}

}  // namespace benchfeed::report
