// The one-line diagram of a sheet as slabs: one for each row.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/slabs.hpp>

namespace benchfeed::report {

namespace {

constexpr double stroke = 0.3, bar_height = 1.9;

struct Columns {
    double step = 0;                         ///< by which each level is set in
    double words = 0, figures = 0, bar = 0;  ///< widths; figures end at the bar
};
double figure_width(const DiagramFigure& figure, double size) {
    double width = text_width(figure.words, size, true);
    if (figure.over) width = std::max(width, text_width(over_words(figure.share), size, true));
    return width;
}
Columns columns_of(const Diagram& diagram, const std::vector<DiagramRow>& rows, double width, double size) {
    Columns c;
    std::size_t deepest = 1;
    double signs = sign_field;
    for (const DiagramRow& row : rows) {
        deepest = std::max(deepest, row.level);
        signs = std::max(signs, row_signs(diagram, row).width);
        for (const DiagramFigure& figure : row.figures)
            c.figures = std::max(c.figures, figure_width(figure, size));
    }
    c.figures = std::min(c.figures, 0.34 * width);
    c.bar = std::clamp(0.16 * width, 18.0, 34.0);
    c.step = std::min(sign_field + 1, 0.2 * width / static_cast<double>(deepest));
    c.words = width - c.figures - c.bar - 4;
    return c;
}

/// Middle of the sign of a level.
double middle_of(const Columns& c, std::size_t level) {
    return static_cast<double>(level) * c.step + sign_field / 2;
}

/// Lines from the row above, to the rows below, and past this one.
void add_tree(Slab& slab, const DiagramRow& row, const Columns& c, double sign_y) {
    const auto down = [&](double x, double from, double to) {
        slab.things.emplace_back(DrawnLine{{{x, from}, {x, to}}, stroke});
    };
    const double sign_middle = sign_y + sign_field / 2, own = middle_of(c, row.level);
    for (std::size_t level = 0; level < row.passing.size(); ++level)
        if (row.passing[level]) down(middle_of(c, level), 0, slab.height);
    if (row.in_line) {
        down(own, 0, sign_y);
        if (row.level > 0 && row.more) down(middle_of(c, row.level - 1), 0, slab.height);
    } else if (!row.first && row.level > 0) {
        const double bus = middle_of(c, row.level - 1);
        down(bus, 0, row.more ? slab.height : sign_middle);
        slab.things.emplace_back(
            DrawnLine{{{bus, sign_middle}, {static_cast<double>(row.level) * c.step, sign_middle}}, stroke});
    }
    if (row.feeds) down(own, sign_y + sign_field, slab.height);
}

}  // namespace

std::vector<Slab> Setter::diagram(const Diagram& diagram, const std::string& words) const {
    Slabs slabs{heading(words, 0, width_)};
    const auto rows = diagram_rows(diagram);
    const Columns c = columns_of(diagram, rows, width_, body_);
    for (const DiagramRow& row : rows) {
        Slab slab;
        const RowSigns signs = row_signs(diagram, row);
        const double left = static_cast<double>(row.level) * c.step, x = left + signs.width + 1.2,
                     room = std::max(20.0, c.words - x), top = 0.5;
        double y = top, figure_y = top;
        const auto put = [&](const std::string& text, bool strong) {
            const auto lines = set_lines(kept_together(harmless(text)), room, body_, strong);
            for (const std::string& line : lines) {
                slab.things.emplace_back(DrawnWords{x, y + base_line * body_, body_, room, line, strong});
                y += line_height * body_;
            }
            return text_width(lines.back(), body_, strong);
        };
        const std::string name = row_words(diagram, row),
                          feeds = kept_together(harmless(row_feeds(diagram, row)));
        const double after = put(name, true) + 2.5, feed = text_width(feeds, body_);
        if (!feeds.empty() && after + feed <= room)  // where the name ends there is room for it
            slab.things.emplace_back(
                DrawnWords{x + after, y + (base_line - line_height) * body_, body_, feed + 0.1, feeds});
        else if (!feeds.empty())
            put(feeds, false);
        for (const DiagramFigure& figure : row.figures) {
            const double right = width_ - c.bar - 2;
            const auto bars = moved(share_bar(figure.share, c.bar, bar_height), width_ - c.bar,
                                    figure_y + 0.55 * body_ - bar_height / 2 + 0.3);
            if (figure.share > 0) slab.things.insert(slab.things.end(), bars.begin(), bars.end());
            const auto tell = [&](const std::string& text, bool strong) {
                for (const std::string& line :
                     set_lines(kept_together(text), c.figures + 0.5, body_, strong)) {
                    slab.things.emplace_back(DrawnWords{right, figure_y + base_line * body_, body_,
                                                        c.figures + 0.5, line, strong, false, Anchor::end});
                    figure_y += line_height * body_;
                }
            };
            tell(figure.words, figure.over || figure.weakest);
            if (figure.over) tell(over_words(figure.share), true);
            if (figure.weakest) tell("the weakest", true);
        }
        slab.height = std::max({y, figure_y, top + sign_field}) + 0.4;
        add_tree(slab, row, c, top);
        const auto strokes = moved(signs.strokes, left, top);
        slab.things.insert(slab.things.end(), strokes.begin(), strokes.end());
        slabs.push_back(std::move(slab));
    }
    // The legend says what the rows show: it stays with the last of them.
    slabs.back().keeps = true;
    auto signs = legend_slabs(diagram);
    std::move(signs.begin(), signs.end(), std::back_inserter(slabs));
    return slabs;
}

std::vector<Slab> Setter::legend_slabs(const Diagram& diagram) const {
    Slab slab;
    double x = 0, y = 1;
    for (const SignName& sign : legend(diagram)) {
        const bool bar = sign.name.find("rating") != std::string::npos;
        const double sign_room = bar ? 9.5 : sign_field + 1, words = text_width(sign.name, body_);
        if (x > 0 && x + sign_room + words > width_) {
            x = 0;
            y += sign_field + 0.6;
        }
        const auto strokes = moved(sign.strokes, x, y);
        slab.things.insert(slab.things.end(), strokes.begin(), strokes.end());
        slab.things.emplace_back(
            DrawnWords{x + sign_room, y + sign_field / 2 + 0.35 * body_, body_, words + 0.2, sign.name});
        x += sign_room + words + 4;
    }
    slab.height = y + sign_field + 0.8;
    return {slab};
}

}  // namespace benchfeed::report
