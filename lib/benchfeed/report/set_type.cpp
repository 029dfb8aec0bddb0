#include <benchfeed/report/set_type.hpp>

#include <algorithm>
#include <array>
#include <numeric>

#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

namespace {

/// Thousandths of the type size, from the space to the tilde: the metrics of Helvetica, which the usual
/// sans-serif types keep.
constexpr std::array<int, 95> letters{
    278,  278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,  // space to /
    556,  556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,  // 0 to ?
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,  // @ to O
    667,  778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,  // P to _
    333,  556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,  // ` to o
    556,  556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584};      // p to ~
constexpr std::array<int, 95> bold_letters{
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,  // space to /
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,  // 0 to ?
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,  // @ to O
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,  // P to _
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,  // ` to o
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584};      // p to ~
constexpr std::string_view fixed_space = "\u00a0";
/// Of the Latin letters beyond ASCII the widest in use, and a whole square for every other sign.
constexpr double latin = 0.8, square = 1.0;

double letter_width(std::string_view character, bool bold) {
    const auto first = static_cast<unsigned char>(character.front());
    if (first >= 0x20 && first < 0x7f) return (bold ? bold_letters : letters)[first - 0x20u] / 1000.0;
    if (character == fixed_space) return letters[0] / 1000.0;
    return character.size() > 2 ? square : latin;
}

template <class Each>
void each_character(std::string_view text, Each each) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = std::max<std::size_t>(1, character_length(text.substr(at)));
        each(text.substr(at, length));
        at += length;
    }
}

template <class Each>
void each_word(std::string_view text, Each each) {
    for (std::size_t start = 0; start <= text.size();) {
        const std::size_t end = std::min(text.find(' ', start), text.size());
        if (end > start) each(text.substr(start, end - start));
        start = end + 1;
    }
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
/// What stands behind a figure and never alone.
bool is_unit(std::string_view word) {
    static constexpr std::array units{"A",  "mA",  "V",   "W",  "kW",  "VA",   "kVA", "hp",   "m",  "mm",
                                      "ft", "in",  "mm2", "mm", "AWG", "ohm",  "%",   "Mohm", "Hz", "s",
                                      "ms", "min", "V.",  "A.", "m.",  "kohm", "mW",  "cm3",  "in3"};
    while (!word.empty() && (word.back() == ',' || word.back() == ';' || word.back() == ':' ||
                             word.back() == ')' || word.back() == '.'))
        word.remove_suffix(1);
    return std::find(units.begin(), units.end(), word) != units.end();
}
/// The key of an outlet, before its blank.
bool is_key(std::string_view word) {
    return word.size() > 1 && word.front() == 'O' && is_digit(word[1]);
}
/// What stands before a figure that would mean nothing alone.
bool is_counted(std::string_view word) {
    static constexpr std::array counted{"way", "circuit", "plug", "of", "above", "below", "x", "at"};
    return std::find(counted.begin(), counted.end(), word) != counted.end();
}

}  // namespace

double text_width(std::string_view text, double size, bool bold) {
    double sum = 0;
    each_character(text, [&](std::string_view character) { sum += letter_width(character, bold); });
    return sum * size;
}

double widest_word(std::string_view text, double size, bool bold) {
    double widest = 0;
    each_word(text, [&](std::string_view word) { widest = std::max(widest, text_width(word, size, bold)); });
    return widest;
}

std::vector<std::string> set_lines(std::string_view text, double room, double size, bool bold) {
    room = std::max(room, 1.2 * size);  // one letter stands in any room
    std::vector<std::string> lines{""};
    double used = 0;
    const double space = text_width(" ", size, bold);
    each_word(text, [&](std::string_view word) {
        const double width = text_width(word, size, bold);
        if (used > 0 && used + space + width > room) {
            lines.emplace_back();
            used = 0;
        }
        if (used > 0) {
            lines.back() += ' ';
            used += space;
        }
        if (used + width <= room) {
            lines.back() += word;
            used += width;
            return;
        }
        each_character(word, [&](std::string_view character) {
            const double letter = text_width(character, size, bold);
            if (used > 0 && used + letter > room) {
                lines.emplace_back();
                used = 0;
            }
            lines.back() += character;
            used += letter;
        });
    });
    return lines;
}

std::string kept_together(std::string_view text) {
    std::string out;
    std::string_view before;
    each_word(text, [&](std::string_view word) {
        if (!before.empty()) {
            const bool figure = is_digit(before.back()) || before.back() == '?';
            const bool unit = (figure && is_unit(word)) || (is_counted(before) && is_digit(word.front())) ||
                              (figure && word == "x") || (is_key(before) && word == "______");
            out += unit ? fixed_space : std::string_view(" ");
        }
        out += word;
        before = word;
    });
    return out;
}

std::string plain_spaces(std::string_view text) {
    std::string out(text);
    for (std::size_t at = out.find(fixed_space); at != std::string::npos; at = out.find(fixed_space, at))
        out.replace(at, fixed_space.size(), " ");
    return out;
}

std::vector<double> column_widths(const std::vector<ColumnNeed>& needs, double room) {
    std::vector<double> width;
    for (const ColumnNeed& need : needs) width.push_back(need.whole);
    double sum = std::accumulate(width.begin(), width.end(), 0.0);
    while (sum > room + 0.01) {
        std::size_t widest = width.size();
        for (std::size_t c = 0; c < width.size(); ++c)
            if (width[c] > needs[c].least && (widest == width.size() || width[c] > width[widest])) widest = c;
        if (widest == width.size()) break;  // not even the longest words fit: they are divided
        const double step = std::min({0.5, width[widest] - needs[widest].least, sum - room});
        width[widest] -= step;
        sum -= step;
    }
    for (double& w : width) w *= room / sum;
    return width;
}

}  // namespace benchfeed::report
