// Where the boxes stand, and the drawing of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include <benchfeed/report/diagram.hpp>
#include <benchfeed/report/drawn_text.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

namespace {

// Millimetres.
constexpr double type = 2.5, small_type = 2.1, feed_type = 1.9, line_height = 2.85, small_height = 2.45;
constexpr double gap = 4, row_gap = 2.0, indent = 4, sign_width = 6.6, sign_height = 5.2, padding = 1.0,
                 bar_height = 1.1;
constexpr double widest_box = 34, narrowest_box = 26;
constexpr std::size_t name_lines = 3, feed_lines = 3, load_lines = 4;

/// "3x1.5 mm2": in a drawing every letter counts.
std::string narrow(std::string words) {
    for (std::size_t at = words.find(" x "); at != std::string::npos; at = words.find(" x ", at))
        words.replace(at, 3, "x");
    return words;
}

class Placer {
public:
    Placer(const Diagram& diagram, double width)
        : diagram_(diagram),
          page_(width),
          // Two chains of two boxes stand abreast, each behind its bus.
          box_(std::clamp((width - 2 * indent - 3 * gap) / 4, narrowest_box, widest_box)) {
        out_.width = width;
    }

    PlacedDiagram place_all() {
        for (const std::size_t root : diagram_.roots) place_chain(root, 0, {});
        out_.height = top_;
        return std::move(out_);
    }

private:
    using Row = std::vector<PlacedNode>;

    PlacedNode made(std::size_t node, double x) const {
        const DiagramNode& n = diagram_.nodes[node];
        PlacedNode p;
        p.node = node;
        p.x = x;
        p.width = box_;
        p.lines = broken(harmless(n.name), p.width - sign_width - padding, type, name_lines);
        if (!n.figure.empty()) {
            const double room = p.width - sign_width - padding;
            p.small_figure = broken(n.figure, room, type, feed_lines).size() > 1;
            p.figure = broken(n.figure, room, p.small_figure ? feed_type : type, feed_lines);
        }
        if (!n.feed.empty())
            p.feed = broken(harmless(narrow(n.feed)), p.width - 2 * padding, feed_type, feed_lines);
        for (const std::string& load : n.loads) {
            const auto words = broken(harmless(load), p.width - 2 * padding, small_type, 2);
            p.loads.insert(p.loads.end(), words.begin(), words.end());
        }
        if (p.loads.size() > load_lines) {
            p.loads.resize(load_lines - 1);
            p.loads.push_back(fmt::format("and more: {} in all", n.loads.size()));
        }
        const double head = line_height * static_cast<double>(p.lines.size()) +
                            line_height * static_cast<double>(p.figure.size());
        p.height = 2 * padding + std::max(head, sign_height) +
                   small_height * static_cast<double>(p.feed.size() + p.loads.size()) +
                   (n.share > 0 ? bar_height + 0.6 : 0);
        return p;
    }

    /// As much of a chain as fits between x and the edge. `node` becomes its last one.
    Row row_of(std::size_t& node, double x, double edge) const {
        Row row;
        while (true) {
            row.push_back(made(node, x));
            x += box_ + gap;
            if (diagram_.nodes[node].children.size() != 1 || x + box_ > edge + 1e-9) return row;
            node = diagram_.nodes[node].children.front();
        }
    }
    static double height_of(const Row& row) {
        double height = 0;
        for (const PlacedNode& p : row) height = std::max(height, p.height);
        return height;
    }
    /// A row at the height of `top_`, with the lines between its boxes and the one from its bus.
    void put(Row row, double height, std::optional<double> bus) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            PlacedNode& p = row[i];
            p.y = top_;
            p.height = height;
            const double middle = top_ + height / 2;
            if (i > 0) out_.lines.push_back({p.x - gap, middle, p.x, middle});
            if (i == 0 && bus) out_.lines.push_back({*bus, middle, p.x, middle});
            out_.width = std::max(out_.width, p.x + p.width);
            out_.nodes.push_back(p);
        }
    }
    void end_row(double height) {
        top_ += height;
        out_.cuts.push_back(top_ + row_gap / 2);
        top_ += row_gap;
    }

    /// Two boxes at most, and nothing that branches off.
    bool is_short(std::size_t node) const {
        for (int boxes = 1; boxes <= 2; ++boxes) {
            const auto& children = diagram_.nodes[node].children;
            if (children.empty()) return true;
            if (children.size() > 1) return false;
            node = children.front();
        }
        return false;
    }

    /// The chain that begins with a node, and below it what branches off. `bus`: the line that it hangs on.
    void place_chain(std::size_t node, double x, std::optional<double> bus) {
        while (true) {
            const Row row = row_of(node, x, page_);
            const double height = height_of(row), under = row.back().x + box_ / 2;
            const bool bends = row.size() > 1;
            put(row, height, bus);
            if (bus) lower(*bus, top_ + height / 2);
            end_row(height);
            const auto& children = diagram_.nodes[node].children;
            if (children.empty()) return;
            // From under the last box of the row, back through the gap below it, down along the left edge.
            const double channel = top_ - row_gap / 2, next = x + indent / 2;
            x += indent;
            if (bends) {
                out_.lines.push_back({under, top_ - row_gap, under, channel});
                out_.lines.push_back({next, channel, under, channel});
            }
            const double from = bends ? channel : top_ - row_gap;
            if (children.size() > 1) return place_branches(children, x, next, from);
            node = children.front();
            bus = open_bus(next, from);
        }
    }

    void place_branches(const std::vector<std::size_t>& children, double x, double left, double from) {
        const double second = x + 2 * box_ + 2 * gap, right = second - indent / 2;
        const bool room = second + 2 * box_ + gap <= page_ + 1e-9;
        std::vector<std::size_t> abreast, whole;
        for (const std::size_t child : children) (room && is_short(child) ? abreast : whole).push_back(child);
        const double first_bus = open_bus(left, from);
        if (abreast.size() > 1) {
            const double channel = top_ - row_gap / 2;
            if (from != channel) lower(left, channel);
            out_.lines.push_back({left, channel, right, channel});
            open_bus(right, channel);
        }
        for (std::size_t i = 0; i < abreast.size(); i += 2) {
            std::size_t node = abreast[i];
            const Row row = row_of(node, x, second);
            Row beside;
            if (i + 1 < abreast.size()) beside = row_of(node = abreast[i + 1], second, page_);
            const double height = std::max(height_of(row), height_of(beside));
            put(row, height, first_bus);
            lower(left, top_ + height / 2);
            if (!beside.empty()) {
                put(beside, height, right);
                lower(right, top_ + height / 2);
            }
            end_row(height);
        }
        for (const std::size_t child : whole) place_chain(child, x, left);
    }

    /// A line downwards that grows with what hangs on it.
    double open_bus(double x, double y) {
        out_.lines.push_back({x, y, x, y});
        return x;
    }
    /// The last bus that was opened at this place reaches down to y.
    void lower(double x, double y) {
        for (auto line = out_.lines.rbegin(); line != out_.lines.rend(); ++line)
            if (line->x1 == line->x2 && line->x1 == x) {
                line->y2 = std::max(line->y2, y);
                return;
            }
    }

    const Diagram& diagram_;
    double page_;  ///< a very deep tree grows beyond it and is printed smaller
    double box_;
    PlacedDiagram out_;
    double top_ = 0;
};

// ---- drawing ----------------------------------------------------------------------------------------
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

std::string frame(double x, double y, double width, double height) {
    return fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n", coordinate(x), coordinate(y),
                       coordinate(width), coordinate(height));
}

std::string box_svg(const DiagramNode& n, const PlacedNode& p) {
    std::string out = frame(p.x, p.y, p.width, p.height);
    if (n.weakest) out += frame(p.x + 0.6, p.y + 0.6, p.width - 1.2, p.height - 1.2);  // framed twice
    out += fmt::format("<path d=\"{}\" transform=\"translate({} {})\"/>\n", strokes(n.sign),
                       coordinate(p.x + padding), coordinate(p.y + padding));
    const double left = p.x + padding + 0.2;
    double y = p.y + padding;
    for (const std::string& line : p.lines)
        out += text_at(p.x + sign_width, (y += line_height) - 0.7, type, line, true);
    for (const std::string& line : p.figure)
        out += text_at(p.x + sign_width, (y += line_height) - 0.7, p.small_figure ? feed_type : type, line,
                       n.weakest);
    y = std::max(y, p.y + padding + sign_height);
    for (const std::string& line : p.loads)
        out += text_at(left, (y += small_height) - 0.6, small_type, line, true);
    for (const std::string& line : p.feed) out += text_at(left, (y += small_height) - 0.6, feed_type, line);
    if (n.share > 0) {
        const double bar = p.width - 2 * padding, top = p.y + p.height - bar_height - 0.7;
        out += frame(p.x + padding, top, bar, bar_height);
        out += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"url(#hatch)\"/>\n",
                           coordinate(p.x + padding), coordinate(top),
                           coordinate(bar * std::min(1.0, n.share)), coordinate(bar_height));
    }
    return out;
}

}  // namespace

PlacedDiagram place(const Diagram& diagram, double width_mm) {
    return Placer(diagram, width_mm).place_all();
}

std::string diagram_svg(const Diagram& diagram, const PlacedDiagram& placed, double from, double to,
                        const Printed& printed) {
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"diagram\" role=\"img\" aria-label=\"One-line "
        "diagram\" width=\"{0}{5}\" height=\"{1}{5}\" viewBox=\"-0.5 {2} {3} {4}\" fill=\"none\" "
        "stroke=\"#000\" "
        "stroke-width=\"0.3\" font-family=\"{6}\">\n<defs><pattern "
        "id=\"hatch\" width=\"1\" height=\"1\" patternUnits=\"userSpaceOnUse\" "
        "patternTransform=\"rotate(45)\"><path d=\"M0 0V1\" stroke-width=\"0.7\"/></pattern></defs>\n",
        coordinate((placed.width + 1) * printed.scale), coordinate((to - from + 1) * printed.scale),
        coordinate(from - 0.5), coordinate(placed.width + 1), coordinate(to - from + 1), printed.unit,
        drawn_type);
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
                                        double most_height, const Printed& printed) {
    std::vector<std::string> strips;
    double from = 0, last = 0;
    for (const double cut : placed.cuts) {
        if (cut - from > most_height && last > from) {
            strips.push_back(diagram_svg(diagram, placed, from, last, printed));
            from = last;
        }
        last = cut;
    }
    if (last > from) strips.push_back(diagram_svg(diagram, placed, from, last, printed));
    return strips;
}

}  // namespace benchfeed::report
