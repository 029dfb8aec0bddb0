#include <benchfeed/report/place.hpp>

#include <fmt/format.h>

#include <algorithm>

namespace benchfeed::report {

namespace {

constexpr std::size_t longest_value = 40;

std::string_view trimmed(std::string_view text) {
    const auto from = text.find_first_not_of(" \t\r");
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(" \t\r") - from + 1);
}

/// "[switch.saw]" of a line that opens a table, without its remark; "" for any other line.
std::string_view header_of(std::string_view line) {
    line = trimmed(line);
    if (!line.starts_with('[')) return {};
    const auto end = line.find_last_of(']');
    if (end == std::string_view::npos || line.find_first_of("={,", 0) < end) return {};
    const std::string_view rest = trimmed(line.substr(end + 1));
    return rest.empty() || rest.starts_with('#') ? line.substr(0, end + 1) : std::string_view{};
}

/// The key to whose right a value stands; "" where none does.
std::string_view key_before(std::string_view before) {
    before = trimmed(before);
    if (!before.ends_with('=')) return {};
    before = trimmed(before.substr(0, before.size() - 1));
    const auto from = before.find_last_of(" \t{,");
    return from == std::string_view::npos ? before : before.substr(from + 1);
}

std::string cut(std::string_view value) {
    if (columns(value) <= longest_value) return std::string(value);
    std::size_t end = longest_value;
    while (end > 0 && (static_cast<unsigned char>(value[end]) & 0xC0u) == 0x80u) --end;
    return std::string(trimmed(value.substr(0, end))) + " ...";
}

}  // namespace

std::string_view table_above(const text::Document& document, std::uint32_t line) {
    for (; line > 0; --line)
        if (const auto header = header_of(document.line(line)); !header.empty()) return header;
    return {};
}

std::string place_words(const text::Document& document, const Label& label, std::string_view indent,
                        const Style& style) {
    const Span& span = label.span;
    if (span.nowhere()) return {};
    const std::string_view line = document.line(span.line);
    const std::string_view table = table_above(document, span.line);
    std::string text = fmt::format("{}:{}:{},", harmless(document.path()), span.line, span.column);
    if (!table.empty()) text += " " + harmless(table);
    if (header_of(line).empty()) {
        const std::string_view key = key_before(line.substr(0, document.byte_of(line, span.column)));
        text +=
            " " + (key.empty() ? "" : harmless(key) + " = ") + harmless(cut(trimmed(document.slice(span))));
    }
    text = inked(text, Ink::place, style);
    if (!label.text.empty()) text += ": " + harmless(label.text);
    return wrapped(text, indent, std::string(indent) + "  ", style);
}

}  // namespace benchfeed::report
