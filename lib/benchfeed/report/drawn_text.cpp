#include <benchfeed/report/drawn_text.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

namespace {

/// Columns that a text takes in a drawing: wide characters count twice.
std::size_t broad(std::string_view text) {
    std::size_t sum = 0;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = std::max<std::size_t>(1, character_length(text.substr(at)));
        // Three bytes hold everything from U+0800 on: scripts whose signs are wide; four bytes hold emoji.
        sum += length >= 3 ? 2 : 1;
        at += length;
    }
    return sum;
}

}  // namespace

std::vector<std::string> broken(const std::string& text, double width, double height, std::size_t most) {
    const auto room = static_cast<std::size_t>(std::max(4.0, std::floor(width / (height * drawn_wide))));
    std::vector<std::string> lines{""};
    const auto put = [&](const std::string& word) {
        std::string& line = lines.back();
        if (!line.empty() && broad(line) + 1 + broad(word) > room)
            lines.push_back(word);
        else
            line += (line.empty() ? "" : " ") + word;
    };
    std::string word;
    for (std::size_t at = 0; at <= text.size();) {
        if (at == text.size() || text[at] == ' ') {
            if (!word.empty()) put(word);
            word.clear();
            ++at;
            continue;
        }
        const std::size_t length = std::max<std::size_t>(1, character_length(text.substr(at)));
        const std::string character = text.substr(at, length);
        if (broad(word) + broad(character) > room) {
            put(word);
            word.clear();
        }
        word += character;
        at += length;
    }
    if (lines.size() > most) {
        lines.resize(most);
        std::string& last = lines.back();
        while (broad(last) + 3 > room && !last.empty()) {
            do last.pop_back();
            while (!last.empty() && (static_cast<unsigned char>(last.back()) & 0xc0u) == 0x80u);
            if (!last.empty() && static_cast<unsigned char>(last.back()) >= 0xc0u) last.pop_back();
        }
        last += "...";
    }
    return lines;
}

std::string text_at(double x, double y, double size, const std::string& words, bool strong, Anchor anchor) {
    constexpr std::string_view anchors[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
    return fmt::format(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"#000\" stroke=\"none\"{}{}>{}</text>\n",
        coordinate(x), coordinate(y), coordinate(size), strong ? " font-weight=\"bold\"" : "",
        anchors[static_cast<std::size_t>(anchor)], markup(words));
}

}  // namespace benchfeed::report
