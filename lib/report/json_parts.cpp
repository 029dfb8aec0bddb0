#include "report/json_parts.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "report/style.hpp"

namespace benchfeed::report {

std::string dumped(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json rounded(double value) {
    if (!std::isfinite(value)) return nullptr;
    const std::string text = fmt::format("{:.5e}", value);
    double six = 0;
    std::from_chars(text.data(), text.data() + text.size(), six);
    if (six == std::floor(six) && std::abs(six) < 1e15) return static_cast<std::int64_t>(six);
    return six;
}

Json measure_json(const Measure& measure) {
    if (std::holds_alternative<std::monostate>(measure)) return nullptr;
    Json value = rounded(number(measure));
    if (value.is_null()) return nullptr;
    return {{"number", std::move(value)}, {"unit", unit_name(measure)}};
}

Json place_json(const Span& span) {
    if (span.nowhere()) return nullptr;
    return {{"line", span.line},
            {"column", span.column},
            {"end_line", span.end_line},
            {"end_column", span.end_column}};
}

Json words_json(std::string_view text) {
    return harmless(text);
}

Json tool_json(const Tool& tool) {
    return {{"name", tool.name}, {"version", tool.version}};
}

}  // namespace benchfeed::report
