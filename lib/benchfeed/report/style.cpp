#include <benchfeed/report/style.hpp>

#include <fmt/format.h>

#include <algorithm>

namespace benchfeed::report {

namespace {

bool continues_a_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u;
}

/// Long lines are cut around the place so that the carets stay in sight.
struct Window {
    std::string text;
    std::size_t caret = 0;  ///< columns before the first caret
    std::size_t length = 1;
};

std::string first_columns(std::string_view text, std::size_t count) {
    std::size_t byte = 0;
    for (std::size_t seen = 0; byte < text.size(); ++byte)
        if (!continues_a_character(text[byte]) && seen++ == count) break;
    return std::string(text.substr(0, byte));
}

Window window_of(std::string_view line, std::size_t from, std::size_t to, std::size_t room,
                 const text::Document& document) {
    Window window;
    const std::size_t length = columns(line);
    window.length = std::max<std::size_t>(1, to > from ? to - from : 1);
    const std::size_t skip = from > room / 2 && length > room ? from - room / 2 : 0;
    const std::string_view rest = line.substr(document.byte_of(line, static_cast<std::uint32_t>(skip + 1)));
    window.text = (skip > 0 ? "..." : "") + harmless(first_columns(rest, room));
    window.caret = from - skip + (skip > 0 ? 3 : 0);
    window.length = std::min(window.length, room > window.caret ? room - window.caret : 1);
    return window;
}

}  // namespace

std::string inked(std::string_view text, Ink ink, const Style& style) {
    if (!style.colour || ink == Ink::plain) return std::string(text);
    const char* code = "";
    switch (ink) {
        case Ink::strong:
            code = "1";
            break;
        case Ink::bad:
            code = "1;31";
            break;
        case Ink::doubtful:
            code = "1;33";
            break;
        case Ink::good:
            code = "1;32";
            break;
        case Ink::faint:
            code = "2";
            break;
        case Ink::place:
            code = "36";
            break;
        case Ink::plain:
            break;
    }
    return fmt::format("\033[{}m{}\033[0m", code, text);
}

std::size_t columns(std::string_view text) {
    std::size_t seen = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\033')
            i = std::min(text.find('m', i), text.size());
        else if (!continues_a_character(text[i]))
            ++seen;
    }
    return seen;
}

namespace {
/// Characters that steer a terminal or turn the writing direction: C1 controls, U+061C, U+200B to U+200F,
/// U+2028 to U+202E, U+2060 to U+2069, U+FEFF.
std::size_t steering_length(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u;
    };
    if (byte(0) == 0xC2 && byte(1) < 0xA0) return 2;
    if (byte(0) == 0xD8 && byte(1) == 0x9C) return 2;
    if (byte(0) == 0xE2 && byte(1) == 0x80 &&
        ((byte(2) >= 0x8B && byte(2) <= 0x8F) || (byte(2) >= 0xA8 && byte(2) <= 0xAE)))
        return 3;
    if (byte(0) == 0xE2 && byte(1) == 0x81 && byte(2) >= 0xA0 && byte(2) <= 0xA9) return 3;
    if (byte(0) == 0xEF && byte(1) == 0xBB && byte(2) == 0xBF) return 3;
    return 0;
}
}  // namespace

std::size_t character_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    std::size_t length = 1;
    if (byte(0) >= 0x80)
        length = byte(0) < 0xC2 ? 0 : byte(0) < 0xE0 ? 2 : byte(0) < 0xF0 ? 3 : byte(0) < 0xF5 ? 4 : 0;
    if (length == 0 || length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(i) & 0xC0u) != 0x80u) return 0;
    const bool overlong = (byte(0) == 0xE0 && byte(1) < 0xA0) || (byte(0) == 0xF0 && byte(1) < 0x90);
    const bool surrogate = byte(0) == 0xED && byte(1) >= 0xA0;
    const bool beyond = byte(0) == 0xF4 && byte(1) >= 0x90;
    return overlong || surrogate || beyond ? 0 : length;
}

std::string harmless(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view rest = text.substr(i);
        const std::size_t steering = steering_length(rest), length = character_length(rest);
        i += std::max<std::size_t>({1, steering, length});
        const auto byte = static_cast<unsigned char>(rest.front());
        if (byte == '\t')
            out += ' ';
        else if (steering > 0 || length == 0 || byte < 0x20 || byte == 0x7f)
            out += '?';
        else
            out += rest.substr(0, length);
    }
    return out;
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

namespace {

/// Bytes of a word, inked or not, that fill so many columns; at least one character.
std::size_t bytes_that_fit(std::string_view word, std::size_t room) {
    std::size_t byte = 0;
    for (std::size_t seen = 0; byte < word.size(); ++byte) {
        if (word[byte] == '\033') {
            byte = std::min(word.find('m', byte), word.size() - 1);
            continue;
        }
        if (!continues_a_character(word[byte]) && seen++ == std::max<std::size_t>(room, 1)) break;
    }
    return byte;
}

}  // namespace

std::string wrapped(std::string_view text, std::string_view first, std::string_view rest,
                    const Style& style) {
    std::string out, line(first);
    bool empty = true;
    const auto next_line = [&] {
        out += line + "\n";
        line = rest;
        empty = true;
    };
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        if (!empty && columns(line) + 1 + columns(word) > style.width) next_line();
        if (!empty) line += ' ';
        while (columns(line) + columns(word) > style.width && columns(line) < style.width) {
            const std::size_t fits = bytes_that_fit(word, style.width - columns(line));
            if (fits == word.size()) break;
            line += word.substr(0, fits);
            word.remove_prefix(fits);
            next_line();
        }
        line += word;
        empty = false;
    }
    return out + line + "\n";
}

std::string heading(std::string_view words, const Style& style) {
    const std::string text = wrapped(words, "", "", style);
    return inked(std::string_view(text).substr(0, text.size() - 1), Ink::strong, style) + "\n";
}

std::string place_text(const text::Document& document, const Label& label, std::string_view indent,
                       const Style& style) {
    if (label.span.nowhere()) return {};
    const text::Document::Place place = document.place(label.span);
    const Span& span = place.span;
    const std::string_view line = place.document.line(span.line);
    const std::size_t from = span.column - 1;
    const std::size_t to = span.end_line == span.line ? span.end_column - 1 : columns(line);
    const std::size_t room = style.width > 24 ? style.width - 12 - indent.size() : 24;
    const Window window = window_of(line, from, to, room, document);
    std::string out =
        fmt::format("{}{}:{}:{}\n", indent, harmless(place.document.path()), span.line, span.column);
    if (place.beside)
        out += wrapped("of a common file, as " + harmless(document.path()) + " uses it",
                       std::string(indent) + "  ", std::string(indent) + "  ", style);
    out += fmt::format("{}{:>5} | {}\n", indent, span.line, window.text);
    const std::string carets = std::string(window.caret, ' ') + std::string(window.length, '^');
    const std::string margin = fmt::format("{}      | ", indent);
    const std::string beside = harmless(label.text);
    if (beside.empty()) return out + margin + carets + "\n";
    if (columns(margin) + columns(carets) + 1 + columns(beside) <= style.width)
        return out + margin + carets + " " + beside + "\n";
    return out + margin + carets + "\n" + wrapped(beside, margin + "  ", margin + "  ", style);
}

std::string diagnostics_text(const text::Document& document, const Diagnostics& diagnostics,
                             const Style& style) {
    std::string out;
    for (const Diagnostic& problem : diagnostics) {
        out += wrapped(harmless(problem.message), inked("error: ", Ink::bad, style), "       ", style);
        for (const Label& label : problem.labels) out += place_text(document, label, "  ", style);
        if (!problem.help.empty()) out += wrapped(harmless(problem.help), "  write: ", "         ", style);
        out += "\n";
    }
    out += fmt::format("{} {} in {}: nothing was judged\n", diagnostics.size(),
                       diagnostics.size() == 1 ? "mistake" : "mistakes", harmless(document.path()));
    return out;
}

}  // namespace benchfeed::report
