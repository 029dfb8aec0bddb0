#pragma once
// One value of a plan tried over a range or a list.
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/read_plan.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::advice {

using plan::Index;

/// What to try: PATH="1 m to 30 m", or PATH="1.0 mm2, 1.5 mm2, 2.5 mm2".
struct Try {
    std::string path;
    std::vector<std::string> values;  ///< of a range: at round steps, both ends included
    std::string unit;                 ///< of a range; "" for a list
    double from = 0, to = 0;          ///< of a range, in that unit
    /// True for "1 m to 30 m", false for a list.
    [[nodiscard]] bool range() const { return from < to; }
};
/// Errors  no PATH=VALUES; a range whose ends have unlike units or do not rise.
[[nodiscard]] BENCHFEED_API std::variant<Try, Diagnostic> read_try(const std::string& text);

/// A plan with one of the values, judged.
struct Tried {
    std::string value;
    rules::Verdict verdict = rules::Verdict::ok;
    rules::FindingCounts tally;
    /// Largest share of its volts that a load loses.
    struct Drop {
        Ratio lost{};
        Index load = plan::nowhere, set = plan::nowhere;
    };
    std::optional<Drop> drop;
    /// The element that carries the greatest share of what it may.
    struct Weak {
        double share = 0;
        rules::At at;
        rules::Part part = rules::Part::whole;
        Index set = plan::nowhere;
    };
    std::optional<Weak> weakest;
};
/// Where the number of findings of a level changes between two neighbours of a range.
struct Crossing {
    std::string last, first;  ///< last value with the findings before, first one with those after
    rules::Verdict before = rules::Verdict::ok, after = rules::Verdict::ok;  ///< the worst of either
    rules::FindingCounts tally_before, tally_after;
    Index rule = plan::nowhere;  ///< a rule with an outcome that only one of the two has: the worst such one
    rules::At at;
    rules::Part part = rules::Part::whole;
};
/// A table of one value against the verdicts that the plan has with it.
struct Sweep {
    std::vector<Tried> tried;
    std::vector<Crossing> crossings;
};

/// What is needed to read a plan again with another value.
struct Source {
    const text::Document& document;
    const tables::Catalogue& tables;
    const plan::Words& words;
    std::span<const plan::Override> overrides;
};

/// Judge the plan with each value. Of a range every change of the tally between two neighbours is narrowed
/// down by bisection to four digits, up to six of them; what comes and goes between two neighbours is not
/// seen.
///
/// Errors  those of the first value with which the plan cannot be read.
[[nodiscard]] BENCHFEED_API std::variant<Sweep, Diagnostics> sweep(const Source& source, const Try& what);

}  // namespace benchfeed::advice
