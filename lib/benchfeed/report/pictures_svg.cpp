#include <benchfeed/report/pictures_svg.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::LoadBar;
using advice::StartPicture;
using advice::VoltPicture;
using rules::Situation;

namespace {

constexpr double width = 360;

/// Pieces of one drawing.
class Drawing {
public:
    Drawing(double height, std::string_view id, std::string_view title) : id_(id) {
        out_ = fmt::format(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\" "
            "font-family=\"sans-serif\" font-size=\"11\"><title>{}</title><defs>{}{}</defs>",
            coordinate(width), coordinate(height), markup(title), pattern("wide", 7, false),
            pattern("close", 4, true));
    }
    void line(double x1, double y1, double x2, double y2, double thick = 1, bool dashed = false) {
        out_ += fmt::format(
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" stroke=\"#000\" stroke-width=\"{}\"{}/>",
            coordinate(x1), coordinate(y1), coordinate(x2), coordinate(y2), coordinate(thick),
            dashed ? " stroke-dasharray=\"5 3\"" : "");
    }
    void path(const std::vector<std::pair<double, double>>& points, double thick, bool dashed = false) {
        std::string text;
        for (const auto& [x, y] : points)
            text += fmt::format("{}{},{}", text.empty() ? "" : " ", coordinate(x), coordinate(y));
        out_ += fmt::format("<polyline points=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"{}/>",
                            text, coordinate(thick), dashed ? " stroke-dasharray=\"5 3\"" : "");
    }
    void box(double x, double y, double w, double h, double thick = 1) {
        out_ += rectangle(x, y, w, h) +
                fmt::format(" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"/>", coordinate(thick));
    }
    /// "wide": thin strokes far apart; "close": crossed, dense.
    void hatch(double x, double y, double w, double h, std::string_view kind) {
        if (w <= 0 || h <= 0) return;
        out_ += rectangle(x, y, w, h) + fmt::format(" fill=\"url(#{}{})\"/>", id_, kind);
    }
    void dot(double x, double y) {
        out_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"2.5\"/>", coordinate(x), coordinate(y));
    }
    void text(double x, double y, std::string_view words, std::string_view anchor = "start",
              bool on_white = false) {
        // A white edge keeps words legible over hatching.
        out_ += fmt::format(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"{}\"{}>{}</text>", coordinate(x), coordinate(y), anchor,
            on_white ? " stroke=\"#fff\" stroke-width=\"4\" paint-order=\"stroke\"" : "", markup(words));
    }
    [[nodiscard]] std::string done() const { return out_ + "</svg>"; }

private:
    [[nodiscard]] std::string pattern(std::string_view kind, double apart, bool crossed) const {
        return fmt::format(
            "<pattern id=\"{0}{1}\" width=\"{2}\" height=\"{2}\" patternUnits=\"userSpaceOnUse\" "
            "patternTransform=\"rotate(45)\"><path d=\"M0 0V{2}{3}\" stroke=\"#000\" "
            "stroke-width=\"1\"/></pattern>",
            id_, kind, coordinate(apart), crossed ? fmt::format("M0 0H{}", coordinate(apart)) : "");
    }
    static std::string rectangle(double x, double y, double w, double h) {
        return fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", coordinate(x), coordinate(y),
                           coordinate(w), coordinate(h));
    }
    std::string id_, out_;
};

/// A round distance between about four marks of an axis.
double round_step(double range) {
    const double rough = std::max(range, 1e-9) / 4, power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (rough <= factor * power * (1 + 1e-9)) return factor * power;
    return 10 * power;
}

std::string axis_number(double value) {
    std::string text = fmt::format("{:.2f}", value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text;
}

/// Words in lines of so many characters; the last line is cut.
std::vector<std::string> in_lines(const std::string& words, std::size_t most, std::size_t lines) {
    std::vector<std::string> out{""};
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        const std::string word = words.substr(at, end - at);
        if (!out.back().empty() && columns(out.back()) + 1 + columns(word) > most) out.emplace_back();
        out.back() += (out.back().empty() ? "" : " ") + word;
        at = end + 1;
    }
    if (out.size() > lines) {
        out.resize(lines);
        out.back() += " ...";
    }
    for (std::string& line : out) line = shortened(line, std::max<std::size_t>(most, 4));
    return out;
}

}  // namespace

// ---- load of every element --------------------------------------------------------------------------

std::string load_svg(const Situation& s, const std::vector<LoadBar>& bars, std::string_view id) {
    constexpr double row = 38, top = 22, left = 4, most_share = 2;
    double widest = 1;
    for (const LoadBar& bar : bars) widest = std::max(widest, std::min(in(unit::one, bar.share), most_share));
    const double full = (width - 2 * left - 10) / widest,
                 bottom = top + row * static_cast<double>(bars.size());
    Drawing drawing(bottom + 6, id, "Load of every element against its rating");
    drawing.text(left + full, 12, "its rating", widest > 1.05 ? "middle" : "end");
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const LoadBar& bar = bars[i];
        const double y = top + row * static_cast<double>(i) + 19, share = in(unit::one, bar.share);
        drawing.text(left + 4, y - 4, shortened(rules::capital(rules::words(s, bar.at, bar.part)), 52));
        const double drawn = std::min(share, most_share) * full;
        drawing.hatch(left + 4, y, std::max(0.0, std::min(drawn, full) - 4), 12, "wide");
        if (drawn > full) drawing.hatch(left + full, y, drawn - full, 12, "close");
        drawing.box(left + 4, y, std::max(1.0, drawn - 4), 12);
        if (share > most_share) drawing.text(left + drawn - 3, y + 10, ">>", "end", true);
        drawing.line(left + 4, y + 12, left + full, y + 12, 0.5);
        if (!bar.weakest) continue;
        drawing.box(left - 3, y - 18, width - 2 * left + 6, 35, 1.2);
        drawing.box(left - 0.5, y - 15.5, width - 2 * left + 1, 30, 1.2);
    }
    drawing.line(left + full, top - 4, left + full, bottom, 1.5);
    return drawing.done();
}

// ---- volts along the chain --------------------------------------------------------------------------

namespace {

/// Right ends with a name each, moved apart so that names do not lie on each other.
struct End {
    double y = 0, at = 0;
    std::string name;
};
void move_apart(std::vector<End>& ends, double top, double bottom) {
    constexpr double line = 12;
    std::stable_sort(ends.begin(), ends.end(), [](const End& a, const End& b) { return a.y < b.y; });
    double free = top;
    for (End& end : ends) {
        end.at = std::max(end.y, free);
        free = end.at + line;
    }
    double limit = bottom;
    for (auto it = ends.rbegin(); it != ends.rend() && it->at > limit; ++it) {
        it->at = limit;
        limit -= line;
    }
}

/// What stands in a column: the place that all ways share, or what each has of its own.
std::string column_words(const Situation& s, const VoltPicture& picture, std::size_t column) {
    const plan::Element* common = nullptr;
    bool same = true, same_kind = true;
    for (const auto& path : picture.paths) {
        if (column + 1 >= path.places.size()) continue;
        const plan::Element& here = s.plan[picture.places[path.places[column]].element];
        same = same && (!common || common == &here);
        same_kind = same_kind && (!common || common->kind == here.kind);
        common = &here;
    }
    if (!common) return "";
    if (same) return common->words();
    return same_kind ? "its " + std::string(plan::word(common->kind)) : "its own run";
}

}  // namespace

std::string volts_svg(const Situation& s, const VoltPicture& picture, std::string_view id) {
    constexpr double left = 42, right = 262, top = 12;
    const double names = 12.0 * static_cast<double>(picture.paths.size());
    const double bottom = std::max(150.0, top + names);
    double least = in(unit::volt, picture.nominal), most = least;
    for (const auto& place : picture.places) least = std::min(least, in(unit::volt, place.volts));
    if (picture.edge) least = std::min(least, in(unit::volt, picture.edge->volts));
    least -= std::max(0.18 * (most - least), 0.002 * most);
    const auto y = [&](Voltage volts) {
        return bottom - (in(unit::volt, volts) - least) / (most - least) * (bottom - top);
    };
    std::size_t columns_there = 2;
    for (const auto& path : picture.paths) columns_there = std::max(columns_there, path.places.size());
    const double apart = (right - left) / static_cast<double>(columns_there - 1);
    const auto x = [&](std::size_t column) { return left + apart * static_cast<double>(column); };

    Drawing drawing(bottom + 58, id, "Volts along the chain: " + rules::set_words(s, picture.set));
    if (picture.edge) {
        const double edge = y(picture.edge->volts);
        drawing.hatch(left, edge, right - left, bottom - edge, "wide");
        drawing.line(left, edge, right, edge, 1, true);
        drawing.text(left + 6, bottom - 5,  // the way begins at the top left: this corner is free

                     fmt::format("{} % lost: {}", axis_number(100 * in(unit::one, picture.edge->lost)),
                                 picture.edge->fails ? "the limit" : "caution"),
                     "start", true);
    }
    const double step = round_step(most - least);
    for (double mark = std::ceil(least / step) * step; mark <= most * (1 + 1e-9); mark += step) {
        const double at = y(mark * unit::volt);
        drawing.line(left - 4, at, left, at);
        drawing.text(left - 6, at + 4, axis_number(mark), "end");
    }
    drawing.line(left, top - 6, left, bottom);
    drawing.line(left, bottom, right, bottom);
    drawing.text(2, 10, "V");
    std::vector<End> ends;
    for (const auto& path : picture.paths) {
        std::vector<std::pair<double, double>> points;
        for (std::size_t i = 0; i < path.places.size(); ++i) {
            const bool last = i + 1 == path.places.size();
            points.emplace_back(last ? right : x(i), y(picture.places[path.places[i]].volts));
        }
        drawing.path(points, 1.5);
        for (const auto& [px, py] : points) drawing.dot(px, py);
        ends.push_back({points.back().second, 0, s.plan[path.load].words()});
    }
    move_apart(ends, top, bottom - 2);
    for (const End& end : ends) {
        drawing.line(right + 3, end.y, right + 12, end.at, 0.5);
        drawing.text(right + 14, end.at + 4, shortened(end.name, 14));
    }
    for (std::size_t column = 0; column + 1 < columns_there; ++column) {
        drawing.line(x(column), bottom, x(column), bottom + 3);
        const double room = column == 0 ? left + 0.4 * apart : apart;
        const auto lines = in_lines(column_words(s, picture, column),
                                    std::max<std::size_t>(4, static_cast<std::size_t>(room / 5.6)), 4);
        for (std::size_t i = 0; i < lines.size(); ++i)
            drawing.text(column == 0 ? 2 : x(column), bottom + 14 + 11 * static_cast<double>(i), lines[i],
                         column == 0 ? "start" : "middle");
    }
    drawing.text(right, bottom + 14, "load", "middle");
    return drawing.done();
}

// ---- a start against the trip zone ----------------------------------------------------------------------

std::string start_svg(const Situation& s, const StartPicture& picture, std::string_view id) {
    constexpr double left = 42, right = 350, top = 14, bottom = 170, seconds = 2;
    double most = std::max(in(unit::ampere, picture.high), in(unit::ampere, picture.carries));
    if (picture.trips) most = std::max(most, in(unit::ampere, *picture.trips));
    most *= 1.15;
    const auto y = [&](Current amps) { return bottom - in(unit::ampere, amps) / most * (bottom - top); };
    const auto x = [&](double time) { return left + time / seconds * (right - left); };
    Drawing drawing(bottom + 32, id,
                    fmt::format("Start of {} against {}", s.plan[picture.motor].words(),
                                rules::words(s, picture.at, picture.part)));
    const double carries = y(picture.carries), trips = picture.trips ? y(*picture.trips) : top;
    drawing.hatch(left, trips, right - left, carries - trips, "wide");
    if (picture.carries_long)
        drawing.hatch(x(1), carries, right - x(1), y(*picture.carries_long) - carries, "wide");
    if (picture.trips) drawing.hatch(left, top, right - left, trips - top, "close");
    drawing.line(left, carries, picture.carries_long ? x(1) : right, carries, 1, true);
    if (picture.carries_long) {
        drawing.line(x(1), carries, x(1), y(*picture.carries_long), 1, true);
        drawing.line(x(1), y(*picture.carries_long), right, y(*picture.carries_long), 1, true);
    }
    if (picture.trips) drawing.line(left, trips, right, trips, 1.5);
    drawing.text(right - 4, (trips + carries) / 2 + 4, "may trip", "end", true);
    if (picture.trips) drawing.text(right - 4, (top + trips) / 2 + 4, "trips", "end", true);

    const double ends = picture.longer_than_a_second ? seconds : 1;
    const auto steps = [&](Current amps, bool dashed) {
        std::vector<std::pair<double, double>> points{{x(0), bottom}, {x(0), y(amps)}, {x(ends), y(amps)}};
        if (ends < seconds) {
            points.emplace_back(x(ends), y(picture.running));
            points.emplace_back(x(seconds), y(picture.running));
        }
        drawing.path(points, dashed ? 1.2 : 2.5, dashed);
    };
    if (picture.low) steps(*picture.low, true);
    steps(picture.high, false);
    const double step = round_step(most);
    for (double mark = 0; mark <= most; mark += step) {
        drawing.line(left - 4, y(mark * unit::ampere), left, y(mark * unit::ampere));
        drawing.text(left - 6, y(mark * unit::ampere) + 4, axis_number(mark), "end");
    }
    for (const double mark : {0.0, 0.5, 1.0, 1.5, 2.0}) {
        drawing.line(x(mark), bottom, x(mark), bottom + 4);
        drawing.text(std::min(x(mark), right - 4), bottom + 16, axis_number(mark) + (mark == 2.0 ? " s" : ""),
                     mark == 2.0 ? "end" : "middle");
    }
    drawing.line(left, top, left, bottom);
    drawing.line(left, bottom, right, bottom);
    drawing.text(2, 10, "A");
    drawing.text((left + right) / 2, bottom + 29, "from the start on, even scale", "middle");
    return drawing.done();
}

}  // namespace benchfeed::report
