#pragma once
// Reports for programs, made piece by piece: a report of ten thousand plans never holds more than one.
//
//     opening, piece, separator, piece, ..., [middle, piece, separator, ...,] closing
#include <functional>
#include <span>
#include <string>
#include <string_view>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/report/sink.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// Who wrote a report.
struct Tool {
    std::string_view name, version;
};

class Baseline;

/// A plan that was judged, and which of its outcomes reach the level that was asked for.
struct JudgedPlan {
    const text::Document& document;
    rules::Situation situation;
    const rules::Judgement& judgement;
    std::function<bool(const rules::Outcome&)> reaches;
    /// Remedies of an outcome, tried on the whole plan; empty: those of the rule as they are.
    std::function<std::vector<rules::Remedy>(const rules::Outcome&)> remedies = {};
    /// What is told: outcomes this bad or worse. Passes are many and say little; a host may refuse them.
    rules::Verdict show = rules::Verdict::caution;
    /// Of JSON: every outcome with its steps and sources, not only what is found.
    bool full = false;
    /// Of SARIF: results of an earlier report, against which these are held; nullptr for none.
    Baseline* baseline = nullptr;
};

/// A format that programs read.
struct MachineFormat {
    std::string_view name;  ///< as --format says it
    std::string (*opening)(const Tool& tool);
    /// What it tells of a plan is never held whole: of a large one it may be hundreds of megabytes.
    void (*plan)(const JudgedPlan& plan, const Sink& sink);
    /// The faults of one text that could not be judged, or of a file that could not be read. Pre: not empty.
    std::string (*unreadable)(const std::string& path, const Diagnostics& problems);
    std::string_view separator;
    std::string_view middle;  ///< not empty: what is unreadable stands behind it, after all plans
    std::string (*closing)(bool all_readable);
};

[[nodiscard]] BENCHFEED_API std::span<const MachineFormat> machine_formats();
/// nullptr for a format that no program reads, such as text.
[[nodiscard]] BENCHFEED_API const MachineFormat* find_machine_format(std::string_view name);

/// What json_plan(), sarif_plan() or junit_plan() writes of a plan, as one text.
[[nodiscard]] BENCHFEED_API std::string written(void (*plan)(const JudgedPlan&, const Sink&),
                                                const JudgedPlan& judged);

// The pieces of each; see data/schemas/output.schema.json, SARIF 2.1.0 and JUnit XML.
[[nodiscard]] BENCHFEED_API std::string json_opening(const Tool& tool);
BENCHFEED_API void json_plan(const JudgedPlan& plan, const Sink& sink);
[[nodiscard]] BENCHFEED_API std::string json_unreadable(const std::string& path, const Diagnostics& problems);
[[nodiscard]] BENCHFEED_API std::string json_closing(bool all_readable);
[[nodiscard]] BENCHFEED_API std::string sarif_opening(const Tool& tool);
BENCHFEED_API void sarif_plan(const JudgedPlan& plan, const Sink& sink);
[[nodiscard]] BENCHFEED_API std::string sarif_unreadable(const std::string& path,
                                                         const Diagnostics& problems);
[[nodiscard]] BENCHFEED_API std::string sarif_closing(bool all_readable);
[[nodiscard]] BENCHFEED_API std::string junit_opening(const Tool& tool);
BENCHFEED_API void junit_plan(const JudgedPlan& plan, const Sink& sink);
[[nodiscard]] BENCHFEED_API std::string junit_unreadable(const std::string& path,
                                                         const Diagnostics& problems);
[[nodiscard]] BENCHFEED_API std::string junit_closing(bool all_readable);

}  // namespace benchfeed::report
