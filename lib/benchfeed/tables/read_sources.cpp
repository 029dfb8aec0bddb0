#include <benchfeed/tables/read_sources.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <benchfeed/text/toml.hpp>

namespace benchfeed::tables {

namespace {

constexpr std::array<std::string_view, 5> known_keys{"title", "publisher", "kind", "editions", "notes"};

std::string text_of(const text::Table& fields, std::string_view key) {
    const auto* entry = fields.find(key);
    const auto* value = entry ? entry->node.as<std::string>() : nullptr;
    return value ? *value : std::string{};
}

std::vector<std::string> texts_of(const text::Table& fields, std::string_view key) {
    std::vector<std::string> out;
    const auto* entry = fields.find(key);
    const auto* list = entry ? entry->node.as<text::Array>() : nullptr;
    for (const auto& item : list ? list->items : std::vector<text::Node>{})
        if (const auto* value = item.as<std::string>()) out.push_back(*value);
    return out;
}

Source read_source(const text::Entry& entry, Diagnostics& problems) {
    const auto fault = [&](const Span& span, std::string message) {
        problems.push_back({"sources", fmt::format("source {}: {}", entry.key, message), {{span, ""}}, ""});
    };
    Source source;
    source.key = entry.key;
    const auto* fields = entry.node.as<text::Table>();
    if (!fields) {
        fault(entry.node.span, "must be a table");
        return source;
    }
    for (const auto& field : fields->entries)
        if (std::find(known_keys.begin(), known_keys.end(), field.key) == known_keys.end())
            fault(field.key_span, "unknown key " + field.key);
    source.title = text_of(*fields, "title");
    source.publisher = text_of(*fields, "publisher");
    source.kind = text_of(*fields, "kind");
    source.editions = texts_of(*fields, "editions");
    source.notes = texts_of(*fields, "notes");
    if (source.title.empty() || source.publisher.empty() || source.kind.empty())
        fault(entry.node.span, "needs title, publisher and kind");
    return source;
}

}  // namespace

std::vector<Source> read_sources(std::string_view content, Diagnostics& problems) {
    const text::Document document("sources.toml", std::string(content));
    text::Limits limits;
    limits.text_characters = 2000;
    const text::Parsed parsed = text::parse_toml(document, limits);
    problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
    std::vector<Source> sources;
    const auto* all = parsed.root.find("source");
    const auto* table = all ? all->node.as<text::Table>() : nullptr;
    if (!table) problems.push_back({"sources", "sources.toml needs tables [source.KEY]", {}, ""});
    for (const auto& entry : table ? table->entries : std::vector<text::Entry>{})
        sources.push_back(read_source(entry, problems));
    return sources;
}

}  // namespace benchfeed::tables
