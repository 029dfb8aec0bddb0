#include <benchfeed/report/overview.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Finding;
using rules::Verdict;

std::string_view words(Answer answer) {
    constexpr std::string_view names[] = {"clean", "cautions", "open", "fail", "unreadable"};
    return names[static_cast<std::size_t>(answer)];
}

namespace {

Answer answer_of(const OverviewRow& row) {
    return row.fails > 0      ? Answer::fails
           : row.open > 0     ? Answer::open
           : row.cautions > 0 ? Answer::cautions
                              : Answer::clean;
}

std::vector<OverviewRow::OfRule> of_rules(const rules::Judgement& judgement) {
    std::map<std::pair<Verdict, rules::Index>, std::size_t> places;
    for (const rules::Outcome& o : judgement.outcomes)
        if (o.verdict != Verdict::ok && o.accepted == plan::nowhere) ++places[{o.verdict, o.rule}];
    std::vector<OverviewRow::OfRule> list;
    for (const auto& [key, count] : places) list.push_back({key.second, key.first, count});
    return list;
}

}  // namespace

OverviewRow overview_row(const std::string& path, const rules::Situation& s,
                         const rules::Judgement& judgement, bool listed) {
    OverviewRow row;
    row.path = path;
    row.listed = listed;
    row.rules = of_rules(judgement);
    std::vector<Finding> found = rules::findings(s, judgement);
    std::erase_if(found, [](const Finding& f) { return !rules::about_the_bench(f); });
    const rules::FindingCounts counts = rules::count_findings(found);
    row.fails = counts.fail;
    row.open = counts.cannot_judge;
    row.cautions = counts.caution;
    row.answer = answer_of(row);
    if (found.empty()) return row;
    row.danger = rules::danger(s, *found.front().outcome);
    if (!listed) return row;  // only counted: nobody reads its words
    const rules::Explanation e = rules::explain(s, judgement, *found.front().outcome);
    row.worst = e.short_words.empty() ? e.headline : e.short_words;
    return row;
}

OverviewRow overview_row(const std::string& path, const Diagnostics& problems) {
    OverviewRow row;
    row.path = path;
    row.answer = Answer::unreadable;
    row.listed = true;
    row.worst = problems.front().message;
    if (problems.size() > 1) row.worst += fmt::format("; {} more", problems.size() - 1);
    return row;
}

std::size_t Overview::count() const {
    std::size_t all = 0;
    for (const std::size_t one : plans) all += one;
    return all;
}

void add(Overview& overview, OverviewRow row) {
    ++overview.plans[static_cast<std::size_t>(row.answer)];
    for (const OverviewRow::OfRule& one : row.rules) {
        Overview::Sum& sum = overview.by_rule[{one.verdict, one.rule}];
        ++sum.plans;
        sum.places += one.places;
    }
    row.rules.clear();
    if (row.listed) overview.listed.push_back(std::move(row));
}

namespace {

void sort_worst_first(std::vector<OverviewRow>& rows) {
    std::stable_sort(rows.begin(), rows.end(), [](const OverviewRow& a, const OverviewRow& b) {
        if (a.answer != b.answer) return a.answer > b.answer;
        if (a.danger != b.danger) return a.danger < b.danger;
        if (a.fails != b.fails) return a.fails > b.fails;
        return std::tie(b.open, b.cautions, a.path) < std::tie(a.open, a.cautions, b.path);
    });
}

std::size_t of(const Overview& o, Answer answer) {
    return o.plans[static_cast<std::size_t>(answer)];
}

/// "300 plans: 17 fail, 3 have open questions, 1 cannot be read; 120 have cautions alone, 159 have no
/// finding."
std::string sentence_of(const Overview& o) {
    std::string bad, good;
    const auto add = [](std::string& to, std::size_t count, std::string_view one, std::string_view many) {
        if (count > 0) to += fmt::format("{}{} {}", to.empty() ? "" : ", ", count, count == 1 ? one : many);
    };
    add(bad, of(o, Answer::unreadable), "cannot be read", "cannot be read");
    add(bad, of(o, Answer::fails), "fails", "fail");
    add(bad, of(o, Answer::open), "has open questions", "have open questions");
    add(good, of(o, Answer::cautions), "has cautions alone", "have cautions alone");
    add(good, of(o, Answer::clean), "has no finding", "have no finding");
    std::string out = fmt::format("{} {}: {}{}{}.", o.count(), o.count() == 1 ? "plan" : "plans", bad,
                                  bad.empty() || good.empty() ? "" : "; ", good);
    if (o.count() == 0) out = "No plan.";
    if (o.common_files > 0)
        out +=
            fmt::format(" {} common {} judged with the plans that use {}.", o.common_files,
                        o.common_files == 1 ? "file is" : "files are", o.common_files == 1 ? "it" : "them");
    return out;
}

Ink answer_ink(Answer answer) {
    return answer >= Answer::fails ? Ink::bad : answer == Answer::clean ? Ink::good : Ink::doubtful;
}

std::string count_or_dash(std::size_t count, Answer answer) {
    return answer == Answer::unreadable ? "-" : fmt::format("{}", count);
}

/// Four columns, then plan and finding; stacked where there is no room for columns.
std::string row_text(const OverviewRow& row, const Style& style) {
    const std::string told =
        harmless(row.path) + (row.worst.empty() ? "" : ": " + sentence(harmless(row.worst)));
    const std::string answer = fmt::format("{:<10}", words(row.answer));
    if (style.width < 72) {
        const std::string counts =
            row.answer == Answer::unreadable
                ? ""
                : fmt::format(" ({}, open {}, cautions {})", row.fails, row.open, row.cautions);
        return inked(words(row.answer), answer_ink(row.answer), style) + counts + "\n" +
               wrapped(told, "  ", "    ", style);
    }
    const std::string first =
        fmt::format("{}  {:>5}  {:>4}  {:>8}  ", answer, count_or_dash(row.fails, row.answer),
                    count_or_dash(row.open, row.answer), count_or_dash(row.cautions, row.answer));
    std::string out = wrapped(told, first, std::string(first.size(), ' '), style);
    return inked(answer, answer_ink(row.answer), style) + out.substr(answer.size());
}

std::string rules_text(const Overview& o, const Style& style) {
    std::string out = "\n" + heading("By rule", style);
    for (auto it = o.by_rule.rbegin(); it != o.by_rule.rend(); ++it)
        out +=
            fmt::format("  {:<12}  {:>5} {}  {:>6} {}  {}\n", rules::words(it->first.first), it->second.plans,
                        it->second.plans == 1 ? "plan " : "plans", it->second.places,
                        it->second.places == 1 ? "check " : "checks", rules::registry()[it->first.second].id);
    return o.by_rule.empty() ? "" : out;
}

}  // namespace

std::string overview_text(Overview overview, const OverviewOptions& options, const Style& style) {
    std::string out = wrapped(sentence_of(overview), "", "", style);
    sort_worst_first(overview.listed);
    if (options.table && !overview.listed.empty()) {
        out += style.width < 72 ? "\n" : "\nanswer      fails  open  cautions  plan and its worst finding\n";
        for (std::size_t i = 0; i < std::min(overview.listed.size(), options.most_rows); ++i)
            out += row_text(overview.listed[i], style);
        if (overview.listed.size() > options.most_rows)
            out += fmt::format("and {} more\n", overview.listed.size() - options.most_rows);
    }
    if (options.by_rule) out += rules_text(overview, style);
    const std::size_t silent = overview.count() - of(overview, Answer::clean) - overview.listed.size();
    if (options.table && silent > 0)
        out += "\n" +
               wrapped(fmt::format("{} more with open questions or cautions: --show unknown, --show caution.",
                                   silent),
                       "", "", style);
    return out;
}

std::string markdown_text(std::string_view text) {
    std::string out;
    for (const char c : harmless(text)) {
        if (std::string_view("<>&@#:.").find(c) != std::string_view::npos && c != '.' && c != ':')
            out += fmt::format("&#{};", static_cast<int>(c));
        else if (std::string_view("\\`*_[]{}()|~!").find(c) != std::string_view::npos)
            out += std::string("\\") + c;
        else
            out += c;
    }
    // What a host would make a link of: http://, www.
    for (const std::string_view link : {"://", "www."})
        for (auto at = out.find(link); at != std::string::npos; at = out.find(link, at + 1))
            out.replace(at + (link == "www." ? 3 : 0), 1, link == "www." ? "&#46;" : "&#58;");
    return out;
}

std::string overview_markdown(Overview overview, const OverviewOptions& options, const Tool& tool) {
    std::string out = fmt::format("## benchfeed\n\n{}\n", markdown_text(sentence_of(overview)));
    sort_worst_first(overview.listed);
    if (options.table && !overview.listed.empty()) {
        out += "\n| answer | plan | fails | open | cautions | worst finding |\n|---|---|--:|--:|--:|---|\n";
        for (std::size_t i = 0; i < std::min(overview.listed.size(), options.most_rows); ++i) {
            const OverviewRow& row = overview.listed[i];
            out += fmt::format("| {} | {} | {} | {} | {} | {} |\n", words(row.answer),
                               markdown_text(row.path), count_or_dash(row.fails, row.answer),
                               count_or_dash(row.open, row.answer), count_or_dash(row.cautions, row.answer),
                               row.worst.empty() ? "" : markdown_text(sentence(row.worst)));
        }
        if (overview.listed.size() > options.most_rows)
            out += fmt::format("\nand {} more\n", overview.listed.size() - options.most_rows);
    }
    if (options.by_rule && !overview.by_rule.empty()) {
        out += "\n| rule | outcome | plans | checks |\n|---|---|--:|--:|\n";
        for (auto it = overview.by_rule.rbegin(); it != overview.by_rule.rend(); ++it)
            out += fmt::format("| {} | {} | {} | {} |\n", rules::registry()[it->first.second].id,
                               rules::words(it->first.first), it->second.plans, it->second.places);
    }
    return out + fmt::format("\n{} {} advises; local codes and a licensed electrician decide.\n", tool.name,
                             tool.version);
}

}  // namespace benchfeed::report
