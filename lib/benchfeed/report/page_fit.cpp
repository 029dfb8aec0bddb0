#include <benchfeed/report/page_fit.hpp>

#include <algorithm>
#include <array>
#include <numeric>

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
constexpr double bold_is_wider = 1.08;

double letter_width(std::string_view character) {
    const auto first = static_cast<unsigned char>(character.front());
    if (first >= 0x20 && first < 0x7f) return letters[first - 0x20u] / 1000.0;
    return character.size() > 2 ? 1.0 : 0.67;
}

template <class Each>
void each_character(std::string_view text, Each each) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = std::max<std::size_t>(1, character_length(text.substr(at)));
        each(text.substr(at, length));
        at += length;
    }
}

double widest_word(const std::string& text, double size) {
    double widest = 0;
    for (std::size_t start = 0; start <= text.size();) {
        const std::size_t end = std::min(text.find(' ', start), text.size());
        widest = std::max(widest, text_width(std::string_view(text).substr(start, end - start), size, false));
        start = end + 1;
    }
    return widest;
}

}  // namespace

double text_width(std::string_view text, double size, bool bold) {
    double sum = 0;
    each_character(text, [&](std::string_view character) { sum += letter_width(character); });
    return sum * size * (bold ? bold_is_wider : 1);
}

double line_count(std::string_view text, double room, double size, bool bold) {
    room = std::max(room, size);  // one letter stands in any room
    double lines = 1, used = 0;
    const double space = text_width(" ", size, bold);
    for (std::size_t start = 0; start <= text.size();) {
        const std::size_t end = std::min(text.find(' ', start), text.size());
        const double word = text_width(text.substr(start, end - start), size, bold);
        start = end + 1;
        if (used > 0 && used + space + word > room) {
            ++lines;
            used = 0;
        }
        used += (used > 0 ? space : 0) + word;
        while (used > room) {  // a word wider than the room is cut
            ++lines;
            used -= room;
        }
    }
    return lines;
}

std::vector<double> column_widths(const SheetTable& table, double room, double size) {
    const std::size_t count = table.head.size();
    const double sides =
        2 * type_rules.cell_side * size + type_rules.thin + 0.3;  // and what a browser rounds
    std::vector<double> width(count, 0), least(count, 0);
    const auto look = [&](const std::vector<std::string>& row, bool bold) {
        for (std::size_t c = 0; c < count; ++c) {
            const double bigger = bold ? bold_is_wider : 1;
            width[c] = std::max(width[c], text_width(row[c], size, bold) + sides);
            least[c] = std::max(least[c], widest_word(row[c], size) * bigger + sides);
        }
    };
    look(table.head, true);
    for (const auto& row : table.rows) look(row, false);
    // A blank to fill in is wider than its head.
    for (std::size_t c = 0; c < count; ++c)
        if (std::all_of(table.rows.begin(), table.rows.end(),
                        [&](const auto& row) { return row[c].empty(); }))
            width[c] = least[c] = std::max(width[c], 8.0);
    double sum = std::accumulate(width.begin(), width.end(), 0.0);
    while (sum > room + 0.01) {
        std::size_t widest = count;
        for (std::size_t c = 0; c < count; ++c)
            if (width[c] > least[c] && (widest == count || width[c] > width[widest])) widest = c;
        if (widest == count) break;  // not even the longest words fit: they are cut
        const double step = std::min({0.5, width[widest] - least[widest], sum - room});
        width[widest] -= step;
        sum -= step;
    }
    for (double& w : width) w *= room / sum;
    return width;
}

double section_height(const SheetSection& section, double width, double size) {
    const TypeRules& r = type_rules;
    double height = r.section_space * size;
    if (!section.heading.empty()) {
        const double heading = size * r.heading;
        height +=
            line_count(section.heading, width, heading, true) * heading * r.leading + 0.1 * heading + r.line;
    }
    const double type = section.strong ? size * r.strong : size;
    for (const std::string& words : section.lines)
        height += line_count(words, width - r.list_indent * type, type, section.strong) * type * r.leading;
    if (section.table.rows.empty()) return height;
    const auto columns_of_it = column_widths(section.table, width, size);
    const auto row_height = [&](const std::vector<std::string>& row, bool bold) {
        double most = 1;
        for (std::size_t c = 0; c < row.size(); ++c)
            most = std::max(
                most, line_count(row[c], columns_of_it[c] - 2 * r.cell_side * size - r.thin, size, bold));
        return most * size * r.leading + 2 * r.cell_space * size + r.thin;
    };
    height += row_height(section.table.head, true) + r.thin;
    for (const auto& row : section.table.rows) height += row_height(row, false);
    if (!section.ladder.rungs.empty()) height += r.ladder_space + ladder_height(section.ladder, width);
    return height;
}

std::size_t divided(const std::vector<double>& heights) {
    const double all = std::accumulate(heights.begin(), heights.end(), 0.0);
    std::size_t best = heights.size();
    double left = 0, least = all;
    for (std::size_t i = 0; i < heights.size(); ++i) {
        left += heights[i];
        if (std::max(left, all - left) < least) {
            least = std::max(left, all - left);
            best = i + 1;
        }
    }
    return best;
}

}  // namespace benchfeed::report
