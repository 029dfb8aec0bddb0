#include <benchfeed/report/json_parts.hpp>

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/circuits.hpp>

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

Json circuits_json(const rules::Situation& s, std::span<const plan::Index> loads) {
    Json list = Json::array();
    for (const rules::CircuitAmps& circuit : rules::amps_by_circuit(s, loads))
        list.push_back({{"at", s.plan[circuit.at].path()},
                        {"current", measure_json(circuit.drawn)},
                        {"rating", optional_json(circuit.rated)},
                        {"complete", !circuit.unknown_load}});
    return list;
}

Json place_json(const Label& label) {
    const Span& span = label.span;
    if (span.nowhere()) return nullptr;
    return {{"file", label.file.empty() ? Json(nullptr) : Json(label.file)},
            {"line", span.line},
            {"column", span.column},
            {"end_line", span.end_line},
            {"end_column", span.end_column}};
}

Json words_json(std::string_view text) {
    return harmless(text);
}

Json words_list_json(const std::vector<std::string>& texts) {
    Json list = Json::array();
    for (const std::string& text : texts) list.push_back(words_json(text));
    return list;
}

Json step_json(const Step& step) {
    return {{"symbol", words_json(step.symbol)},   {"formula", words_json(step.formula)},
            {"numbers", words_json(step.numbers)}, {"result", words_json(step.result)},
            {"words", words_json(step.words)},     {"sources", words_list_json(step.sources)}};
}

Json citation_json(const tables::Citation& source) {
    return {{"id", source.table},      {"table", source.place.empty() ? source.source : source.place},
            {"source", source.source}, {"edition", source.edition},
            {"cell", source.cell()},   {"verified", tables::words(source.grade)}};
}

Json tool_json(const Tool& tool) {
    return {{"name", tool.name}, {"version", tool.version}};
}

}  // namespace benchfeed::report
