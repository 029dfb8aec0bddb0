#include <benchfeed/report/check_text.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/finding_text.hpp>
#include <benchfeed/report/place.hpp>
#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/questions.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Explanation;
using rules::Finding;
using rules::Outcome;
using rules::Verdict;

namespace {

/// The sentence is broken first and inked after: a line of colour ends where the line ends.
std::string answer_text(const rules::Situation& s, const rules::Judgement& judgement,
                        const std::vector<Finding>& found, const Style& style) {
    const Verdict worst = found.empty() ? Verdict::ok : found.front().outcome->verdict;
    const std::string answer = wrapped(harmless(rules::headline(s, judgement, found)), "", "", style);
    return inked(std::string_view(answer).substr(0, answer.size() - 1),
                 worst == Verdict::fail ? Ink::bad : Ink::strong, style) +
           "\n";
}

/// In short why something is not known is left to the rows below.
std::string sets_text(const rules::Situation& s, const rules::Judgement& judgement, const Style& style,
                      bool full) {
    std::string out;
    for (std::string line : rules::set_lines(s, judgement)) {
        const auto why = line.rfind("; left: not known (");
        if (!full && columns(line) > style.width && why != std::string::npos &&
            line.find(';', why + 1) == std::string::npos)
            line.erase(why + std::string_view("; left: not known").size());
        out += wrapped(harmless(line), "", "  ", style);
    }
    return out;
}

/// The questions that settle most of what counts as a fail, with how many checks they decide and where the
/// answer is found.
std::string look_up_text(const rules::Situation& s, const rules::Judgement& judgement, const Style& style) {
    constexpr std::size_t most = 5;
    std::string out;
    std::size_t shown = 0;
    for (const rules::Asked& asked : rules::questions(s, judgement)) {
        if (asked.decides.empty() || asked.paths.empty() || shown == most) continue;
        const std::string decides = fmt::format(" (decides {})", asked.decides.size());
        const std::string& path = asked.paths.front();
        std::string look = harmless(asked.look.substr(0, asked.look.find(';')));
        if (columns(path) + columns(decides) + columns(look) + 6 > style.width)
            look = look.substr(0, look.find(", "));
        out += wrapped(fmt::format("{}{}: {}", inked(harmless(path), Ink::place, style), decides, look),
                       fmt::format("{} ", ++shown), "  ", style);
    }
    return out.empty() ? out : heading("Look these up first (`questions` has all)", style) + out;
}

/// What the plan accepts, with the reason and how old the decision is.
std::string accepted_text(const text::Document& document, const rules::Situation& s,
                          const rules::Judgement& judgement, const Style& style, bool full) {
    const auto found = rules::accepted(s, judgement);
    std::string out = found.empty() ? "" : heading("Accepted", style);
    for (const Finding& f : found) {
        const plan::Accept& accept = s.plan.accepts[f.outcome->accepted];
        const Explanation e = rules::explain(s, judgement, *f.outcome);
        const std::string reason =
            harmless(fmt::format("{}: {}", rules::age_words(s.plan, accept), sentence(*accept.reason)));
        const std::string what =
            fmt::format("{} {}: {}", rules::words(f.outcome->verdict), rules::registry()[f.outcome->rule].id,
                        harmless(sentence(e.headline)));
        out += wrapped(full ? what : fmt::format("{} {}", what, reason), "  - ", "    ", style);
        if (!full) continue;
        out += wrapped(reason, "    ", "    ", style);
        out += place_words(document, {accept.header, ""}, "    ", style);
    }
    return out;
}

std::string not_checked_text(const rules::Situation& s, const Style& style, bool full) {
    std::string out = heading(full ? "Not checked" : "Not checked (--full says why)", style);
    for (const auto& item : rules::not_checked(s))
        out += wrapped(harmless(full ? item.what + ": " + item.why + "." : item.what), "  - ", "    ", style);
    return out;
}

std::string counted(std::size_t count, std::string_view words) {
    return count == 0 ? "" : fmt::format(", {} {}", count, words);
}

/// ", 3 fail, 1 unknown, 2 cautions" of any count of verdicts.
template <typename CountsT>
std::string verdict_words(const CountsT& counts) {
    return counted(counts.fail, "fail") + counted(counts.cannot_judge, "unknown") +
           counted(counts.caution, counts.caution == 1 ? "caution" : "cautions");
}

/// Findings, as every report for people counts them; then every check of every part and set, each counted
/// once: the same numbers as those of the JSON. Of one cause, or of one part in many sets, checks are more.
std::string totals_text(const rules::Judgement& judgement, const std::vector<Finding>& found,
                        const std::vector<Row>& rows, const Style& style) {
    const rules::FindingCounts findings = rules::count_findings(found);
    const rules::Counts counts = rules::count_verdicts(judgement);
    const std::string told = verdict_words(findings) + counted(findings.on_the_plan, "on the plan");
    const std::string words =
        verdict_words(counts) + counted(counts.accepted, "accepted") + counted(counts.ok, "in order");
    std::string out = (told.empty() ? "No finding" : "Findings: " + told.substr(2)) +
                      fmt::format("; from {} checks of parts and sets: {}.", judgement.outcomes.size(),
                                  words.empty() ? "nothing to judge" : words.substr(2));
    const auto example =
        std::find_if(rows.begin(), rows.end(), [](const Row& r) { return !r.where.empty(); });
    if (example != rows.end()) {
        const auto field = example->where.find('.', example->where.find('.') + 1);
        out += fmt::format(" More: --full, or --about {}.", example->where.substr(0, field));
    }
    return wrapped(harmless(out), "", "", style);
}

std::string short_text(const text::Document& document, const rules::Situation& s,
                       const rules::Judgement& judgement, const std::vector<Finding>& found,
                       const Style& style, const Remedies& remedies) {
    const std::vector<Row> rows = rows_of(s, judgement, found, remedies);
    const std::string answer = answer_text(s, judgement, found, style);
    std::string out = answer + sets_text(s, judgement, style, false) + "\n";
    for (const Row& row : rows) out += row_text(row, style);
    if (!rows.empty()) out += "\n";
    out += look_up_text(s, judgement, style) + accepted_text(document, s, judgement, style, false) +
           not_checked_text(s, style, false);
    out += totals_text(judgement, found, rows, style);
    return out + wrapped(short_closing_words, "", "", style) + answer;
}

void write_full(const text::Document& document, const rules::Situation& s, const rules::Judgement& judgement,
                const std::vector<Finding>& found, const Style& style, const Remedies& remedies,
                const Sink& sink) {
    const std::string answer = answer_text(s, judgement, found, style);
    sink(answer + sets_text(s, judgement, style, true));
    const Told told = what_is_told(s, judgement, found);
    for (const Finding* f : told.plain)
        sink("\n" + finding_text(document, s, judgement, *f, style, remedies));
    if (!told.practice.empty()) sink("\n" + heading("Common practice only; no standard requires it", style));
    for (const Finding* f : told.practice)
        sink("\n" + finding_text(document, s, judgement, *f, style, remedies));
    if (told.same_question > 0)
        sink("\n" + wrapped(fmt::format("The same questions keep {} more outcome{} open.", told.same_question,
                                        told.same_question == 1 ? "" : "s"),
                            "", "", style));
    const std::string lived_with = accepted_text(document, s, judgement, style, true);
    if (!lived_with.empty()) sink("\n" + lived_with);
    sink("\n" + not_checked_text(s, style, true));
    sink("\n" + totals_text(judgement, found, {}, style));
    sink("\n" + wrapped(closing_words, "", "", style) + "\n" + answer);
}

/// What a reader names: a whole path, or the name of an element.
class About {
public:
    About(const rules::Situation& s, std::string_view about) : s_(s), about_(about) {}

    [[nodiscard]] bool is_known() const {
        if (rules::find_rule(about_) || about_ == "plan") return true;
        const auto& plan = s_.plan;
        const auto named = [&](const auto& one) { return is(one.path(), one.name); };
        return std::any_of(plan.elements.begin(), plan.elements.end(), named) ||
               std::any_of(plan.stocks.begin(), plan.stocks.end(), named) ||
               std::any_of(plan.metals.begin(), plan.metals.end(),
                           [&](const auto& one) { return is("metal." + one.name, one.name); }) ||
               std::any_of(plan.sets.begin(), plan.sets.end(),
                           [&](const auto& set) { return of_set(set.name); });
    }
    [[nodiscard]] bool concerns(const Outcome& o) const {
        if (rules::registry()[o.rule].id == about_) return true;
        const std::string path = path_of(s_.plan, o.at);
        return is(path, path.substr(path.find('.') + 1)) ||
               (o.set != rules::no_set && of_set(rules::set_name(s_.plan, o.set)));
    }
    [[nodiscard]] bool any_concerns(const std::vector<const Outcome*>& told_under) const {
        return std::any_of(told_under.begin(), told_under.end(),
                           [&](const Outcome* o) { return concerns(*o); });
    }
    /// It is told there, or a part or question of it is.
    [[nodiscard]] bool concerns(const Finding& f, const Explanation& e) const {
        return concerns(*f.outcome) || any_concerns(f.follows) || any_concerns(f.answers) ||
               std::any_of(f.also.begin(), f.also.end(),
                           [&](plan::Index set) {
                               return set != rules::no_set && of_set(rules::set_name(s_.plan, set));
                           }) ||
               std::any_of(e.questions.begin(), e.questions.end(),
                           [&](const rules::Question& q) { return asks_about(q.path); });
    }

private:
    [[nodiscard]] bool is(const std::string& path, const std::string& name) const {
        return path == about_ || (about_.find('.') == std::string_view::npos && name == about_);
    }
    [[nodiscard]] bool of_set(const std::string& name) const { return "together." + name == about_; }
    [[nodiscard]] bool asks_about(std::string_view path) const {
        return about_.find('.') != std::string_view::npos && path.starts_with(about_) &&
               (path.size() == about_.size() || path[about_.size()] == '.');
    }
    const rules::Situation& s_;
    std::string_view about_;
};

/// What was judged there and is in order: rule, part and set, with both figures.
std::string in_order_text(const rules::Situation& s, const rules::Judgement& judgement, const About& about,
                          const Style& style) {
    std::string out;
    for (const Outcome& o : judgement.outcomes) {
        if (o.verdict != Verdict::ok || !about.concerns(o)) continue;
        const std::string headline = rules::explain(s, judgement, o).headline;
        out += wrapped(fmt::format("{}: {}", rules::registry()[o.rule].id,
                                   harmless(sentence(headline.empty() ? rules::in_brief(s, o) : headline))),
                       "  - ", "    ", style);
    }
    return out.empty() ? out : "\n" + heading("In order", style) + out;
}

}  // namespace

void write_check_text(const text::Document& document, const rules::Situation& s,
                      const rules::Judgement& judgement, const Style& style, const CheckTextOptions& options,
                      const Sink& sink) {
    const auto found = rules::findings(s, judgement);
    if (options.quiet)
        sink(answer_text(s, judgement, found, style));
    else if (options.full)
        write_full(document, s, judgement, found, style, options.remedies, sink);
    else
        sink(short_text(document, s, judgement, found, style, options.remedies));
}

std::string check_text(const text::Document& document, const rules::Situation& s,
                       const rules::Judgement& judgement, const Style& style,
                       const CheckTextOptions& options) {
    std::string out;
    write_check_text(document, s, judgement, style, options, [&](std::string_view piece) { out += piece; });
    return out;
}

std::string about_text(const text::Document& document, const rules::Situation& s,
                       const rules::Judgement& judgement, std::string_view asked, const Style& style,
                       const Remedies& remedies) {
    const About about(s, asked);
    if (!about.is_known()) return "";
    std::string out;
    std::size_t told = 0;
    for (const Finding& f : rules::findings(s, judgement)) {
        if (!about.concerns(f, rules::explain(s, judgement, *f.outcome))) continue;
        out += (out.empty() ? "" : "\n") + finding_text(document, s, judgement, f, style, remedies);
        ++told;
    }
    const std::string opening = fmt::format("{}: {} finding{}.", harmless(asked), told, told == 1 ? "" : "s");
    return heading(opening, style) + (out.empty() ? "" : "\n") + out +
           in_order_text(s, judgement, about, style) + "\n" + wrapped(short_closing_words, "", "", style);
}

}  // namespace benchfeed::report
