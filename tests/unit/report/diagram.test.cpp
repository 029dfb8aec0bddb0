// The one-line diagram: no box on another, no line through a box, no two lines across each other, nothing
// beyond the page, every word inside its box.
#include <benchfeed/report/diagram.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/page_fit.hpp>
#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;
using report::Diagram;
using report::PlacedDiagram;
using report::PlacedLine;
using report::PlacedNode;

namespace {

constexpr double least = 0.05;  // mm: touching is no crossing

bool overlap(const PlacedNode& a, const PlacedNode& b) {
    return a.x + least < b.x + b.width && b.x + least < a.x + a.width && a.y + least < b.y + b.height &&
           b.y + least < a.y + a.height;
}
bool through(const PlacedLine& l, const PlacedNode& n) {
    return l.x1 < n.x + n.width - least && l.x2 > n.x + least && l.y1 < n.y + n.height - least &&
           l.y2 > n.y + least;
}
/// A horizontal and a vertical line that cut each other, not at an end of one of them.
bool across(const PlacedLine& a, const PlacedLine& b) {
    const bool flat = a.y1 == a.y2, upright = b.x1 == b.x2 && b.y1 != b.y2;
    if (!flat || !upright) return false;
    return a.x1 + least < b.x1 && b.x1 < a.x2 - least && b.y1 + least < a.y1 && a.y1 < b.y2 - least;
}
/// Two upright lines on one another would be read as one.
bool on_another(const PlacedLine& a, const PlacedLine& b) {
    return a.x1 == a.x2 && b.x1 == b.x2 && a.x1 == b.x1 && a.y1 + least < b.y2 && b.y1 + least < a.y2;
}

void check_placed(const Diagram& diagram, const PlacedDiagram& placed, double page) {
    REQUIRE(placed.nodes.size() == diagram.nodes.size());
    for (std::size_t i = 0; i < placed.nodes.size(); ++i) {
        const PlacedNode& n = placed.nodes[i];
        CHECK(n.x >= 0);
        CHECK(n.x + n.width <= placed.width + least);
        CHECK(n.y + n.height <= placed.height + least);
        for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(overlap(n, placed.nodes[j]));
        for (const PlacedLine& line : placed.lines) CHECK_FALSE(through(line, n));
        for (const double cut : placed.cuts) CHECK_FALSE((n.y + least < cut && cut < n.y + n.height - least));
    }
    for (const PlacedLine& a : placed.lines)
        for (const PlacedLine& b : placed.lines) {
            CHECK_FALSE(across(a, b));
            if (&a != &b) CHECK_FALSE(on_another(a, b));
        }
    if (diagram.nodes.size() < 40) CHECK(placed.width <= page + 30);
}

/// Every box but the supplies has a line that ends at its left edge.
void check_joined(const Diagram& diagram, const PlacedDiagram& placed) {
    for (const PlacedNode& n : placed.nodes) {
        const bool root =
            std::find(diagram.roots.begin(), diagram.roots.end(), n.node) != diagram.roots.end();
        const bool joined = std::any_of(placed.lines.begin(), placed.lines.end(), [&](const PlacedLine& l) {
            return l.y1 == l.y2 && l.x2 == n.x && l.y1 > n.y && l.y1 < n.y + n.height;
        });
        CHECK(joined != root);
    }
}

Diagram diagram_of(const Judged& plan) {
    const auto s = plan.situation();
    return report::diagram_of(s, plan.judgement(), advice::schedule(s));
}

}  // namespace

TEST_CASE("random benches of up to 24 loads, on every paper") {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        test::BenchDice random(seed);
        test::BenchOptions options;
        options.system = random.one_of<std::string>({"230 V", "120/240 V", "230/400 V"});
        options.loads = random.from(1, 24);
        INFO("seed " << seed);
        const Judged plan = test::judged(test::random_bench(random, options));
        const Diagram diagram = diagram_of(plan);
        for (const double width : {124.7, 136.0, 186.0, 191.9, 260.0}) {
            INFO("width " << width);
            const PlacedDiagram placed = report::place(diagram, width);
            check_placed(diagram, placed, width);
            check_joined(diagram, placed);
        }
    }
}

TEST_CASE("every load and every element has its place, once") {
    test::BenchDice random(7);
    test::BenchOptions options;
    options.loads = 20;
    const Judged plan = test::judged(test::random_bench(random, options));
    const Diagram diagram = diagram_of(plan);
    std::size_t loads = 0;
    for (const auto& node : diagram.nodes) loads += node.loads.size();
    CHECK(diagram.nodes.size() + loads == plan.plan().elements.size());
    CHECK(std::count_if(diagram.nodes.begin(), diagram.nodes.end(),
                        [](const auto& n) { return n.weakest; }) >= 1);
}

TEST_CASE("long names are wrapped and cut, inside their box") {
    Diagram diagram;
    diagram.roots = {0};
    report::DiagramNode node;
    node.name = std::string(300, 'W') + " & <b>";
    node.feed =
        "plug CEE 7/7, 5 m H07RN-F 3x1.5 mm2 and more words than a box can hold in three lines of print";
    node.figure = "plug 12.3 of 16 A";
    node.share = 0.77;
    for (int i = 0; i < 9; ++i) node.loads.push_back(fmt::format("load number {} 7 A", i));
    diagram.nodes = {node};
    const PlacedDiagram placed = report::place(diagram, 136);
    const PlacedNode& n = placed.nodes.front();
    CHECK(n.lines.size() == 3);
    CHECK(n.lines.back().ends_with("..."));
    CHECK(n.loads.size() == 4);
    CHECK(n.loads.back() == "and more: 9 in all");
    const double lowest =
        n.y + 3 * 2.85 + 2.45 * static_cast<double>(n.figure.size() + n.loads.size() + n.feed.size());
    CHECK(lowest < n.y + n.height);
    const std::string svg = report::diagram_svg(diagram, placed, 0, placed.height);
    CHECK(svg.find("<b>") == std::string::npos);
}

TEST_CASE("strips hold every box once and none is cut") {
    test::BenchDice random(3);
    test::BenchOptions options;
    options.loads = 24;
    const Judged plan = test::judged(test::random_bench(random, options));
    const Diagram diagram = diagram_of(plan);
    const PlacedDiagram placed = report::place(diagram, 136);
    const auto strips = report::diagram_strips(diagram, placed, 30);
    CHECK(strips.size() > 2);
    std::size_t signs = 0;
    for (const std::string& strip : strips)
        for (std::size_t at = strip.find("translate("); at != std::string::npos;
             at = strip.find("translate(", at + 1))
            ++signs;
    CHECK(signs == diagram.nodes.size());
}

TEST_CASE("widths of letters are those of Helvetica") {
    // Adobe core font metrics, Helvetica: H 722, e 556, l 222, o 556, thousandths of the size.
    CHECK(report::text_width("Hello", 1, false) == doctest::Approx(0.722 + 0.556 + 2 * 0.222 + 0.556));
    CHECK(report::text_width("0123456789", 10, false) == doctest::Approx(55.6));
    CHECK(report::line_count("a b c", 100, 1, false) == 1);
    CHECK(report::line_count("aaaa aaaa", 2.3, 1, false) == 2);
    CHECK(report::line_count("aaaaaaaa", 2.3, 1, false) == 2);  // a long word is cut
}
