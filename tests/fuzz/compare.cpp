// Text of a plan, a NUL and the text of another: what differs. Without a NUL the plan and itself.
#include <benchfeed/rules/compare.hpp>

#include <benchfeed/report/compare_text.hpp>
#include <benchfeed/report/machine.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

rules::Comparison compared(const Judged& a, const Judged& b) {
    return rules::compare({a.situation(), a.judgement()}, {b.situation(), b.judgement()});
}

std::size_t of_kind(const rules::Comparison& comparison, rules::Difference::Kind kind) {
    return static_cast<std::size_t>(
        std::count_if(comparison.differences.begin(), comparison.differences.end(),
                      [&](const rules::Difference& d) { return d.kind == kind; }));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using Kind = rules::Difference::Kind;
    const std::string_view bytes = fuzz::text_of(data, size);
    const auto texts = fuzz::split(bytes).value_or(std::pair{bytes, bytes});
    const text::Document before("old", std::string(texts.first)), after("new", std::string(texts.second));
    const auto old_result = check(before, fuzz::catalogue(), fuzz::words());
    const auto* old_plan = std::get_if<Judged>(&old_result);
    if (!old_plan) return 0;
    const rules::Comparison nothing = compared(*old_plan, *old_plan);
    fuzz::must(nothing.differences.empty() && nothing.moved.empty() && nothing.tests.empty());
    // Nor is a comment a difference.
    const auto remarked = check(text::Document("remarked", std::string(texts.first) + "\n# a remark\n"),
                                fuzz::catalogue(), fuzz::words());
    fuzz::must(std::holds_alternative<Judged>(remarked));
    const rules::Comparison remark = compared(*old_plan, std::get<Judged>(remarked));
    fuzz::must(remark.differences.empty() && remark.moved.empty() && remark.tests.empty());
    const auto new_result = check(after, fuzz::catalogue(), fuzz::words());
    const auto* new_plan = std::get_if<Judged>(&new_result);
    if (!new_plan) return 0;
    const rules::Comparison there = compared(*old_plan, *new_plan), back = compared(*new_plan, *old_plan);
    fuzz::must(of_kind(there, Kind::added) == of_kind(back, Kind::removed));
    fuzz::must(of_kind(there, Kind::removed) == of_kind(back, Kind::added));
    fuzz::must(of_kind(there, Kind::changed) == of_kind(back, Kind::changed));
    fuzz::must_be_clean(report::compare_text(there, {80, false}));
    fuzz::must_be_clean(report::compare_json({"fuzz", "0"}, {"old", "new"}, there));
    return 0;
}
