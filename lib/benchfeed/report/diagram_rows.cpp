// The tree of a diagram as rows: the way from the supply one element a row, then one row for each branch.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/report/diagram.hpp>

namespace benchfeed::report {

namespace {

/// A branch of at most so many elements is one row.
constexpr std::size_t most_in_a_row = 3;

/// The elements from here to the end of a branch that nothing else hangs on; none where it is longer.
std::vector<std::size_t> end_of_branch(const Diagram& diagram, std::size_t node) {
    std::vector<std::size_t> way;
    while (way.size() < most_in_a_row) {
        way.push_back(node);
        const auto& children = diagram.nodes[node].children;
        if (children.empty()) return way;
        if (children.size() > 1) return {};
        node = children.front();
    }
    return {};
}

std::vector<DiagramFigure> figures_of(const Diagram& diagram, const DiagramRow& row) {
    std::size_t most = row.nodes.front();
    for (const std::size_t i : row.nodes)
        if (diagram.nodes[i].share > diagram.nodes[most].share) most = i;
    std::vector<DiagramFigure> figures;
    for (const std::size_t i : row.nodes) {
        const DiagramNode& node = diagram.nodes[i];
        if (node.figure.empty() || (i != most && node.share <= 1 && !node.weakest)) continue;
        const bool part = !(node.figure.front() >= '0' && node.figure.front() <= '9');
        const std::string of = row.nodes.size() > 1 && !part ? node.kind + " " : "";
        figures.push_back({of + node.figure, node.share, node.share > 1, node.weakest});
    }
    std::stable_sort(figures.begin(), figures.end(),
                     [](const DiagramFigure& a, const DiagramFigure& b) { return a.share > b.share; });
    return figures;
}

/// Rows of the elements below, in the order of the tree.
class Walker {
public:
    explicit Walker(const Diagram& diagram) : diagram_(diagram) {}
    std::vector<DiagramRow> walk() {
        std::vector<Visit> stack;
        for (auto root = diagram_.roots.rbegin(); root != diagram_.roots.rend(); ++root)
            stack.push_back({*root, 0, {}, true, false, false});
        while (!stack.empty()) {
            Visit visit = std::move(stack.back());
            stack.pop_back();
            put(visit, stack);
        }
        return std::move(rows_);
    }

private:
    struct Visit {
        std::size_t node = 0, level = 0;
        std::vector<bool> passing;
        bool first = false, in_line = false, more = false;
    };
    void put(const Visit& visit, std::vector<Visit>& stack) {
        DiagramRow row;
        row.level = visit.level;
        row.passing = visit.passing;
        row.first = visit.first;
        row.in_line = visit.in_line;
        row.more = visit.more;
        row.nodes = visit.first ? std::vector<std::size_t>{} : end_of_branch(diagram_, visit.node);
        if (row.nodes.empty()) row.nodes = {visit.node};
        row.figures = figures_of(diagram_, row);
        const auto& children = diagram_.nodes[row.nodes.back()].children;
        row.feeds = !children.empty();
        rows_.push_back(row);
        if (children.size() == 1) {
            // A chain goes on below; what passes beside it still does.
            stack.push_back({children.front(), visit.level, visit.passing, false, true, visit.more});
            return;
        }
        std::vector<bool> passing = visit.passing;
        if (visit.level > 0) passing.push_back(visit.more);
        for (std::size_t i = children.size(); i-- > 0;)
            stack.push_back({children[i], visit.level + 1, passing, false, false, i + 1 < children.size()});
    }

    const Diagram& diagram_;
    std::vector<DiagramRow> rows_;
};

}  // namespace

std::vector<DiagramRow> diagram_rows(const Diagram& diagram) {
    return Walker(diagram).walk();
}

std::string row_words(const Diagram& diagram, const DiagramRow& row) {
    std::string out;
    for (const std::size_t i : row.nodes) {
        const DiagramNode& node = diagram.nodes[i];
        out += (out.empty() ? "" : ", ") + node.name;
        std::string loads;
        for (const PluggedLoad& load : node.loads)
            loads += (loads.empty() ? ": " : ", ") + load.amps + " " + load.name;
        out += loads;
    }
    return out;
}

std::string row_feeds(const Diagram& diagram, const DiagramRow& row) {
    std::string out;
    for (const std::size_t i : row.nodes)
        if (const std::string& feed = diagram.nodes[i].feed; !feed.empty())
            out += (out.empty() ? "" : "; ") + feed;
    return out;
}

std::string over_words(double share) {
    if (share >= 10) return "over 10 times: OVER";
    return fmt::format("{} % OVER", static_cast<int>(std::ceil(share * 100 - 1e-9)));
}

}  // namespace benchfeed::report
