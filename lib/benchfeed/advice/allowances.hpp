#pragma once
// What is bought beyond what a plan measures: usual figures from table part-allowances, or what a person
// says.
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::advice {

template <class Q>
/// One allowance: its value, how it was written, and the table that gives it; none where somebody set it.
struct Allowance {
    Q value{};
    std::string written;                     ///< "0.2 m"
    std::optional<tables::Citation> source;  ///< nothing: a person said so
};

/// All of them, as usual or as set.
struct Allowances {
    Allowance<Length> free_end;      ///< at each end of a run
    Allowance<Length> bends;         ///< once for each run: bends and a drip loop
    Allowance<Length> service_loop;  ///< once for each run in the carcass of a bench that moves
    Allowance<Length> clip_spacing;
    Allowance<Ratio> waste;     ///< of every cut
    Allowance<Ratio> ferrules;  ///< of every size
    Allowance<int> spare_ways;  ///< of each potential in a box
};

/// The usual ones, in the measures of the plan's region.
[[nodiscard]] Allowances usual_allowances(const rules::Situation& s);

/// Replace one: "free-end=0.3 m", "waste=5 %", "spare-ways=0". A length may be 0 here, except clip-spacing.
/// Returns why the text is none; its byte range is that of the fault in the text.
[[nodiscard]] BENCHFEED_API std::optional<QuantityFault> allow(Allowances& allowances, std::string_view text);

/// free-end, bends, service-loop, clip-spacing, waste, ferrules, spare-ways: what each is for.
struct AllowanceName {
    std::string_view name, meaning;
};
[[nodiscard]] std::span<const AllowanceName> allowance_names();

}  // namespace benchfeed::advice
