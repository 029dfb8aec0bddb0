#pragma once
// What stands on the sheet in the cabinet, and on the sheet for whoever connects the cores.
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/report/sheet.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// How a sheet was asked for.
struct CardOptions {
    bool what_if = false;  ///< made with --set: the bench is another one
};

/// The card: how to isolate, what may run together, what hangs where, what a meter should show.
[[nodiscard]] BENCHFEED_API Sheet card_sheet(const text::Document& document,
                                             const rules::Situation& situation,
                                             const rules::Judgement& judgement, const Tool& tool,
                                             const CardOptions& options = {});
/// The one-line diagram alone, as large as the paper takes it: to be read from where the tools stand.
[[nodiscard]] BENCHFEED_API Sheet diagram_sheet(const text::Document& document,
                                                const rules::Situation& situation,
                                                const rules::Judgement& judgement, const Tool& tool,
                                                const CardOptions& options = {});
/// Core by core: a table for each cable, the ways that each potential needs, what is refused and why.
[[nodiscard]] BENCHFEED_API Sheet wiring_sheet(const text::Document& document,
                                               const rules::Situation& situation,
                                               const rules::Judgement& judgement, const Tool& tool,
                                               const CardOptions& options = {});

/// A short number that differs when the text of a plan differs: FNV-1a, 64 bit. No proof of anything.
[[nodiscard]] std::string digest(std::string_view text);

}  // namespace benchfeed::report
