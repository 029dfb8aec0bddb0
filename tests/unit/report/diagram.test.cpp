// The one-line diagram: each element once, in the order of the tree; a row for each branch; what is beyond
// its rating shows, and by how much.
#include <benchfeed/report/diagram.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;
using report::Diagram;
using report::DiagramRow;

namespace {

Diagram diagram_of(const Judged& plan) {
    const auto s = plan.situation();
    return report::diagram_of(s, plan.judgement(), advice::schedule(s));
}

/// The node that feeds another one.
std::map<std::size_t, std::size_t> parents_of(const Diagram& diagram) {
    std::map<std::size_t, std::size_t> parent;
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i)
        for (const std::size_t child : diagram.nodes[i].children) parent[child] = i;
    return parent;
}

/// The row that a row's line comes from, found by its level and lines alone, as somebody reads them.
std::size_t read_back(const std::vector<DiagramRow>& rows, std::size_t at) {
    const std::size_t level = rows[at].in_line ? rows[at].level : rows[at].level - 1;
    for (std::size_t i = at; i-- > 0;)
        if (rows[i].level == level && rows[i].feeds) return i;
    return rows.size();
}

void check_rows(const Diagram& diagram) {
    const auto rows = report::diagram_rows(diagram);
    const auto parent = parents_of(diagram);
    std::multiset<std::size_t> seen;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const DiagramRow& row = rows[i];
        REQUIRE_FALSE(row.nodes.empty());
        seen.insert(row.nodes.begin(), row.nodes.end());
        for (std::size_t k = 1; k < row.nodes.size(); ++k) CHECK(parent.at(row.nodes[k]) == row.nodes[k - 1]);
        CHECK(row.first == !parent.contains(row.nodes.front()));
        CHECK(row.feeds == !diagram.nodes[row.nodes.back()].children.empty());
        if (row.first) continue;
        const std::size_t from = read_back(rows, i);
        REQUIRE(from < rows.size());
        CHECK(parent.at(row.nodes.front()) == rows[from].nodes.back());
        // A line that passes by leads to a later row of that level.
        for (std::size_t level = 0; level < row.passing.size(); ++level) {
            if (!row.passing[level]) continue;
            CHECK(std::any_of(rows.begin() + static_cast<std::ptrdiff_t>(i) + 1, rows.end(),
                              [&](const DiagramRow& later) { return later.level == level + 1; }));
        }
    }
    CHECK(seen.size() == diagram.nodes.size());
    CHECK(std::set<std::size_t>(seen.begin(), seen.end()).size() == seen.size());
}

}  // namespace

TEST_CASE("random benches of up to 24 loads: each element once, under what feeds it") {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        test::BenchDice random(seed);
        test::BenchOptions options;
        options.system = random.one_of<std::string>({"230 V", "120/240 V", "230/400 V"});
        options.loads = random.from(1, 24);
        INFO("seed " << seed);
        const Diagram diagram = diagram_of(test::judged(test::random_bench(random, options)));
        check_rows(diagram);
        CHECK(std::count_if(diagram.nodes.begin(), diagram.nodes.end(),
                            [](const auto& n) { return n.weakest; }) <= 1);
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
}

TEST_CASE(
    "all that is over its rating in a row is told, the worst first, in words and beyond the rating line") {
    Diagram diagram;
    diagram.roots = {0};
    diagram.nodes.resize(3);
    diagram.nodes[0].children = {1};
    const auto set = [&](std::size_t node, const char* kind, const char* figure, double share) {
        diagram.nodes[node].kind = kind;
        diagram.nodes[node].figure = figure;
        diagram.nodes[node].share = share;
    };
    set(1, "switch", "12 of 10 A", 1.2);
    set(2, "outlet", "12 of 8 A", 1.5);
    diagram.nodes[1].children = {2};
    const auto rows = report::diagram_rows(diagram);
    REQUIRE(rows.size() == 2);
    REQUIRE(rows[1].figures.size() == 2);
    CHECK(rows[1].figures[0].words == "outlet 12 of 8 A");
    CHECK(rows[1].figures[1].words == "switch 12 of 10 A");
    // By hand: 12/8 = 150 %, 12/10 = 120 %; a hair over a rating is not 100 %.
    CHECK(report::over_words(1.5) == "150 % OVER");
    CHECK(report::over_words(1.0001) == "101 % OVER");
    const auto black = [](double share) {
        double beyond = 0;
        for (const auto& thing : report::share_bar(share, 30, 2))
            if (const auto* box = std::get_if<report::DrawnBox>(&thing);
                box && box->fill == report::Fill::black)
                beyond += box->width;
        return beyond;
    };
    CHECK(black(0.99) == 0);
    CHECK(black(1.0) == 0);
    CHECK(black(1.2) == doctest::Approx(0.2 * 18));
    CHECK(black(1.5) == doctest::Approx(0.5 * 18));
    CHECK(black(4.8) == doctest::Approx(30 - 18));  // to the edge, with a point on it
}

TEST_CASE("a two-pole switch has two arms, and a legend names each sign that is used and no other") {
    const auto arms = [](int poles) { return report::sign_strokes(report::Sign::opener, poles).size(); };
    CHECK(arms(2) > arms(1));
    CHECK(arms(3) > arms(2));
    Diagram diagram;
    diagram.nodes.resize(1);
    diagram.nodes[0].sign = report::Sign::opener;
    diagram.nodes[0].poles = 2;
    std::set<std::string> names;
    for (const auto& sign : report::legend(diagram)) names.insert(sign.name);
    CHECK(names.contains("switch"));
    CHECK(names.contains("opens two poles"));
    CHECK_FALSE(names.contains("lamp"));
    CHECK_FALSE(names.contains("black: beyond the rating"));
}
