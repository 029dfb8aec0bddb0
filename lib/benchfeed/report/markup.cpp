#include <benchfeed/report/markup.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

std::string markup(std::string_view text) {
    const std::string clean = harmless(text);
    std::string out;
    out.reserve(clean.size());
    for (std::size_t i = 0; i < clean.size();) {
        const std::string_view character = std::string_view(clean).substr(
            i, std::max<std::size_t>(1, character_length(std::string_view(clean).substr(i))));
        i += character.size();
        if (character == "&")
            out += "&amp;";
        else if (character == "<")
            out += "&lt;";
        else if (character == ">")
            out += "&gt;";
        else if (character == "\"")
            out += "&quot;";
        else if (character == "'")
            out += "&#39;";
        else if (character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF")
            out += '?';
        else
            out += character;
    }
    return out;
}

std::string shortened(std::string_view text, std::size_t most) {
    if (columns(text) <= most) return std::string(text);
    std::string out;
    for (std::size_t i = 0, taken = 0; i < text.size() && taken + 3 < most; ++taken) {
        const std::size_t length = std::max<std::size_t>(1, character_length(text.substr(i)));
        out += text.substr(i, length);
        i += length;
    }
    return out + "...";
}

std::string coordinate(double value) {
    std::string text = fmt::format("{:.2f}", value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text == "-0" ? "0" : text;
}

}  // namespace benchfeed::report
