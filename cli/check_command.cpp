// benchfeed check PLAN...
#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <map>
#include <memory>
#include <new>
#include <thread>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/advice/pictures.hpp>
#include <benchfeed/report/check_html.hpp>
#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/located.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/overview.hpp>
#include <benchfeed/report/sarif_pieces.hpp>
#include "cli/commands.hpp"
#include "cli/common_source.hpp"
#include "cli/files.hpp"
#include "cli/in_order.hpp"
#include "cli/judged_plan.hpp"
#include "cli/progress.hpp"

namespace benchfeed::cli {

namespace {

/// What one plan adds to the report.
struct Piece {
    std::string text;      ///< for standard output; empty where a format tells it in `told` or `unusable`
    Spool told;            ///< for standard output: what a format tells of a plan
    std::string unusable;  ///< for the part of the report that lists what could not be judged
    std::string aside;     ///< for standard error
    Spool page;            ///< for the file of --report
    Exit exit = Exit::good;
    std::optional<report::OverviewRow> row;  ///< its place in the overview of many plans
    bool common = false;                     ///< no plan but a common file
};

/// Everything that judging one plan needs and no plan changes.
struct Job {
    const CheckOptions& options;
    const report::MachineFormat* format;  ///< nullptr: text
    const report::Style& style;
    const tables::Catalogue& catalogue;
    const plan::Words& words;
    const Judge& judge;
    plan::CommonFiles& common;
    std::vector<plan::Override> overrides;
    report::Baseline* baseline = nullptr;  ///< of --baseline
    bool many = false;
    bool overview = false;  ///< a row for each plan instead of its report
};

std::string heading(const std::string& path, const Job& job) {
    return job.many ? report::inked("== " + report::harmless(path), report::Ink::strong, job.style) + "\n"
                    : "";
}

/// Mistakes of a plan among many, in words for people.
Piece row_of(const std::string& path, const Diagnostics& problems, std::string mistakes) {
    Piece piece;
    piece.exit = Exit::unusable;
    piece.row = report::overview_row(path, problems);
    piece.text = std::move(mistakes);
    return piece;
}

Piece unusable(const Job& job, const std::string& path, const Diagnostics& problems) {
    Piece piece;
    piece.exit = Exit::unusable;
    std::string told = job.baseline ? report::sarif_unreadable(path, problems, *job.baseline)
                                    : job.format->unreadable(path, problems);
    (job.format->middle.empty() ? piece.text : piece.unusable) = std::move(told);
    return piece;
}

/// A file or folder that cannot be read at all.
Piece no_file(const Job& job, const std::string& path, const std::string& fault) {
    Piece piece;
    if (job.format) piece = unusable(job, path, {{"", fault, {}, ""}});
    if (job.overview) piece = row_of(path, {{"", fault, {}, ""}}, "");
    piece.exit = Exit::unusable;
    piece.aside = "benchfeed: " + report::harmless(fault) + "\n";
    return piece;
}

Piece unreadable(const Job& job, const text::Document& document, const Diagnostics& problems) {
    if (job.format) return unusable(job, document.path(), report::located(document, problems));
    Piece piece;
    piece.exit = Exit::unusable;
    piece.text = heading(document.path(), job) + override_faults(problems, job.options.overrides, job.style);
    Diagnostics of_file;
    std::copy_if(problems.begin(), problems.end(), std::back_inserter(of_file),
                 [](const Diagnostic& d) { return d.path != "--set"; });
    if (!of_file.empty()) piece.text += report::diagnostics_text(document, of_file, job.style);
    if (job.overview) return row_of(document.path(), problems, piece.text);
    if (job.many) piece.text += "\n";
    return piece;
}

Spool page_of(const Job& job, const text::Document& document, const Judged& judged,
              const std::function<std::vector<rules::Remedy>(const rules::Outcome&)>& remedies) {
    const auto s = judged.situation();
    const auto& judgement = judged.judgement();
    Spool page;
    report::write_check_html(document, s, judgement,
                             {advice::load_bars(s, judgement), advice::volt_pictures(s, judgement),
                              advice::start_pictures(s, judgement)},
                             program, {.what_if = job.options.overrides, .remedies = remedies},
                             [&](std::string_view text) { page.add(text); });
    return page;
}

/// --about names nothing of this plan.
Piece nothing_of_that_name(const Job& job, const plan::Plan& plan) {
    Piece piece;
    piece.exit = Exit::unusable;
    std::string names;
    for (const auto& element : plan.elements)
        if (names.size() < 200) names += (names.empty() ? "" : ", ") + element.path();
    piece.aside =
        report::wrapped(report::harmless(fmt::format(
                            "nothing in the plan is called {}; write the path of an element ({}), a set "
                            "(together.NAME) or the id of a rule",
                            job.options.about, names)),
                        "benchfeed: ", "  ", job.style);
    return piece;
}

/// A common file among plans is no plan and no mistake: its own mistakes are told, and nothing else.
std::optional<Piece> common_file(const Job& job, const text::Document& document) {
    if (!plan::is_common(document)) return std::nullopt;
    const text::Beside alone(document, 0);
    if (const Diagnostics problems = plan::common_faults(alone, job.words); !problems.empty())
        return unreadable(job, document, problems);
    Piece piece;
    piece.common = true;
    if (!job.overview && !job.format)
        piece.text =
            report::wrapped(report::harmless(document.path()) +
                                ": a common file without a mistake; it is judged with the plans that use it.",
                            "", "", job.style);
    return piece;
}

Piece judge_one(const Job& job, const std::string& path) {
    FileOrFault file = read_file(path);
    if (!file.content) return no_file(job, path, file.fault);
    text::Document document(path == "-" ? "standard input" : path, std::move(*file.content));
    if (std::optional<Piece> common = common_file(job, document)) return std::move(*common);
    if (const Diagnostics problems = job.common.join(document); !problems.empty())
        return unreadable(job, document, problems);
    const auto result = job.judge(document, job.catalogue, job.words, job.overrides);
    if (const auto* problems = std::get_if<Diagnostics>(&result)) return unreadable(job, document, *problems);
    const Judged& judged = std::get<Judged>(result);
    Piece piece;
    piece.exit = fails(judged.judgement(), job.options.fail_on) ? Exit::found : Exit::good;
    if (job.overview) {
        const FailOn level =
            job.options.show == rules::Verdict::caution || job.options.show == rules::Verdict::ok
                ? FailOn::caution
            : job.options.show == rules::Verdict::cannot_judge ? FailOn::unknown
                                                               : job.options.fail_on;
        const bool listed = job.options.show == rules::Verdict::fail
                                ? judged.judgement().verdict == rules::Verdict::fail
                                : fails(judged.judgement(), level);
        piece.row = report::overview_row(path, judged.situation(), judged.judgement(), listed);
        return piece;
    }
    advice::CureTrials trials{.left = advice::most_trials(judged.plan())};
    std::map<const rules::Outcome*, std::vector<rules::Remedy>> tried;  // text and page tell the same
    const auto cures = [&](const rules::Outcome& o) {
        return advice::cures({document, job.catalogue, job.words, job.overrides}, judged.situation(),
                             judged.judgement(), o, trials);
    };
    const auto remedies = [&](const rules::Outcome& o) {
        if (job.options.report.empty()) return cures(o);  // told once: not held for all of a large plan
        const auto [it, fresh] = tried.try_emplace(&o);
        if (fresh) it->second = cures(o);
        return it->second;
    };
    if (!job.options.report.empty()) piece.page = page_of(job, document, judged, remedies);
    if (job.format) {
        job.format->plan({document, judged.situation(), judged.judgement(),
                          [&](const rules::Outcome& o) { return reaches(o, job.options.fail_on); }, remedies,
                          job.options.show.value_or(rules::Verdict::caution), job.options.full, job.baseline},
                         [&](std::string_view text) { piece.told.add(text); });
        return piece;
    }
    if (!job.options.about.empty()) {
        piece.text = report::about_text(document, judged.situation(), judged.judgement(), job.options.about,
                                        job.style, remedies);
        if (piece.text.empty()) return nothing_of_that_name(job, judged.plan());
        piece.text = heading(path, job) + piece.text;
        return piece;
    }
    const auto tell = [&](std::string_view text) { piece.told.add(text); };
    tell(heading(path, job));
    report::write_check_text(document, judged.situation(), judged.judgement(), job.style,
                             {.quiet = job.options.quiet, .full = job.options.full, .remedies = remedies},
                             tell);
    if (job.many && !job.options.quiet) tell("\n");
    return piece;
}

/// A plan at which benchfeed itself went wrong.
Piece broken(const Job& job, const std::string& path, std::string_view what) {
    const std::string name = path == "-" ? "standard input" : path;
    const std::string words = fmt::format(
        "internal error: {}. The mistake is benchfeed's: please report it, with the plan. Nothing is said of "
        "this plan",
        what);
    if (job.format) return unusable(job, name, {{"", words, {}, ""}});
    if (job.overview)
        return row_of(name, {{"", words, {}, ""}},
                      report::wrapped(name + ": " + words + ".", "error: ", "       ", job.style));
    Piece piece;
    piece.exit = Exit::unusable;
    piece.text =
        heading(name, job) + report::wrapped(name + ": " + words + ".", "error: ", "       ", job.style);
    if (job.many) piece.text += "\n";
    return piece;
}

/// One plan takes none of the others with it.
Piece judge_or_tell(const Job& job, const std::string& path) {
    try {
        return judge_one(job, path);
    } catch (const std::bad_alloc&) {
        return broken(job, path, "out of memory");
    } catch (const std::exception& e) {
        return broken(job, path, e.what());
    }
}

/// Puts the pieces together in the order in which they come.
class Assembly {
public:
    explicit Assembly(const Job& job) : job_(job) {
        if (job_.format) print(job_.format->opening(program));
    }

    void take(Piece piece) {
        if (piece.common) ++overview_.common_files;
        if (piece.row) {
            report::add(overview_, std::move(*piece.row));
            if (!piece.text.empty() && ++with_mistakes_ <= most_mistakes) mistakes_ += piece.text + "\n";
            piece.text.clear();
        }
        if (!piece.page.empty()) write_page(piece.page);
        print_error(piece.aside);
        if (!piece.text.empty() || !piece.told.empty()) {
            print(separator(any_text_));
            print(piece.text);
            piece.told.print_all();
            any_text_ = true;
        }
        if (!piece.unusable.empty()) {
            spool_.add(std::string(separator(!spool_.empty())));
            spool_.add(piece.unusable);
        }
        worst_ = std::max(worst_, piece.exit);
        if (piece.common) return;
        ++(piece.exit == Exit::good ? good_ : piece.exit == Exit::found ? found_ : unusable_);
    }

    int close() {
        if (job_.format) {
            if (job_.baseline) {
                const std::string absent = report::sarif_absent(*job_.baseline);
                if (!absent.empty()) print(std::string(separator(any_text_)) + absent);
            }
            print(job_.format->middle);
            spool_.print_all();
            print(job_.format->closing(worst_ != Exit::unusable));
        } else if (job_.overview) {
            print_overview();
        } else if (job_.many) {
            print(
                fmt::format("{} plans: {} without a finding at the level asked for, {} with, {} unreadable\n",
                            good_ + found_ + unusable_, good_, found_, unusable_));
        }
        return worst_;
    }

private:
    /// Plans with mistakes that are shown whole; of the others the first mistake stands in the table.
    static constexpr std::size_t most_mistakes = 3;

    void print_overview() {
        const report::OverviewOptions options{.table = !job_.options.quiet, .by_rule = job_.options.by_rule};
        if (job_.options.format == "markdown") {
            print(report::overview_markdown(std::move(overview_), options, program));
            return;
        }
        if (!job_.options.quiet) print(mistakes_);
        print(report::overview_text(std::move(overview_), options, job_.style));
    }
    void write_page(const Spool& page) {
        const std::string fault = page.write_all(job_.options.report);
        if (fault.empty()) return;
        print_error("benchfeed: " + report::harmless(fault) + "\n");
        worst_ = Exit::unusable;
    }
    [[nodiscard]] std::string_view separator(bool between) const {
        return between && job_.format ? job_.format->separator : "";
    }
    const Job& job_;
    Spool spool_;
    Exit worst_ = Exit::good;
    bool any_text_ = false;
    std::size_t good_ = 0, found_ = 0, unusable_ = 0;
    report::Overview overview_;
    std::string mistakes_;
    std::size_t with_mistakes_ = 0;
};

}  // namespace

namespace {

/// The report of --baseline; nothing, and told, where it cannot be used.
std::unique_ptr<report::Baseline> read_baseline(const CheckOptions& options) {
    const FileOrFault file = read_file(options.baseline);
    auto baseline = file.content ? std::make_unique<report::Baseline>(*file.content) : nullptr;
    const std::string fault = !file.content                ? file.fault
                              : !baseline->fault().empty() ? options.baseline + " " + baseline->fault()
                              : options.format != "sarif"  ? "--baseline is for --format sarif"
                                                           : "";
    if (fault.empty()) return baseline;
    print_error("benchfeed: " + report::harmless(fault) + "\n");
    return nullptr;
}

}  // namespace

int run_check(const CheckOptions& options, const report::Style& style, const Judge& judge) {
    const Judge check_text = [](const auto& document, const auto& tables, const auto& words,
                                const auto& overrides) { return check(document, tables, words, overrides); };
    const tables::Catalogue catalogue;
    plan::Words words = plan_words(catalogue);
    words.today = options.today;
    plan::CommonFiles common(common_source(), words);
    PlanList plans = find_plans(options.plans);
    Job job{options, report::find_machine_format(options.format),
            style,   catalogue,
            words,   judge ? judge : check_text,
            common,  {},
            nullptr, false,
            false};
    const auto baseline = options.baseline.empty() ? nullptr : read_baseline(options);
    if (!options.baseline.empty() && !baseline) return Exit::unusable;
    job.baseline = baseline.get();
    for (const std::string& text : options.overrides) job.overrides.push_back({text});
    job.many = plans.paths.size() + plans.faults.size() > 1;
    if (job.many && !options.report.empty()) {
        print_error("benchfeed: --report is a page of one plan; here are several\n");
        return Exit::unusable;
    }
    job.overview = !job.format && !options.each && (job.many || options.format == "markdown");
    Assembly report(job);
    for (const std::string& skipped : plans.skipped)
        print_error("benchfeed: " + report::harmless(skipped) + "\n");
    for (const PlanList::Fault& fault : plans.faults) report.take(no_file(job, fault.path, fault.words));
    Progress progress(plans.paths.size());
    const unsigned cores = std::max(1u, std::thread::hardware_concurrency());
    in_order<Piece>(
        plans.paths.size(), options.jobs > 0 ? options.jobs : cores,
        [&](std::size_t i) { return judge_or_tell(job, plans.paths[i]); },
        [&](Piece&& piece) { report.take(std::move(piece)); }, [&](std::size_t done) { progress.at(done); });
    progress.finish();
    return report.close();
}

}  // namespace benchfeed::cli
