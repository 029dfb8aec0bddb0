// benchfeed compare OLD/ NEW/
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include <benchfeed/report/changes.hpp>
#include <benchfeed/report/located.hpp>
#include <benchfeed/text/beside.hpp>
#include "cli/changed_sarif.hpp"
#include "cli/commands.hpp"
#include "cli/common_source.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

namespace fs = std::filesystem;

namespace {

/// A plan of one of the trees.
struct File {
    std::string path;  ///< as told
    text::Document document;
    Diagnostics missing;  ///< common files that cannot be had
};
/// By the path below the folder.
using Tree = std::map<std::string, File>;

/// What both trees share.
struct Comparing {
    const CompareOptions& options;
    const report::Style& style;
    const tables::Catalogue& catalogue;
    const plan::Words& words;
    std::vector<plan::Override> overrides;
    Exit exit = Exit::good;

    [[nodiscard]] bool sarif() const { return options.format == "sarif"; }
    void tell(const std::string& fault) {
        print_error("benchfeed: " + report::harmless(fault) + "\n");
        exit = Exit::unusable;
    }
};

Tree tree_of(Comparing& job, const std::string& folder, plan::CommonFiles& common) {
    Tree tree;
    const PlanList list = find_plans({folder});
    std::error_code error;
    for (const auto& fault : list.faults)  // that all plans are new, or gone, is no fault
        if (!fs::is_directory(fault.path, error) || fault.path != folder) job.tell(fault.words);
    for (const std::string& path : list.paths) {
        FileOrFault file = read_file(path);
        if (!file.content) {
            job.tell(file.fault);
            continue;
        }
        text::Document document(path, std::move(*file.content));
        if (plan::is_common(document)) continue;
        Diagnostics missing = common.join(document);
        const std::string below = fs::path(path).lexically_relative(folder).string();
        tree.emplace(below, File{(fs::path(job.options.after) / below).string(), std::move(document),
                                 std::move(missing)});
    }
    return tree;
}

std::variant<Judged, Diagnostics> judged(const Comparing& job, const File& file, bool with_overrides) {
    if (!file.missing.empty()) return file.missing;
    return check(
        file.document, job.catalogue, job.words,
        with_overrides ? std::span<const plan::Override>(job.overrides) : std::span<const plan::Override>());
}

/// The same words of the plan and of the common files that it reads.
bool same_text(const File& a, const File& b) {
    return text::whole_text(a.document) == text::whole_text(b.document);
}

report::PlanChange unreadable(const Comparing& job, const File& file, const Diagnostics& problems) {
    report::PlanChange change{.kind = report::PlanChange::Kind::unreadable, .path = file.path};
    change.row = report::overview_row(file.path, problems);
    change.mistakes = report::diagnostics_text(file.document, problems, job.style);
    change.problems = report::located(file.document, problems);
    if (job.sarif()) change.sarif = report::sarif_unreadable(file.path, change.problems);
    return change;
}

report::PlanChange added(const Comparing& job, const File& file) {
    const auto now = judged(job, file, true);
    if (const auto* problems = std::get_if<Diagnostics>(&now)) return unreadable(job, file, *problems);
    const Judged& plan = std::get<Judged>(now);
    report::PlanChange change{.kind = report::PlanChange::Kind::added, .path = file.path};
    change.row = report::overview_row(file.path, plan.situation(), plan.judgement(),
                                      fails(plan.judgement(), FailOn::fail));
    if (job.sarif()) change.sarif = new_sarif({file.document, job.catalogue, job.words, job.overrides, plan});
    return change;
}

report::PlanChange compared(const Comparing& job, const File& before, const File& after) {
    const auto was = judged(job, before, false), now = judged(job, after, true);
    if (const auto* problems = std::get_if<Diagnostics>(&now)) return unreadable(job, after, *problems);
    if (std::holds_alternative<Diagnostics>(was)) return added(job, after);
    const Judged &old_plan = std::get<Judged>(was), &new_plan = std::get<Judged>(now);
    report::PlanChange change{.kind = report::PlanChange::Kind::changed, .path = after.path};
    change.comparison = rules::compare({old_plan.situation(), old_plan.judgement()},
                                       {new_plan.situation(), new_plan.judgement()});
    if (job.sarif())
        change.sarif = changed_sarif({after.document, job.catalogue, job.words, job.overrides, new_plan},
                                     change.comparison);
    return change;
}

/// Files that are in one tree alone, paired by what stands in them: whole first, then what is most alike.
struct Renamed {
    std::string before, after;
};
std::vector<Renamed> find_renamed(const Tree& old_tree, const Tree& new_tree) {
    constexpr std::size_t most_pairs = 250'000;
    constexpr double alike = 0.5;  // half of the lines, as version control asks
    std::vector<std::string> gone, come;
    for (const auto& [path, file] : old_tree)
        if (!new_tree.contains(path)) gone.push_back(path);
    for (const auto& [path, file] : new_tree)
        if (!old_tree.contains(path)) come.push_back(path);
    struct Pair {
        double likeness;
        std::string before, after;
    };
    std::vector<Pair> pairs;
    const bool few = gone.size() * come.size() <= most_pairs;
    for (const std::string& before : gone)
        for (const std::string& after : come) {
            const std::string &one = old_tree.at(before).document.content(),
                              &other = new_tree.at(after).document.content();
            const double like = one == other ? 2 : few ? report::likeness(one, other) : 0;
            if (like >= alike) pairs.push_back({like, before, after});
        }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& a, const Pair& b) { return a.likeness > b.likeness; });
    std::vector<Renamed> found;
    for (const Pair& pair : pairs) {
        const bool taken = std::any_of(found.begin(), found.end(), [&](const Renamed& r) {
            return r.before == pair.before || r.after == pair.after;
        });
        if (!taken) found.push_back({pair.before, pair.after});
    }
    return found;
}

report::Changes find_changes(const Comparing& job, Tree& old_tree, Tree& new_tree) {
    using Kind = report::PlanChange::Kind;
    report::Changes changes{job.options.before, job.options.after, old_tree.size(), new_tree.size(), 0, {}};
    const auto what_if = [&](const File& was, const File& now) {
        return same_text(was, now) && job.overrides.empty();
    };
    for (const Renamed& one : find_renamed(old_tree, new_tree)) {
        report::PlanChange change = compared(job, old_tree.at(one.before), new_tree.at(one.after));
        if (change.kind == Kind::changed) change.kind = Kind::renamed;
        change.old_path = old_tree.at(one.before).path;
        changes.plans.push_back(std::move(change));
        old_tree.erase(one.before);
        new_tree.erase(one.after);
    }
    for (const auto& [path, now] : new_tree) {
        const auto was = old_tree.find(path);
        if (was == old_tree.end())
            changes.plans.push_back(added(job, now));
        else if (what_if(was->second, now))
            ++changes.same;
        else
            changes.plans.push_back(compared(job, was->second, now));
    }
    for (const auto& [path, was] : old_tree)
        if (!new_tree.contains(path)) changes.plans.push_back({.kind = Kind::removed, .path = was.path});
    return changes;
}

std::string sarif_of(const report::Changes& changes, bool all_readable) {
    std::string results;
    for (const report::PlanChange& p : changes.plans)
        if (!p.sarif.empty()) results += (results.empty() ? "" : ",\n") + p.sarif;
    return report::sarif_opening(program) + results + report::sarif_closing(all_readable);
}

}  // namespace

int run_compare_folders(const CompareOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const plan::Words words = plan_words(catalogue);
    plan::CommonFiles old_common(common_source(options.old_root), words), new_common(common_source(), words);
    Comparing job{options, style, catalogue, words, {}};
    for (const std::string& text : options.overrides) job.overrides.push_back({text});
    Tree old_tree = tree_of(job, options.before, old_common),
         new_tree = tree_of(job, options.after, new_common);
    const report::Changes changes = find_changes(job, old_tree, new_tree);
    const bool unreadable = std::any_of(changes.plans.begin(), changes.plans.end(), [](const auto& p) {
        return p.kind == report::PlanChange::Kind::unreadable;
    });
    print(options.format == "sarif"      ? sarif_of(changes, !unreadable && job.exit == Exit::good)
          : options.format == "json"     ? report::changes_json(program, changes)
          : options.format == "markdown" ? report::changes_markdown(program, changes)
                                         : report::changes_text(changes, style));
    if (unreadable || job.exit == Exit::unusable) return Exit::unusable;
    return options.fail_on_worse && changes.worse() > 0 ? Exit::found : Exit::good;
}

}  // namespace benchfeed::cli
