// Our reading of a TOML text as JSON, for comparison with another parser: {"ok": bool, "value": {...}}.
//   toml_as_json FILE...     one line for each
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>

#include <benchfeed/text/toml.hpp>

using namespace benchfeed;
using Json = nlohmann::ordered_json;

namespace {

Json value_of(const text::Node& node);

Json value_of(const text::Table& table) {
    Json json = Json::object();
    for (const text::Entry& entry : table.entries) json[entry.key] = value_of(entry.node);
    return json;
}

Json value_of(const text::Node& node) {
    if (const auto* table = node.as<text::Table>()) return value_of(*table);
    if (const auto* array = node.as<text::Array>()) {
        Json json = Json::array();
        for (const text::Node& item : array->items) json.push_back(value_of(item));
        return json;
    }
    if (const auto* text = node.as<std::string>()) return *text;
    if (const auto* whole = node.as<std::int64_t>()) return *whole;
    if (const auto* flag = node.as<bool>()) return *flag;
    if (const auto* number = node.as<double>()) return *number;
    Json json = Json::object();
    json["a date or time"] = node.as<text::DateTime>()->written;
    return json;
}

}  // namespace

/// The limits of plans are no matter of TOML.
constexpr text::Limits wide{.line_bytes = 1 << 20, .text_characters = 1 << 20, .multi_line_strings = true};

int main(int argc, char** argv) {
    for (int i = 1; i < argc; ++i) {
        std::ifstream file(argv[i], std::ios::binary);
        std::ostringstream content;
        content << file.rdbuf();
        const text::Document document(argv[i], content.str());
        const text::Parsed parsed = text::parse_toml(document, wide);
        const Json line{{"ok", parsed.problems.empty()}, {"value", value_of(parsed.root)}};
        std::cout << line.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
    }
}
