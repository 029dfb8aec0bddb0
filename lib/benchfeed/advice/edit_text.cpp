#include <benchfeed/advice/edit_text.hpp>

#include <algorithm>
#include <tuple>

namespace benchfeed::advice {

namespace {

std::size_t offset_of(const text::Document& document, std::uint32_t line, std::uint32_t column) {
    const std::string_view text = document.line(line);
    return static_cast<std::size_t>(text.data() - document.content().data()) + document.byte_of(text, column);
}

/// Spaces before the comment that follows directly; 0 where none does.
std::size_t spaces_before_comment(const std::string& text, std::size_t from) {
    std::size_t end = from;
    while (end < text.size() && text[end] == ' ') ++end;
    return end < text.size() && text[end] == '#' ? end - from : 0;
}

}  // namespace

std::string edited(const text::Document& document, std::vector<Edit> edits) {
    std::sort(edits.begin(), edits.end(), [](const Edit& a, const Edit& b) {
        return std::tie(a.span.line, a.span.column) > std::tie(b.span.line, b.span.column);
    });
    std::string text = document.content();
    for (const Edit& edit : edits) {  // from the end on: places before stay where they are
        const std::size_t from = offset_of(document, edit.span.line, edit.span.column),
                          to = offset_of(document, edit.span.end_line, edit.span.end_column);
        const std::size_t spaces = spaces_before_comment(text, to), before = to - from,
                          after = edit.text.size();
        std::size_t wanted = spaces;
        if (spaces > 0)
            wanted = spaces + before > after ? std::max<std::size_t>(1, spaces + before - after) : 1;
        text.replace(from, before + spaces, edit.text + std::string(wanted, ' '));
    }
    return text;
}

}  // namespace benchfeed::advice
