#pragma once
// The commands, one file each. They are the only place that reads files, prints and knows exit codes.
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include <benchfeed/advice/outline.hpp>
#include <benchfeed/check.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/version.hpp>
#include "cli/description.hpp"

namespace benchfeed::cli {

/// Exit codes: good, something found at the level asked for, input or usage that cannot be processed.
enum Exit : int { good = 0, found = 1, unusable = 2 };

inline constexpr report::Tool program{"benchfeed", version};

struct CheckOptions {
    std::vector<std::string> plans;      ///< files, folders, patterns or "-"
    std::vector<std::string> overrides;  ///< PATH=VALUE
    std::string format = "text";
    std::vector<std::string> tries;  ///< PATH=VALUES: a table for each instead of the report
    std::string report;              ///< file for one HTML page; "" for none
    FailOn fail_on = FailOn::fail;
    unsigned jobs = 0;  ///< 0: as many as there are cores
    bool quiet = false;
    std::optional<rules::Verdict> show;  ///< tell what is this bad or worse; nothing: what the format tells
    bool each = false;                   ///< of many plans the whole report of each, and no overview
    bool by_rule = false;                ///< and how often each rule was found
    bool full = false;                   ///< every finding with its whole story; of JSON every outcome
    std::string baseline;                ///< earlier SARIF report; "" for none
    std::string today;                   ///< YYYY-MM-DD, for acceptances with a last day; "" for none
    std::string about;  ///< an element, a set or a rule: its whole story and nothing else; "" for all
};

struct TogetherOptions {
    std::string plan;                    ///< file or "-"
    std::vector<std::string> overrides;  ///< PATH=VALUE
    bool all = false, room = false, json = false;
};

struct SizeOptions {
    std::string plan;                    ///< file or "-"
    std::vector<std::string> overrides;  ///< PATH=VALUE
    std::string prices, write;           ///< files; "" for none
    bool cautions = false;               ///< cure what is only a caution as well
    bool json = false;
};

struct CardOptions {
    std::string plan;                    ///< file or "-"
    std::vector<std::string> overrides;  ///< PATH=VALUE
    std::string sheet = "card", format = "text", paper = "A4";
    std::size_t columns = 0;  ///< of text; 0: as wide as the terminal
    std::size_t page = 0;     ///< of svg, counted from 1; 0: all, one below another
};

struct PartsOptions {
    std::string plan;                     ///< file or "-"
    std::vector<std::string> overrides;   ///< PATH=VALUE
    std::vector<std::string> allowances;  ///< NAME=VALUE
    std::string stock, sold;              ///< file of sold lengths, and lengths of all others; "" for none
    std::string format = "text";
};

/// Reads and judges one text: benchfeed::check(), or what a test puts in its place.
using Judge = std::function<std::variant<Judged, Diagnostics>(
    const text::Document&, const tables::Catalogue&, const plan::Words&, std::span<const plan::Override>)>;

/// An exception at one plan is told as that plan's own entry, with exit code 2; the others are judged.
[[nodiscard]] int run_check(const CheckOptions& options, const report::Style& style, const Judge& judge = {});
/// check --try: the exit code is that of the plan as it stands.
[[nodiscard]] int run_try(const CheckOptions& options, const report::Style& style);
[[nodiscard]] int run_together(const TogetherOptions& options, const report::Style& style);
[[nodiscard]] int run_size(const SizeOptions& options, const report::Style& style);
[[nodiscard]] int run_card(const CardOptions& options, const report::Style& style);
[[nodiscard]] int run_parts(const PartsOptions& options, const report::Style& style);
[[nodiscard]] int run_explain(const std::string& rule, const report::Style& style);
/// What differs between two plans; the what-if is applied to the second.
struct CompareOptions {
    std::string before, after;
    std::vector<std::string> overrides;
    std::string format = "text";
    bool fail_on_worse = true;
    std::string old_root;  ///< common files of the old side are read below it; "" for --root
};

[[nodiscard]] int run_compare(const CompareOptions& options, const report::Style& style);
/// The same of two folders: plans are paired by path, then renamed ones by what stands in them.
[[nodiscard]] int run_compare_folders(const CompareOptions& options, const report::Style& style);
/// `of`: the command whose manual page is asked for, "" for the page of all.
[[nodiscard]] int run_completions(const std::string& shell, const std::string& of,
                                  const ProgramInfo& described);
/// What to look up, on a sheet with blanks: `plan`, `overrides`, `format` and `paper` count.
[[nodiscard]] int run_questions(const CardOptions& options, const report::Style& style);
/// Every [[accept]] of these plans; found where the time of one is over.
[[nodiscard]] int run_accepted(const CheckOptions& options, const report::Style& style);
/// One text of a plan and its common files; it is judged before it is printed.
[[nodiscard]] int run_flatten(const std::string& plan, const report::Style& style);

/// A plan to begin with: the template of a region, or what the answers say of a bench.
struct NewOptions {
    advice::Answers answers;
    bool ask = false;  ///< ask for what is not given, in the terminal
};
[[nodiscard]] int run_new(const NewOptions& options, const report::Style& style);
/// The answers of whoever sits before the terminal; nothing if the input ends before all is asked.
[[nodiscard]] std::optional<advice::Answers> asked(advice::Answers answers, const tables::Catalogue& tables,
                                                   const report::Style& style);
/// Of plans, or of common files.
[[nodiscard]] int run_schema(bool common);
[[nodiscard]] int run_rules(const std::string& format, const report::Style& style);

/// A table, a list of words of a plan, or the list of tables.
struct TablesOptions {
    std::string id, region;  ///< region: of a list of words; "" for all
    std::string format = "text";
};
[[nodiscard]] int run_tables(const TablesOptions& options, const report::Style& style);

}  // namespace benchfeed::cli
