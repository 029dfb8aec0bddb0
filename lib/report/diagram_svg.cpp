// Where the boxes stand, and the drawing of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/diagram.hpp"
#include "report/markup.hpp"
#include "report/style.hpp"

namespace benchfeed::report {

namespace {

// Millimetres. One character of the drawing's type is at most `wide` of its height.
constexpr double type = 2.5, small_type = 2.1, wide = 0.62, line_height = 3.0, small_height = 2.6;
constexpr double box_width = 31, gap = 5, row_gap = 2.2, indent = 5, sign_width = 7, padding = 1.2;
constexpr std::size_t name_lines = 3, feed_lines = 3;

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

/// Broken at spaces, long words cut; at most so many lines, the last one with dots where something is
/// missing.
std::vector<std::string> broken(const std::string& text, double width, double height, std::size_t most) {
    const auto room = static_cast<std::size_t>(std::max(4.0, std::floor(width / (height * wide))));
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

class Placer {
public:
    Placer(const Diagram& diagram, double width) : diagram_(diagram), page_(width) { out_.width = width; }

    PlacedDiagram place_all() {
        for (const std::size_t root : diagram_.roots) {
            place_chain(root, 0, std::nullopt);
            top_ += row_gap;
        }
        out_.height = top_;
        return std::move(out_);
    }

private:
    struct From {
        double x = 0, y = 0;
    };

    PlacedNode made(std::size_t node, double x) const {
        const DiagramNode& n = diagram_.nodes[node];
        PlacedNode p;
        p.node = node;
        p.x = x;
        p.width = box_width;
        p.lines = broken(harmless(n.name), p.width - sign_width - padding, type, name_lines);
        if (!n.feed.empty()) p.feed = broken(harmless(n.feed), p.width - 2 * padding, small_type, feed_lines);
        p.height = 2 * padding + line_height * static_cast<double>(p.lines.size()) +
                   small_height * static_cast<double>(p.feed.size() + (n.figure.empty() ? 0 : 1)) +
                   (n.share > 0 ? 1.6 : 0.2);
        return p;
    }

    /// The chain that begins with a node, from left to right from x on; what branches off hangs below it.
    void place_chain(std::size_t first, double x, std::optional<From> from) {
        std::size_t node = first;
        double at = x;
        while (true) {
            // One row: as many boxes of the chain as fit.
            std::vector<PlacedNode> row;
            const double y = top_;
            double height = 0;
            while (true) {
                row.push_back(made(node, at));
                height = std::max(height, row.back().height);
                at += row.back().width + gap;
                if (diagram_.nodes[node].children.size() != 1 || at + box_width > page_ + 1e-9) break;
                node = diagram_.nodes[node].children.front();
            }
            for (PlacedNode& p : row) {
                p.y = y;
                p.height = height;
                const double middle = y + height / 2;
                if (&p != &row.front())
                    out_.lines.push_back({p.x - gap, middle, p.x, middle});
                else if (from)
                    out_.lines.push_back({from->x, middle, p.x, middle});
                out_.width = std::max(out_.width, p.x + p.width);
                out_.nodes.push_back(p);
            }
            if (from) down(from->x, from->y, y + height / 2);
            top_ = y + height;
            out_.cuts.push_back(top_ + row_gap / 2);
            top_ += row_gap;
            const auto& children = diagram_.nodes[node].children;
            if (children.empty()) return;
            // From under the last box of the row, along the left edge of what follows.
            const double below = x + indent;
            From next{below - indent / 2, y + height};
            if (row.size() > 1) {
                // The line runs back under its row, in the gap between two rows.
                const PlacedNode& last = row.back();
                const double channel = y + height + row_gap / 2;
                const double under = last.x + last.width / 2;
                out_.lines.push_back({under, y + height, under, channel});
                out_.lines.push_back({next.x, channel, under, channel});
                next.y = channel;
            }
            if (children.size() == 1) {  // the chain goes on in the next row
                node = children.front();
                from = next;
                at = below;
                x = below;
                continue;
            }
            for (const std::size_t child : children) place_chain(child, below, next);
            return;
        }
    }

    /// A vertical line; branches of one bus share it.
    void down(double x, double y1, double y2) {
        for (PlacedLine& line : out_.lines)
            if (line.x1 == line.x2 && line.x1 == x && line.y1 == y1) {
                line.y2 = std::max(line.y2, y2);
                return;
            }
        out_.lines.push_back({x, y1, x, y2});
    }

    const Diagram& diagram_;
    double page_;  ///< a very deep tree grows beyond it and is printed smaller
    PlacedDiagram out_;
    double top_ = 0;
};

// ---- drawing ----------------------------------------------------------------------------------------
std::string text_at(double x, double y, double size, const std::string& words, bool strong = false) {
    return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"#000\" stroke=\"none\"{}>{}</text>\n",
                       coordinate(x), coordinate(y), coordinate(size), strong ? " font-weight=\"bold\"" : "",
                       markup(words));
}

/// Signs in a field of 5 by 5, in the manner of IEC 60617.
std::string_view strokes(Sign sign) {
    switch (sign) {
        case Sign::source:
            return "M0.5 2.5a2 2 0 1 0 4 0a2 2 0 1 0-4 0M1.3 2.5q.6-1.2 1.2 0t1.2 0";
        case Sign::breaker:
            return "M2.5 0V1.3M2.5 5V3.4L0.9 1.5M2 .8l1 1M3 .8l-1 1";
        case Sign::fuse:
            return "M2.5 0V5M1.5 1h2v3h-2z";
        case Sign::residual:
            return "M2.5 0V1.3M2.5 5V3.6L0.9 1.5M1.3 4.3a1.2.5 0 1 0 2.4 0a1.2.5 0 1 0-2.4 0";
        case Sign::outlet:
            return "M2.5 5V2.8M.7 1a1.8 1.8 0 1 0 3.6 0M1 2.8h3";
        case Sign::box:
            return "M.5 2.5a2 2 0 1 0 4 0a2 2 0 1 0-4 0M2.5 .5v4M.5 2.5h4";
        case Sign::opener:
            return "M2.5 0V1.5M2.5 5V3.5L1 1.4";
        case Sign::motor:
            return "M.3 2.5a2.2 2.2 0 1 0 4.4 0a2.2 2.2 0 1 0-4.4 0M1.4 3.5v-2l1.1 1.2 1.1-1.2v2";
        case Sign::lamp:
            return "M.5 2.5a2 2 0 1 0 4 0a2 2 0 1 0-4 0M1.1 1.1l2.8 2.8M3.9 1.1L1.1 3.9";
        case Sign::heater:
            return "M.5 1.5h4v2h-4zM1.5 1.5v2M2.5 1.5v2M3.5 1.5v2";
        case Sign::other:
            return "M.5 1h4v3h-4z";
    }
    return "";
}

std::string box_svg(const DiagramNode& n, const PlacedNode& p) {
    std::string out = fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n", coordinate(p.x),
                                  coordinate(p.y), coordinate(p.width), coordinate(p.height));
    if (n.weakest)  // framed twice
        out += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n", coordinate(p.x + 0.7),
                           coordinate(p.y + 0.7), coordinate(p.width - 1.4), coordinate(p.height - 1.4));
    out += fmt::format("<path d=\"{}\" transform=\"translate({} {})\"/>\n", strokes(n.sign),
                       coordinate(p.x + padding), coordinate(p.y + padding));
    double y = p.y + padding;
    for (const std::string& line : p.lines)
        out += text_at(p.x + sign_width, (y += line_height) - 0.7, type, line, true);
    y = std::max(y, p.y + padding + (p.lines.size() < 2 ? 0.0 : 5.0));
    for (const std::string& line : p.feed)
        out += text_at(p.x + padding + 0.4, (y += small_height) - 0.6, small_type, line);
    if (!n.figure.empty())
        out += text_at(p.x + padding + 0.4, (y += small_height) - 0.6, small_type, n.figure, n.weakest);
    if (n.share > 0) {
        const double bar = p.width - 2 * padding - 0.8, top = p.y + p.height - 2.1;
        out += fmt::format(
            "<rect x=\"{0}\" y=\"{1}\" width=\"{2}\" height=\"1.1\"/><rect x=\"{0}\" y=\"{1}\" width=\"{3}\" "
            "height=\"1.1\" fill=\"url(#hatch)\"/>\n",
            coordinate(p.x + padding + 0.4), coordinate(top), coordinate(bar),
            coordinate(bar * std::min(1.0, n.share)));
    }
    return out;
}

}  // namespace

PlacedDiagram place(const Diagram& diagram, double width_mm) {
    return Placer(diagram, width_mm).place_all();
}

std::string diagram_svg(const Diagram& diagram, const PlacedDiagram& placed, double from, double to) {
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"diagram\" role=\"img\" aria-label=\"One-line "
        "diagram\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"-0.5 {2} {3} {4}\" fill=\"none\" "
        "stroke=\"#000\" "
        "stroke-width=\"0.3\" font-family=\"DejaVu Sans Mono, Liberation Mono, monospace\">\n<defs><pattern "
        "id=\"hatch\" width=\"1\" height=\"1\" patternUnits=\"userSpaceOnUse\" "
        "patternTransform=\"rotate(45)\"><path d=\"M0 0V1\" stroke-width=\"0.7\"/></pattern></defs>\n",
        coordinate(placed.width + 1), coordinate(to - from + 1), coordinate(from - 0.5),
        coordinate(placed.width + 1), coordinate(to - from + 1));
    for (const PlacedLine& line : placed.lines) {
        const double y1 = std::max(line.y1, from - 0.5), y2 = std::min(line.y2, to + 0.5);
        if (line.y2 < from || line.y1 > to) continue;
        out += fmt::format("<path d=\"M{} {}L{} {}\"/>\n", coordinate(line.x1), coordinate(y1),
                           coordinate(line.x2), coordinate(y2));
    }
    out += "<g>\n";
    for (const PlacedNode& p : placed.nodes)
        if (p.y >= from - 1e-9 && p.y + p.height <= to + 1e-9) {
            out += box_svg(diagram.nodes[p.node], p);
        }
    return out + "</g>\n</svg>\n";
}

std::vector<std::string> diagram_strips(const Diagram& diagram, const PlacedDiagram& placed,
                                        double most_height) {
    std::vector<std::string> strips;
    double from = 0, last = 0;
    for (const double cut : placed.cuts) {
        if (cut - from > most_height && last > from) {
            strips.push_back(diagram_svg(diagram, placed, from, last));
            from = last;
        }
        last = cut;
    }
    if (last > from) strips.push_back(diagram_svg(diagram, placed, from, last));
    return strips;
}

}  // namespace benchfeed::report
