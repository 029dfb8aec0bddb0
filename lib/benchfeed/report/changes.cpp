#include <benchfeed/report/changes.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <unordered_map>

#include <benchfeed/report/told.hpp>

namespace benchfeed::report {

using rules::Moved;

bool PlanChange::worse() const {
    switch (kind) {
        case PlanChange::Kind::changed:
        case PlanChange::Kind::renamed:
            return comparison.worse() > 0;
        case PlanChange::Kind::added:
            return row && row->listed;
        case PlanChange::Kind::removed:
            return false;
        case PlanChange::Kind::unreadable:
            return true;
    }
    return false;
}

std::size_t Changes::worse() const {
    return static_cast<std::size_t>(
        std::count_if(plans.begin(), plans.end(), [](const PlanChange& p) { return p.worse(); }));
}

double likeness(std::string_view before, std::string_view after) {
    std::unordered_map<std::string_view, std::size_t> left;
    const auto old_lines = lines_of(before), new_lines = lines_of(after);
    for (const std::string_view line : old_lines) ++left[line];
    std::size_t same = 0;
    for (const std::string_view line : new_lines)
        if (const auto it = left.find(line); it != left.end() && it->second > 0) {
            --it->second;
            ++same;
        }
    const std::size_t all = old_lines.size() + new_lines.size();
    return all == 0 ? 1 : 2 * static_cast<double>(same) / static_cast<double>(all);
}

namespace {

/// What moved, fails first; what got better is counted only.
std::vector<const Moved*> worse_ones(const PlanChange& p) {
    std::vector<const Moved*> list;
    for (const Moved& m : p.comparison.moved)
        if (m.worse) list.push_back(&m);
    std::stable_sort(list.begin(), list.end(), [](const Moved* a, const Moved* b) {
        const auto verdict = [](const Moved* m) { return m->after ? m->after->verdict : rules::Verdict::ok; };
        if (verdict(a) != verdict(b)) return verdict(a) > verdict(b);
        return rules::danger(rules::registry()[a->rule]) < rules::danger(rules::registry()[b->rule]);
    });
    return list;
}

/// Unreadable, then worse by how many fails came, then the rest by name.
std::size_t badness(const PlanChange& p) {
    if (p.kind == PlanChange::Kind::unreadable) return 1'000'000;
    if (p.kind == PlanChange::Kind::added) return p.worse() ? 10 * p.row->fails + 1 : 0;
    std::size_t bad = 0;
    for (const Moved& m : p.comparison.moved)
        if (m.worse) bad += m.after && m.after->verdict == rules::Verdict::fail ? 10 : 1;
    return bad;
}

void sort_worst_first(Changes& changes) {
    std::stable_sort(changes.plans.begin(), changes.plans.end(),
                     [](const PlanChange& a, const PlanChange& b) {
                         return std::pair(badness(b), std::string_view(a.path)) <
                                std::pair(badness(a), std::string_view(b.path));
                     });
}

std::size_t count(const Changes& changes, PlanChange::Kind kind) {
    return static_cast<std::size_t>(std::count_if(changes.plans.begin(), changes.plans.end(),
                                                  [&](const PlanChange& p) { return p.kind == kind; }));
}

std::string sentence_of(const Changes& c) {
    std::string out;
    const auto add = [&](std::size_t number, std::string_view words) {
        if (number > 0) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", number, words);
    };
    add(count(c, PlanChange::Kind::unreadable), "cannot be read");
    add(count(c, PlanChange::Kind::changed), "changed");
    add(count(c, PlanChange::Kind::renamed), "renamed");
    add(count(c, PlanChange::Kind::added), "new");
    add(count(c, PlanChange::Kind::removed), "removed");
    add(c.same, "as before");
    const std::size_t worse = c.worse();
    return fmt::format(
        "{} {}. {} plans before, {} now: {}.", worse == 0 ? "Nothing got worse" : "Something got worse in",
        worse == 0 ? "in any plan" : fmt::format("{} {}", worse, worse == 1 ? "plan" : "plans"), c.old_count,
        c.new_count, out.empty() ? "none" : out);
}

std::string_view words(const PlanChange& p) {
    switch (p.kind) {
        case PlanChange::Kind::changed:
            return p.worse() ? "worse" : "changed";
        case PlanChange::Kind::renamed:
            return p.worse() ? "worse, renamed" : "renamed";
        case PlanChange::Kind::added:
            return p.worse() ? "new, reaches the level asked for" : "new";
        case PlanChange::Kind::removed:
            return "removed";
        case PlanChange::Kind::unreadable:
            return "unreadable";
    }
    return "";
}

/// What is said of a plan beside its name.
std::string about(const PlanChange& p) {
    if (p.kind == PlanChange::Kind::renamed || p.kind == PlanChange::Kind::changed) {
        const std::string from = p.old_path.empty() ? "" : "was " + p.old_path + "; ";
        if (p.comparison.differences.empty() && p.comparison.moved.empty())
            return from + "nothing differs that has a meaning";
        return from + fmt::format("{} worse, {} better", p.comparison.worse(), p.comparison.better());
    }
    if (!p.row) return "";
    return p.row->worst.empty()
               ? fmt::format("{} fails, {} open, {} cautions", p.row->fails, p.row->open, p.row->cautions)
               : p.row->worst;
}

std::string plan_text(const PlanChange& p, const Style& style) {
    const std::string beside = about(p);
    std::string out = wrapped(harmless(p.path + (beside.empty() ? "" : ": " + beside)), "", "  ", style);
    out = inked(words(p), p.worse() ? Ink::bad : Ink::strong, style) + "\n" + out;
    if (!p.mistakes.empty()) return out + p.mistakes;
    constexpr std::size_t most_differences = 4, most_moved = 6;
    const auto& differences = p.comparison.differences;
    for (std::size_t i = 0; i < std::min(differences.size(), most_differences); ++i)
        out += wrapped(harmless(difference_words(differences[i])), "  - ", "    ", style);
    if (differences.size() > most_differences)
        out += fmt::format("  - and {} more differences\n", differences.size() - most_differences);
    const auto moved = worse_ones(p);
    for (std::size_t i = 0; i < std::min(moved.size(), most_moved); ++i)
        out += wrapped(harmless(moved_words(*moved[i])), "  worse ", "    ", style);
    if (moved.size() > most_moved)
        out +=
            fmt::format("  and {} more that got worse: compare the two files\n", moved.size() - most_moved);
    return out;
}

}  // namespace

std::string changes_text(Changes changes, const Style& style) {
    sort_worst_first(changes);
    std::string out = wrapped(sentence_of(changes), "", "", style);
    for (std::size_t i = 0; i < changes.plans.size(); ++i) {
        if (i < most_told_plans)
            out += "\n" + plan_text(changes.plans[i], style);
        else
            out += (i == most_told_plans ? "\n" : "") + wrapped(harmless(changes.plans[i].path),
                                                                std::string(words(changes.plans[i])) + " ",
                                                                "  ", style);
    }
    return out;
}

std::string changes_markdown(const Tool& tool, Changes changes) {
    sort_worst_first(changes);
    std::string out = "## benchfeed: what changed\n\n" + markdown_text(sentence_of(changes)) + "\n";
    if (!changes.plans.empty()) out += "\n| | plan | what differs | what got worse |\n|---|---|---|---|\n";
    for (const PlanChange& p : changes.plans) {
        std::string differs, moved;
        for (const auto& d : p.comparison.differences)
            differs += (differs.empty() ? "" : "<br>") + markdown_text(difference_words(d));
        for (const Moved* m : worse_ones(p))
            moved += (moved.empty() ? "" : "<br>") + markdown_text(moved_words(*m));
        const std::string beside = p.comparison.differences.empty() || !p.old_path.empty() ? about(p) : "";
        if (!beside.empty())
            differs = fmt::format("{}{}{}", markdown_text(beside), differs.empty() ? "" : "<br>", differs);
        out += fmt::format("| {} | {} | {} | {} |\n", words(p), markdown_text(p.path), differs, moved);
    }
    return out + fmt::format("\n{} {} advises; local codes and a licensed electrician decide.\n", tool.name,
                             tool.version);
}

}  // namespace benchfeed::report
