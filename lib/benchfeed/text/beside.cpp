#include <benchfeed/text/beside.hpp>

namespace benchfeed::text {

namespace {

void shift(Span& span, std::uint32_t by) {
    if (span.nowhere()) return;
    span.line += by;
    span.end_line += by;
}

// Texts nest at most 16 deep: scan() holds that before anything is parsed.
void shift(Node& node, std::uint32_t by);
void shift(Table& table, std::uint32_t by) {
    for (Entry& entry : table.entries) {
        shift(entry.key_span, by);
        shift(entry.node, by);
    }
}
void shift(Node& node, std::uint32_t by) {
    shift(node.span, by);
    if (auto* table = std::get_if<Table>(&node.value)) shift(*table, by);
    if (auto* array = std::get_if<Array>(&node.value))
        for (Node& item : array->items) shift(item, by);
}

Parsed shifted(Parsed parsed, std::uint32_t by) {
    shift(parsed.root, by);
    for (Diagnostic& problem : parsed.problems)
        for (Label& label : problem.labels) shift(label.span, by);
    return parsed;
}

}  // namespace

Beside::Beside(Document text, std::uint32_t lines_before, const Limits& limits)
    : document(std::move(text)),
      before(lines_before),
      parsed(shifted(parse_toml(document, limits), lines_before)) {
    for (const Entry& kind : parsed.root.entries)
        if (const auto* table = kind.node.as<Table>())
            for (const Entry& entry : table->entries)
                if (entry.node.as<Table>()) named.emplace(kind.key + "." + entry.key, &entry);
}

std::string whole_text(const Document& document) {
    std::string all = document.content();
    for (const auto& text : document.beside()) all += text->document.content();
    return all;
}

std::uint32_t lines_through(const Beside& text) {
    return text.before + static_cast<std::uint32_t>(text.document.line_count());
}

}  // namespace benchfeed::text
