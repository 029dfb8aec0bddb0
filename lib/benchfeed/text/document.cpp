#include <benchfeed/text/document.hpp>

#include <algorithm>

namespace benchfeed::text {

namespace {
bool continues_a_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u;
}
}  // namespace

Document::Document(std::string path, std::string content)
    : path_(std::move(path)), content_(std::move(content)) {
    starts_.push_back(0);
    for (auto end = content_.find('\n'); end != std::string::npos; end = content_.find('\n', end + 1))
        starts_.push_back(end + 1);
}

std::string_view Document::line(std::uint32_t number) const {
    if (number == 0 || number > starts_.size()) return {};
    const std::size_t start = starts_[number - 1];
    std::size_t end = number < starts_.size() ? starts_[number] - 1 : content_.size();
    if (end > start && content_[end - 1] == '\r') --end;
    return std::string_view(content_).substr(start, end - start);
}

std::size_t Document::byte_of(std::string_view line, std::uint32_t column) const {
    std::size_t byte = 0;
    for (std::uint32_t seen = 1; byte < line.size(); ++byte)
        if (!continues_a_character(line[byte]) && seen++ == column) return byte;
    return line.size();
}

std::string_view Document::slice(const Span& span) const {
    const std::string_view text = line(span.line);
    const std::size_t from = byte_of(text, span.column);
    const std::size_t to = span.end_line == span.line ? byte_of(text, span.end_column) : text.size();
    return text.substr(from, std::max(from, to) - from);
}

}  // namespace benchfeed::text
