#include <benchfeed/text/scan.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace benchfeed::text {

namespace {

std::uint32_t columns_of(std::string_view line) {
    return static_cast<std::uint32_t>(std::count_if(
        line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

Span at(std::uint32_t line, std::uint32_t column, std::uint32_t length = 1) {
    return {line, column, line, column + length};
}

/// Length of a well-formed UTF-8 character at the front, 0 for none (overlong and surrogates included).
std::size_t character_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    if (lead < 0x80) return 1;
    const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(i) & 0xC0u) != 0x80u) return 0;
    if ((lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xED && byte(1) > 0x9F) ||
        (lead == 0xF0 && byte(1) < 0x90) || (lead == 0xF4 && byte(1) > 0x8F))
        return 0;
    return length;
}

bool is_plain(char c) {
    return c >= 0x20 && c < 0x7f;
}

std::optional<Diagnostic> bad_character(std::string_view line, std::uint32_t number) {
    if (std::all_of(line.begin(), line.end(), is_plain)) return std::nullopt;
    std::uint32_t column = 1;
    for (std::size_t i = 0; i < line.size(); ++column) {
        const auto c = static_cast<unsigned char>(line[i]);
        if (is_plain(line[i])) {
            ++i;
            continue;
        }
        if (c == '\r')
            return Diagnostic{"",
                              "there is a carriage return inside a line",
                              {{at(number, column), ""}},
                              "line ends of one kind, as every editor saves them: LF or CR LF"};
        if ((c < 0x20 && c != '\t') || c == 0x7f)
            return Diagnostic{"",
                              fmt::format("there is a control character (byte {:#04x}) in the text", c),
                              {{at(number, column), ""}},
                              "the line without it"};
        const std::size_t length = character_length(line.substr(i));
        if (length == 0)
            return Diagnostic{"",
                              fmt::format("byte {:#04x} is not UTF-8", c),
                              {{at(number, column), ""}},
                              "the file saved as UTF-8"};
        i += length;
    }
    return std::nullopt;
}

constexpr std::size_t deepest = 16;  // a plan needs three

/// State of a line as far as a scanner needs it: inside a string, or not.
struct Outside {
    bool multi_line = false;  ///< three quotes stand here
    std::uint32_t column = 0;
    std::size_t longest = 0;  ///< longest text in quotes that is too long, in code points
    std::uint32_t longest_at = 0;
    std::size_t dots = 0;          ///< most dots of a key or header: nesting
    std::size_t brackets = 0;      ///< deepest nesting of [ and {
    bool any_bracket = false;      ///< one of [ ] { } stands here
    std::uint32_t deepest_at = 1;  ///< column where either goes too deep
    std::string_view code;         ///< the line without its comment
};

/// Bytes that mean something outside of quotes.
constexpr auto meaningful = [] {
    std::array<bool, 256> is{};
    for (const char c : std::string_view("\"'#[]{}.=,")) is[static_cast<unsigned char>(c)] = true;
    return is;
}();

/// Where the text ends whose opening quote stands at `start`: at its quote, or at the end of the line.
std::size_t end_of_text(std::string_view line, std::size_t start) {
    const char quote = line[start];
    std::size_t i = start + 1;
    for (; i < line.size() && line[i] != quote; ++i)
        if (line[i] == '\\' && quote == '"') ++i;
    return std::min(i, line.size());
}

Outside look_at(std::string_view line, std::size_t most_characters) {
    Outside seen;
    std::size_t depth = 0, dots = 0;
    seen.code = line;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (!meaningful[static_cast<unsigned char>(c)]) continue;
        if (c == '"' || c == '\'') {
            if (line.substr(i).starts_with("\"\"\"") || line.substr(i).starts_with("'''")) {
                seen.multi_line = true;
                seen.column = columns_of(line.substr(0, i)) + 1;
                return seen;
            }
            const std::size_t end = end_of_text(line, i), bytes = end - i - 1;
            const bool closed = end < line.size();
            const std::size_t length =  // of as many bytes at most
                closed && bytes > most_characters ? columns_of(line.substr(i + 1, bytes)) : 0;
            if (length > std::max(seen.longest, most_characters)) {
                seen.longest = length;
                seen.longest_at = columns_of(line.substr(0, i)) + 1;
            }
            i = end;
        } else if (c == '#') {
            seen.code = line.substr(0, i);
            break;
        } else if (c == '[' || c == '{') {
            seen.any_bracket = true;
            seen.brackets = std::max(seen.brackets, ++depth);
            if (depth == deepest + 1) seen.deepest_at = columns_of(line.substr(0, i)) + 1;
        } else if (c == ']' || c == '}') {
            seen.any_bracket = true;
            if (depth > 0) --depth;
        } else if (c == '.') {
            seen.dots = std::max(seen.dots, ++dots);
            if (dots == deepest + 1) seen.deepest_at = columns_of(line.substr(0, i)) + 1;
        } else if (c == '=' || c == ',') {
            dots = 0;
        }
    }
    return seen;
}

/// UTF-16 begins with a mark that is no UTF-8; each of its bytes would be a mistake of its own.
bool is_utf_16(std::string_view content) {
    return content.starts_with("\xff\xfe") || content.starts_with("\xfe\xff");
}

}  // namespace

Span whole_line(const Document& document, std::uint32_t line) {
    return at(line, 1, std::max<std::uint32_t>(1, columns_of(document.line(line))));
}

Diagnostics scan(const Document& document, const Limits& limits) {
    Diagnostics problems;
    if (document.content().size() > limits.file_bytes) {
        problems.push_back({"",
                            fmt::format("the file has {} bytes; at most {} are read",
                                        document.content().size(), limits.file_bytes),
                            {},
                            ""});
        return problems;
    }
    if (is_utf_16(document.content())) {
        problems.push_back({"", "the file is UTF-16", {{at(1, 1), ""}}, "the file saved as UTF-8"});
        return problems;
    }
    std::size_t open_brackets = 0;
    for (std::uint32_t number = 1; number <= document.line_count() && problems.size() < limits.problems;
         ++number) {
        const std::string_view line = document.line(number);
        if (line.size() > limits.line_bytes) {
            problems.push_back(
                {"",
                 fmt::format("the line has {} bytes; at most {} are read", line.size(), limits.line_bytes),
                 {{at(number, 1), ""}},
                 "shorter lines"});
            continue;
        }
        if (auto bad = bad_character(line, number)) {
            problems.push_back(std::move(*bad));
            continue;
        }
        const Outside seen = look_at(line, limits.text_characters);
        if (seen.multi_line && !limits.multi_line_strings)
            problems.push_back({"",
                                "a text over several lines is not read",
                                {{at(number, seen.column, 3), ""}},
                                "\"the text on one line\""});
        if (seen.longest > 0)
            problems.push_back({"",
                                fmt::format("the text has {} characters; at most {} are read", seen.longest,
                                            limits.text_characters),
                                {{at(number, seen.longest_at), ""}},
                                "a shorter text"});
        if (std::max(seen.dots, seen.brackets) > deepest)
            problems.push_back({"",
                                fmt::format("tables are nested more than {} deep", deepest),
                                {{at(number, seen.deepest_at), ""}},
                                "fewer levels: a plan needs three, as in [load.NAME.plate]"});
        if (!seen.any_bracket) continue;
        // Lists may run over lines: their nesting adds up.
        for (const char c : seen.code) {
            if (c == '[' || c == '{') ++open_brackets;
            if ((c == ']' || c == '}') && open_brackets > 0) --open_brackets;
        }
        const std::string_view code =
            seen.code.substr(std::min(seen.code.find_first_not_of(" \t"), seen.code.size()));
        if (code.starts_with('[') && code.find('=') == std::string_view::npos) open_brackets = 0;
        if (open_brackets > 64) {
            problems.push_back(
                {"", "lists are nested more than 64 deep", {{at(number, 1), ""}}, "a list of plain values"});
            open_brackets = 0;
        }
    }
    return problems;
}

std::vector<Block> blocks_of(const Document& document) {
    std::vector<Block> blocks;
    const std::string_view content = document.content();
    std::size_t start = 0, at_byte = 0;
    std::uint32_t first_line = 1;
    for (std::uint32_t number = 1; number <= document.line_count(); ++number) {
        const std::string_view line = document.line(number);
        const std::size_t line_start = at_byte;
        const std::size_t end = content.find('\n', at_byte);
        at_byte = end == std::string_view::npos ? content.size() : end + 1;
        const std::size_t first = line.find_first_not_of(" \t");
        const bool header = first != std::string_view::npos && line[first] == '[' && first == 0;
        if (!header || line_start == start) continue;
        blocks.push_back({first_line, content.substr(start, line_start - start)});
        start = line_start;
        first_line = number;
    }
    blocks.push_back({first_line, content.substr(start)});
    return blocks;
}

std::optional<std::string> quoted_word(std::string_view message) {
    const auto from = message.find('\'');
    if (from == std::string_view::npos) return std::nullopt;
    const auto to = message.find('\'', from + 1);
    if (to == std::string_view::npos || to == from + 1) return std::nullopt;
    return std::string(message.substr(from + 1, to - from - 1));
}

std::optional<Span> first_place_of(const Document& document, std::string_view key, const Span& second) {
    const std::string_view last =
        key.substr(key.find_last_of('.') == std::string_view::npos ? 0 : key.find_last_of('.') + 1);
    // A header of that name anywhere above; a key only within the same block.
    std::uint32_t block_start = second.line;
    while (block_start > 1 && !document.line(block_start).starts_with('[')) --block_start;
    for (std::uint32_t number = 1; number <= second.line; ++number) {
        const std::string_view line = document.line(number);
        const auto first = line.find_first_not_of(" \t");
        if (first == std::string_view::npos) continue;
        const std::string_view code = line.substr(first);
        const std::string header = fmt::format("[{}]", key);
        if (number < second.line && code.starts_with(header))
            return at(number, static_cast<std::uint32_t>(first) + 1,
                      static_cast<std::uint32_t>(header.size()));
        // { current = "7 A", current = "8 A" }: within the line of the second.
        if (number == second.line) {
            const std::string_view before = line.substr(0, document.byte_of(line, second.column));
            const auto there = before.find(last);
            const auto next = there == std::string_view::npos
                                  ? there
                                  : before.find_first_not_of(" \t", there + last.size());
            if (next != std::string_view::npos && before[next] == '=')
                return at(number, columns_of(before.substr(0, there)) + 1, columns_of(last));
        }
        const bool key_here = code.starts_with(last) && code.size() > last.size() &&
                              code.find_first_not_of(" \t", last.size()) != std::string_view::npos &&
                              code[code.find_first_not_of(" \t", last.size())] == '=';
        if (number >= block_start && number < second.line && key_here)
            return at(number, static_cast<std::uint32_t>(first) + 1, static_cast<std::uint32_t>(last.size()));
    }
    return std::nullopt;
}

}  // namespace benchfeed::text
