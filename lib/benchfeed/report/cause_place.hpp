#pragma once
// Where a finding is caused: the value that somebody would change, not the part that suffers.
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::report {

/// The value whose smallest relative change cures, among remedies that were tried and change one value of the
/// plan; else, of volts that are lost, the length of the cable that takes most of them; nowhere: the finding
/// knows no better place than its own.
[[nodiscard]] Span cause_place(const rules::Situation& situation, const rules::Outcome& outcome,
                               const std::vector<rules::Remedy>& tried);

/// A value of the plan to be written in the place of another.
struct Replacement {
    Span place;
    std::string text;  ///< as it stands in the plan, quotes included
};
/// Those that make a remedy in the text of the plan itself; empty: a field is absent, or there is more to do.
[[nodiscard]] std::vector<Replacement> replacements(const rules::Situation& situation,
                                                    const rules::Remedy& tried);

}  // namespace benchfeed::report
