#include <benchfeed/text/document.hpp>

#include <algorithm>

#include <benchfeed/text/beside.hpp>

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

Document Document::with(std::string path, std::string content) const {
    Document other(std::move(path), std::move(content));
    other.beside_ = beside_;
    return other;
}

const Beside* Document::holder_of(std::uint32_t number) const {
    for (const auto& text : beside_)
        if (number > text->before && number - text->before <= text->document.line_count()) return text.get();
    return nullptr;
}

Document::Place Document::place(const Span& span) const {
    const Beside* holder = span.line < first_line_beside ? nullptr : holder_of(span.line);
    if (!holder) return {*this, span};
    return {holder->document,
            {span.line - holder->before, span.column, span.end_line - holder->before, span.end_column},
            true};
}

std::string_view Document::line(std::uint32_t number) const {
    if (number >= first_line_beside) {
        const Beside* holder = holder_of(number);
        return holder ? holder->document.line(number - holder->before) : std::string_view{};
    }
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
