// A sheet as one drawing: the strip, the lines that are read from a distance, the diagram, then everything
// else in type of one width.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/drawn_text.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

namespace {

constexpr double type = 2.6;

class Drawing {
public:
    explicit Drawing(double width) : width_(width) {}

    void line(const std::string& words, double size, bool strong) {
        y_ += size * 1.27;
        out_ += fmt::format("<text x=\"0\" y=\"{}\" font-size=\"{}\"{} xml:space=\"preserve\">{}</text>\n",
                            coordinate(y_ - size * 0.3), coordinate(size),
                            strong ? " font-weight=\"bold\"" : "", markup(words));
    }
    /// Lines of a text that was broken already.
    void lines(const std::string& text, double size, bool strong) {
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            line(text.substr(at, end - at), size, strong);
            at = end + 1;
        }
    }
    [[nodiscard]] Style style(double size) const {
        return {.width = static_cast<std::size_t>(width_ / (size * drawn_wide))};
    }
    void strip(const std::string& words, bool hatched) {
        const double top = y_ + 1, size = 3.6;
        const std::string text = wrapped(harmless(words), "", "", style(size * 1.06));
        const auto count = static_cast<double>(std::count(text.begin(), text.end(), '\n'));
        const double height = count * size * 1.27 + 3;
        out_ += fmt::format(
            "<rect x=\"0\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\" stroke=\"#000\" "
            "stroke-width=\"0.8\"/>\n",
            coordinate(top), coordinate(width_), coordinate(height), hatched ? "url(#strip)" : "none");
        if (hatched)
            out_ += fmt::format("<rect x=\"1.5\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n",
                                coordinate(top + 1.5), coordinate(width_ - 3), coordinate(height - 3));
        y_ = top + 1.5;
        x_text(text, size);
        y_ = top + height + 1;
    }
    void picture(const std::string& svg, double height) {
        out_ += fmt::format("<g transform=\"translate(0 {})\">\n{}</g>\n", coordinate(y_ + 3), svg);
        y_ += height + 4;
    }
    [[nodiscard]] std::string finish(const std::string& title) const {
        return fmt::format(
                   "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 "
                   "{0} "
                   "{1}\" font-family=\"{3}\">\n<title>{2}</title>\n<defs>"
                   "<pattern id=\"strip\" width=\"3\" height=\"3\" patternUnits=\"userSpaceOnUse\" "
                   "patternTransform=\"rotate(45)\"><path d=\"M0 0V3\" stroke=\"#000\" "
                   "stroke-width=\"1.6\"/></pattern></defs>\n<rect width=\"100%\" height=\"100%\" "
                   "fill=\"#fff\"/>\n",
                   coordinate(width_), coordinate(y_ + 2), markup(title), drawn_type) +
               out_ + "</svg>\n";
    }

private:
    void x_text(const std::string& text, double size) {
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            y_ += size * 1.27;
            out_ += fmt::format(
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\" font-weight=\"bold\" "
                "text-anchor=\"middle\">{}</text>\n",
                coordinate(width_ / 2), coordinate(y_ - size * 0.3), coordinate(size),
                markup(text.substr(at, end - at)));
            at = end + 1;
        }
    }
    double width_, y_ = 0;
    std::string out_;
};

}  // namespace

std::string sheet_svg(const Sheet& sheet, const Paper& paper) {
    const double width = paper.width - 2 * paper.margin;
    Drawing drawing(width);
    drawing.lines(wrapped(harmless(sheet.title), "", "", drawing.style(4.5)), 4.5, true);
    for (const std::string& line : sheet.about)
        drawing.lines(wrapped(harmless(line), "", "", drawing.style(type)), type, false);
    drawing.strip(sheet.status, sheet.strip == Strip::failed);
    const auto add = [&](const std::vector<SheetSection>& sections) {
        for (const SheetSection& section : sections) {
            const double size = section.strong ? 3.2 : type;
            drawing.lines("\n" + wrapped(harmless(section.heading), "", "", drawing.style(3)), 3, true);
            SheetSection body = section;
            body.heading.clear();
            std::string text = sheet_section_text(body, drawing.style(size));
            drawing.lines(text, size, section.strong);
            if (!section.ladder.rungs.empty())
                drawing.picture(ladder_svg(section.ladder, width, ""), ladder_height(section.ladder, width));
        }
    };
    add(sheet.before);
    if (!sheet.diagram.nodes.empty()) {
        const PlacedDiagram placed = place(sheet.diagram, width - 1);
        drawing.picture(diagram_svg(sheet.diagram, placed, 0, placed.height, {.unit = ""}), placed.height);
    }
    add(sheet.after);
    drawing.lines("\n" + wrapped(harmless(sheet.foot), "", "", drawing.style(type)), type, false);
    return drawing.finish(sheet.title);
}

}  // namespace benchfeed::report
