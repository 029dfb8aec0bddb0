#pragma once
// The commands, one file each. They are the only place that reads files, prints and knows exit codes.
#include <string>
#include <vector>

#include "check.hpp"
#include "report/style.hpp"

namespace benchfeed::cli {

/// Exit codes: good, something found at the level asked for, input or usage that cannot be processed.
enum Exit : int { good = 0, found = 1, unusable = 2 };

struct CheckOptions {
    std::vector<std::string> plans;      ///< files, folders or "-"
    std::vector<std::string> overrides;  ///< PATH=VALUE
    std::vector<std::string> tries;      ///< PATH=VALUES: a table for each instead of the report
    FailOn fail_on = FailOn::fail;
    bool quiet = false;
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
    bool json = false;
};

[[nodiscard]] int run_check(const CheckOptions& options, const report::Style& style);
/// check --try: the exit code is that of the plan as it stands.
[[nodiscard]] int run_try(const CheckOptions& options, const report::Style& style);
[[nodiscard]] int run_together(const TogetherOptions& options, const report::Style& style);
[[nodiscard]] int run_size(const SizeOptions& options, const report::Style& style);
[[nodiscard]] int run_explain(const std::string& rule, const report::Style& style);
[[nodiscard]] int run_rules(const report::Style& style);
[[nodiscard]] int run_tables(const std::string& id, const report::Style& style);

}  // namespace benchfeed::cli
