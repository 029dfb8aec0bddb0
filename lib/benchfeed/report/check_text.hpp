#pragma once
// The report of `check` as text: the answer first and last, between them what fits a screen.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/rows.hpp>
#include <benchfeed/report/sink.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// How much is printed.
struct CheckTextOptions {
    bool quiet = false;      ///< the first line and nothing else
    bool full = false;       ///< every finding with its places, steps, sources and cures
    Remedies remedies = {};  ///< tried on the whole plan; empty: those of the rule as they are
};

/// The answer, the amps of every set, a line or two for each finding, what to look up first, what is accepted
/// and not checked, the totals, the answer again. `full` has the whole story of each finding instead.
[[nodiscard]] BENCHFEED_API std::string check_text(const text::Document& document,
                                                   const rules::Situation& situation,
                                                   const rules::Judgement& judgement, const Style& style,
                                                   const CheckTextOptions& options = {});
/// The same in pieces: the whole story of every finding of a large plan is long.
BENCHFEED_API void write_check_text(const text::Document& document, const rules::Situation& situation,
                                    const rules::Judgement& judgement, const Style& style,
                                    const CheckTextOptions& options, const Sink& sink);

/// Everything about one thing: an element ("load.saw" or "saw"), a stock, a set ("together.sawing") or a
/// rule. Findings in full, then what was judged there and is in order. Empty: the plan has no such thing.
[[nodiscard]] BENCHFEED_API std::string about_text(const text::Document& document,
                                                   const rules::Situation& situation,
                                                   const rules::Judgement& judgement, std::string_view about,
                                                   const Style& style, const Remedies& remedies = {});

}  // namespace benchfeed::report
