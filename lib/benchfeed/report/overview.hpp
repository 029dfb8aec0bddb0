#pragma once
// Many plans on one page: worst first, what is in order only counted.
#include <array>
#include <map>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/order.hpp>

namespace benchfeed::report {

/// What is said of a plan among others; rising.
enum class Answer : std::uint8_t { clean, cautions, open, fails, unreadable };
[[nodiscard]] std::string_view words(Answer answer);

/// A plan among others.
struct OverviewRow {
    /// A rule with a verdict of the plan, and how many of its outcomes have it.
    struct OfRule {
        rules::Index rule = 0;
        rules::Verdict verdict = rules::Verdict::ok;
        std::size_t places = 0;
    };
    std::string path;
    Answer answer = Answer::clean;
    rules::Danger danger = rules::Danger::plan;     ///< of the worst finding
    std::size_t fails = 0, open = 0, cautions = 0;  ///< findings, as a report of that plan alone counts them
    std::string worst;                              ///< that finding, or the first mistake, in words
    bool listed = false;                            ///< it reaches the level that was asked for
    std::vector<OfRule> rules = {};                 ///< of fails, open questions and cautions
};
/// `listed`: it is told by its name, not only counted.
[[nodiscard]] BENCHFEED_API OverviewRow overview_row(const std::string& path,
                                                     const rules::Situation& situation,
                                                     const rules::Judgement& judgement, bool listed);
/// A plan that could not be read. Pre: there are problems.
[[nodiscard]] BENCHFEED_API OverviewRow overview_row(const std::string& path, const Diagnostics& problems);

/// Many plans, added one by one.
struct Overview {
    /// How often a rule was found.
    struct Sum {
        std::size_t plans = 0, places = 0;
    };
    std::array<std::size_t, 5> plans{};  ///< by Answer
    std::size_t common_files = 0;        ///< among what was named; they are no plans
    std::vector<OverviewRow> listed;
    std::map<std::pair<rules::Verdict, rules::Index>, Sum> by_rule;
    /// Number of plans.
    [[nodiscard]] std::size_t count() const;
};
BENCHFEED_API void add(Overview& overview, OverviewRow row);

/// What an overview shows beside its first sentence.
struct OverviewOptions {
    bool table = true;     ///< the plans that are listed, worst first
    bool by_rule = false;  ///< how often each rule was found
    /// Rows of the table; what is beyond is counted.
    std::size_t most_rows = 1000;
};
[[nodiscard]] BENCHFEED_API std::string overview_text(Overview overview, const OverviewOptions& options,
                                                      const Style& style);
/// For pages of job runs: GitHub-flavoured Markdown, which other hosts read as well.
[[nodiscard]] BENCHFEED_API std::string overview_markdown(Overview overview, const OverviewOptions& options,
                                                          const Tool& tool);

/// Text that stands in Markdown as it is, on one line: no markup, no link, no mention, no HTML.
[[nodiscard]] BENCHFEED_API std::string markdown_text(std::string_view text);

}  // namespace benchfeed::report
