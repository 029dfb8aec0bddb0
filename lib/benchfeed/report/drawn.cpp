// Things on a page as SVG.
#include <benchfeed/report/drawn.hpp>

#include <fmt/format.h>

#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/set_type.hpp>

namespace benchfeed::report {

namespace {

template <class... Each>
struct Overloaded : Each... {
    using Each::operator()...;
};
template <class... Each>
Overloaded(Each...) -> Overloaded<Each...>;

std::string svg(const DrawnWords& w) {
    if (w.words.empty()) return "";
    static constexpr std::string_view anchors[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
    // Room is reserved in the metrics of the usual types; in any other type the words are fitted into it.
    const double width = text_width(w.words, w.size, w.strong);
    return fmt::format(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"{}{}{} "
        "stroke=\"none\" fill=\"{}\">{}</text>\n",
        coordinate(w.x), coordinate(w.y), coordinate(w.size),
        coordinate(w.width > 0 ? std::min(w.width, width) : width), w.strong ? " font-weight=\"bold\"" : "",
        anchors[static_cast<std::size_t>(w.anchor)], w.role == Role::ornament ? " aria-hidden=\"true\"" : "",
        w.white ? "#fff" : "#000", markup(w.words));
}

std::string svg(const DrawnBox& b) {
    const std::string fill = b.fill == Fill::black    ? "#000"
                             : b.fill == Fill::white  ? "#fff"
                             : b.fill == Fill::hatch  ? "url(#hatch)"
                             : b.fill == Fill::colour ? std::string(b.colour)
                                                      : "none";
    return fmt::format(
        "<rect{} x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\" {}/>\n",
        b.blank ? " class=\"blank\"" : "", coordinate(b.x), coordinate(b.y), coordinate(b.width),
        coordinate(b.height), fill,
        b.line > 0 ? fmt::format("stroke-width=\"{}\"", coordinate(b.line)) : std::string("stroke=\"none\""));
}

std::string svg(const DrawnLine& l) {
    std::string path;
    for (const Place& place : l.through)
        path += fmt::format("{}{} {}", path.empty() ? "M" : "L", coordinate(place.x), coordinate(place.y));
    return fmt::format("<path d=\"{}\" stroke-width=\"{}\"/>\n", path, coordinate(l.line));
}

std::string svg(const DrawnRing& r) {
    return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" stroke-width=\"{}\"{}/>\n", coordinate(r.x),
                       coordinate(r.y), coordinate(r.radius), coordinate(r.line),
                       r.filled ? " fill=\"#000\"" : "");
}

}  // namespace

std::vector<Drawn> moved(std::vector<Drawn> things, double right, double down) {
    for (Drawn& thing : things)
        std::visit(Overloaded{[&](DrawnLine& line) {
                                  for (Place& place : line.through) {
                                      place.x += right;
                                      place.y += down;
                                  }
                              },
                              [&](auto& one) {
                                  one.x += right;
                                  one.y += down;
                              }},
                   thing);
    return things;
}

std::string drawn_svg(const std::vector<Drawn>& things) {
    std::string out;
    for (const Drawn& thing : things) out += std::visit([](const auto& one) { return svg(one); }, thing);
    return out;
}

std::string drawn_patterns() {
    return "<defs><pattern id=\"hatch\" width=\"1\" height=\"1\" patternUnits=\"userSpaceOnUse\" "
           "patternTransform=\"rotate(45)\"><rect width=\"1\" height=\"1\" fill=\"#fff\" stroke=\"none\"/>"
           "<path d=\"M0.2 0V1\" stroke=\"#000\" stroke-width=\"0.35\"/></pattern></defs>\n";
}

}  // namespace benchfeed::report
