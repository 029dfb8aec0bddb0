// Signs of the one-line diagram, drawn here in the manner of IEC 60617; bars, and the legend.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <benchfeed/report/diagram.hpp>
#include <benchfeed/report/set_type.hpp>

namespace benchfeed::report {

namespace {

constexpr double middle = sign_field / 2, thin = 0.3, gap = 1.4;

/// A part of a circle as a line through places; angles in eighths of a turn, clockwise from the right.
DrawnLine arc(double x, double y, double radius, double from, double to) {
    DrawnLine line{{}, thin};
    constexpr int steps = 12;
    for (int i = 0; i <= steps; ++i) {
        const double turn = (from + (to - from) * i / steps) * std::numbers::pi / 4;
        line.through.push_back({x + radius * std::cos(turn), y + radius * std::sin(turn)});
    }
    return line;
}
DrawnLine line(std::vector<Place> through) {
    return {std::move(through), thin};
}

/// A contact that is drawn open, once for each pole. What it opens on stands on its arm.
std::vector<Drawn> contacts(int poles, bool breaks_itself) {
    std::vector<Drawn> out;
    const int drawn = std::clamp(poles, 1, 4);
    const double step = drawn == 1 ? 0 : 3.4 / (drawn - 1), start = drawn == 1 ? middle : 0.9;
    for (int pole = 0; pole < drawn; ++pole) {
        const double y = start + pole * step, rise = drawn == 1 ? 1.5 : std::min(1.3, step * 0.9);
        out.emplace_back(line({{0, y}, {1.3, y}, {3.4, y - rise}}));
        out.emplace_back(line({{3.7, y}, {sign_field, y}}));
        if (breaks_itself) {
            out.emplace_back(line({{3.2, y - 0.5}, {4.2, y + 0.5}}));
            out.emplace_back(line({{3.2, y + 0.5}, {4.2, y - 0.5}}));
        }
    }
    // Poles that open together are joined.
    if (drawn > 1) out.emplace_back(line({{2.4, start - 0.6}, {2.4, start + 3.4 - 0.6}}));
    return out;
}

std::vector<Drawn> in_a_ring(std::vector<Drawn> inside) {
    inside.emplace_back(DrawnRing{middle, middle, 2.2, false, thin});
    return inside;
}

std::vector<Drawn> lamp() {
    const double cut = 2.2 * std::numbers::sqrt2 / 2;
    return in_a_ring({line({{middle - cut, middle - cut}, {middle + cut, middle + cut}}),
                      line({{middle - cut, middle + cut}, {middle + cut, middle - cut}})});
}

std::vector<Drawn> framed(double top, double bottom, std::vector<Drawn> inside) {
    inside.emplace_back(DrawnBox{0.4, top, sign_field - 0.8, bottom - top, Fill::none, {}, thin});
    return inside;
}

}  // namespace

std::vector<Drawn> sign_strokes(Sign sign, int poles, bool residual) {
    std::vector<Drawn> out;
    switch (sign) {
        case Sign::source:
            out = in_a_ring({arc(1.9, middle, 0.65, -4, 0), arc(3.2, middle, 0.65, 4, 0)});
            break;
        case Sign::breaker:
            out = contacts(poles, true);
            break;
        case Sign::residual:
        case Sign::opener:
            out = contacts(poles, false);
            break;
        case Sign::fuse:
            out = framed(1.6, 3.4, {line({{0, middle}, {sign_field, middle}})});
            break;
        case Sign::outlet:  // a half ring open to the plug, and its protective contact
            out = {arc(2.9, middle, 1.9, 2, 6), line({{0, middle}, {1, middle}}),
                   line({{1.6, middle - 1.3}, {1.6, middle + 1.3}})};
            break;
        case Sign::box:  // joints in a frame
            out =
                framed(0.9, 4.1,
                       {DrawnRing{1.5, middle, 0.35, true, thin}, DrawnRing{middle, middle, 0.35, true, thin},
                        DrawnRing{3.5, middle, 0.35, true, thin}});
            break;
        case Sign::motor:
            out = in_a_ring({line({{1.5, 3.5}, {1.5, 1.6}, {middle, 2.9}, {3.5, 1.6}, {3.5, 3.5}})});
            break;
        case Sign::lamp:
            out = lamp();
            break;
        case Sign::heater:
            out = framed(1.5, 3.5,
                         {line({{1.4, 1.5}, {1.4, 3.5}}), line({{middle, 1.5}, {middle, 3.5}}),
                          line({{3.6, 1.5}, {3.6, 3.5}})});
            break;
        case Sign::other:
            out = framed(1, 4, {});
            break;
    }
    // A ring round the conductors sees what does not come back.
    if (residual || sign == Sign::residual) {
        out.emplace_back(arc(0.75, middle, 0.7, 0, 8));
        out.emplace_back(line({{0.75, middle + 0.7}, {0.75, 4.7}, {2.4, 4.7}, {2.4, middle - 0.2}}));
    }
    return out;
}

std::vector<Drawn> core_stroke(int conductors, double length) {
    std::vector<Drawn> out{line({{0, middle}, {length, middle}})};
    if (conductors <= 0) return out;
    const double at = length / 2 - 0.4;
    out.emplace_back(line({{at - 0.6, middle + 1}, {at + 0.6, middle - 1}}));
    DrawnWords number{at + 0.4, middle - 0.5, 9 * mm_of_point, 0, std::to_string(conductors)};
    number.role = Role::ornament;
    out.emplace_back(number);
    return out;
}

RowSigns row_signs(const Diagram& diagram, const DiagramRow& row) {
    RowSigns out;
    const auto add = [&](std::vector<Drawn> strokes, double width) {
        strokes = moved(std::move(strokes), out.width, 0);
        out.strokes.insert(out.strokes.end(), strokes.begin(), strokes.end());
        out.width += width;
    };
    for (std::size_t i = 0; i < row.nodes.size(); ++i) {
        const DiagramNode& node = diagram.nodes[row.nodes[i]];
        const bool branch = row.level > 0 && !row.in_line;
        if (node.conductors > 0 && (i > 0 || branch))
            add(core_stroke(node.conductors, 3.6), 3.6);
        else if (i > 0)
            add({line({{0, middle}, {gap, middle}})}, gap);
        add(sign_strokes(node.sign, node.poles, node.residual), sign_field);
        if (node.loads.empty()) continue;
        add({}, gap);
        add(sign_strokes(node.loads.front().sign), sign_field);
    }
    return out;
}

std::vector<Drawn> share_bar(double share, double width, double height) {
    // The rating stands at three fifths, so that what is beyond it is seen beside it.
    const double rating = width * 0.6, end = std::min(width, rating * share);
    std::vector<Drawn> out;
    out.emplace_back(DrawnBox{0, 0, std::min(end, rating), height, Fill::hatch, {}, 0.2});
    if (share > 1) out.emplace_back(DrawnBox{rating, 0, end - rating, height, Fill::black, {}, 0.2});
    out.emplace_back(DrawnLine{{{0, height}, {width, height}}, 0.15});
    out.emplace_back(DrawnLine{{{rating, -0.8}, {rating, height + 0.8}}, 0.5});
    if (rating * share > width)  // it goes on beyond the paper
        out.emplace_back(
            DrawnLine{{{width - 1.6, -0.7}, {width, height / 2}, {width - 1.6, height + 0.7}}, 0.5});
    return out;
}

std::vector<SignName> legend(const Diagram& diagram) {
    struct Known {
        Sign sign;
        std::string_view name;
    };
    static constexpr std::array known{
        Known{Sign::source, "supply"},   Known{Sign::breaker, "circuit breaker"},
        Known{Sign::fuse, "fuse"},       Known{Sign::residual, "residual current device"},
        Known{Sign::outlet, "outlet"},   Known{Sign::box, "junction box"},
        Known{Sign::opener, "switch"},   Known{Sign::motor, "motor"},
        Known{Sign::lamp, "lamp"},       Known{Sign::heater, "heater"},
        Known{Sign::other, "other tool"}};
    std::vector<SignName> out;
    bool residual = false, two_poles = false, cores = false;
    const auto uses = [&](Sign sign) {
        return std::any_of(diagram.nodes.begin(), diagram.nodes.end(), [&](const DiagramNode& node) {
            return node.sign == sign || std::any_of(node.loads.begin(), node.loads.end(),
                                                    [&](const auto& l) { return l.sign == sign; });
        });
    };
    for (const Known& one : known)
        if (uses(one.sign)) out.push_back({sign_strokes(one.sign), std::string(one.name)});
    for (const DiagramNode& node : diagram.nodes) {
        residual = residual || node.residual;
        two_poles = two_poles || node.poles > 1;
        cores = cores || node.conductors > 0;
    }
    if (residual) out.push_back({sign_strokes(Sign::breaker, 1, true), "opens on a residual current too"});
    if (two_poles) out.push_back({sign_strokes(Sign::opener, 2), "opens two poles"});
    if (cores) out.push_back({core_stroke(3, sign_field), "cores of the feed"});
    const auto bar = share_bar(0.7, 8, 1.6), over = share_bar(1.5, 8, 1.6);
    out.push_back({moved(bar, 0, middle - 0.8), "carried, up to the rating (upright line)"});
    if (std::any_of(diagram.nodes.begin(), diagram.nodes.end(),
                    [](const DiagramNode& node) { return node.share > 1; }))
        out.push_back({moved(over, 0, middle - 0.8), "black: beyond the rating"});
    return out;
}

namespace {

/// One step of a control circuit as strokes in a square, and the bridge beside it.
std::vector<Drawn> control_strokes(const ControlStep& step, double width) {
    std::vector<Drawn> out;
    const double left = (width - sign_field) / 2, right = left + sign_field;
    switch (step.kind) {
        case ControlStep::Kind::terminal:
            out.emplace_back(DrawnRing{width / 2, middle, 0.7, false, thin});
            out.emplace_back(line({{0, middle}, {width / 2 - 0.7, middle}}));
            out.emplace_back(line({{width / 2 + 0.7, middle}, {width, middle}}));
            return out;
        case ControlStep::Kind::opens:  // closed at rest: the arm touches
            out = {line({{left, middle}, {left + 1.3, middle}, {left + 3.9, middle + 1}}),
                   line({{left + 3.5, middle + 1.3}, {left + 3.5, middle}, {right, middle}}),
                   line({{left + 2.4, middle + 0.4}, {left + 2.4, 0.6}}),
                   line({{left + 1.6, 0.6}, {left + 3.2, 0.6}})};
            break;
        case ControlStep::Kind::closes:  // open at rest
            out = {line({{left, middle}, {left + 1.3, middle}, {left + 3.6, middle - 1.1}}),
                   line({{left + 3.7, middle}, {right, middle}}),
                   line({{left + 2.4, middle - 0.5}, {left + 2.4, 0.4}}),
                   line({{left + 1.6, 0.4}, {left + 3.2, 0.4}})};
            break;
        case ControlStep::Kind::coil:
            out = {DrawnBox{left + 0.6, 1.2, sign_field - 1.2, 2.6, Fill::none, {}, thin},
                   line({{left, middle}, {left + 0.6, middle}}),
                   line({{right - 0.6, middle}, {right, middle}})};
            break;
    }
    out.emplace_back(line({{0, middle}, {left, middle}}));
    out.emplace_back(line({{right, middle}, {width, middle}}));
    return out;
}

}  // namespace

DrawnCircuit draw(const ControlCircuit& circuit, double width, double type) {
    constexpr double narrowest = 26;
    const auto most = std::max(1.0, std::floor(width / narrowest));
    const double step = std::min(38.0, width / std::min(most, static_cast<double>(circuit.steps.size())));
    const auto in_row = static_cast<std::size_t>(std::floor(width / step + 1e-9));
    const double leading = 1.25 * type;
    DrawnCircuit out;
    for (std::size_t from = 0; from < circuit.steps.size(); from += in_row) {
        std::size_t lines = 1;
        bool bridged = false;
        for (std::size_t i = from; i < std::min(from + in_row, circuit.steps.size()); ++i)
            bridged = bridged || !circuit.steps[i].beside.empty();
        const double words_top = sign_field + (bridged ? 4.5 : 0.4);
        for (std::size_t i = from; i < std::min(from + in_row, circuit.steps.size()); ++i) {
            const ControlStep& one = circuit.steps[i];
            const double x = static_cast<double>(i - from) * step;
            const auto strokes = moved(control_strokes(one, step), x, out.height);
            out.things.insert(out.things.end(), strokes.begin(), strokes.end());
            std::string words = one.words;
            if (!one.beside.empty()) {
                words += ", beside it " + one.beside;
                const double left = x + (step - sign_field) / 2 - 1, right = left + sign_field + 2,
                             y = out.height + middle, low = y + 4;
                out.things.emplace_back(
                    line({{left, y}, {left, low}, {left + 2.4, low}, {left + 4.4, low - 1}}));
                out.things.emplace_back(line({{left + 4.6, low}, {right, low}, {right, y}}));
            }
            const auto broken = set_lines(kept_together(words), step - 1.5, type);
            for (std::size_t k = 0; k < broken.size(); ++k) {
                DrawnWords text{x + step / 2,
                                out.height + words_top + static_cast<double>(k + 1) * leading - 0.3 * type,
                                type, step - 1.5, broken[k]};
                text.anchor = Anchor::middle;
                out.things.emplace_back(text);
            }
            lines = std::max(lines, broken.size());
        }
        out.height += words_top + static_cast<double>(lines) * leading + 1.5;
    }
    return out;
}

}  // namespace benchfeed::report
