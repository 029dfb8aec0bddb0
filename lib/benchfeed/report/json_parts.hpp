#pragma once
// Pieces that the writers of JSON share. Not for use outside this folder; included in .cpp files only.
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/base/measure.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/report/json.hpp>
#include <benchfeed/rules/rule.hpp>
#include <benchfeed/tables/table.hpp>

namespace benchfeed::rules {
struct Comparison;
}

namespace benchfeed::report {

using Json = nlohmann::ordered_json;

/// One line. Bytes that are no UTF-8 (a file's name may hold them) become the replacement character.
[[nodiscard]] std::string dumped(const Json& json);
/// Six digits, the same from every compiler; whole numbers without a point; null where there is none.
[[nodiscard]] Json rounded(double value);
/// {"number": 16, "unit": "A"}, or null.
[[nodiscard]] Json measure_json(const Measure& measure);
template <class Q>
[[nodiscard]] Json optional_json(const std::optional<Q>& quantity) {
    return quantity ? measure_json(Measure(*quantity)) : Json(nullptr);
}
/// What some loads draw, by supply circuit: amps of two of them are never one figure.
[[nodiscard]] Json circuits_json(const rules::Situation& s, std::span<const plan::Index> loads);
/// {"file": null, "line": 3, "column": 10, "end_line": 3, "end_column": 17}, or null. Pre: located().
[[nodiscard]] Json place_json(const Label& label);
/// Text for people: control characters made visible.
[[nodiscard]] Json words_json(std::string_view text);
[[nodiscard]] Json words_list_json(const std::vector<std::string>& texts);
[[nodiscard]] Json step_json(const Step& step);
[[nodiscard]] Json citation_json(const tables::Citation& source);
/// "worse", "better", "differences", "moved" and "tests" of two plans.
void add_comparison(Json& json, const rules::Comparison& comparison);
[[nodiscard]] Json tool_json(const Tool& tool);

}  // namespace benchfeed::report
