// A sheet on pages: slabs one below another, a page ends between two of them.
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/slabs.hpp>

namespace benchfeed::report {

namespace {

constexpr std::array papers{Paper{"A5", 148, 210, 6}, Paper{"A4", 210, 297, 10},
                            Paper{"letter", 215.9, 279.4, 10}, Paper{"half-letter", 139.7, 215.9, 6}};
constexpr double least_points = 9, most_points = 11.5, most_points_of_drawing = 14, step_of_points = 0.25;

using Page = std::vector<Drawn>;

void put(Page& page, const Slab& slab, double right, double down) {
    auto things = moved(slab.things, right, down);
    std::move(things.begin(), things.end(), std::back_inserter(page));
}

/// Slabs that stand on one page: from one that keeps to the one it keeps with.
std::size_t end_of_group(const std::vector<Slab>& slabs, std::size_t from) {
    std::size_t to = from;
    while (to + 1 < slabs.size() && slabs[to].keeps) ++to;
    return to + 1;
}

std::vector<Page> paginated(const std::vector<Slab>& slabs, const Paper& paper, double top, bool turns) {
    const double bottom = paper.height - paper.margin;
    std::vector<Page> pages{{}};
    double y = top;
    const Slab* head = nullptr;  // of the table that goes on
    for (std::size_t i = 0; i < slabs.size();) {
        const std::size_t to = end_of_group(slabs, i);
        double height = 0;
        for (std::size_t k = i; k < to; ++k) height += slabs[k].height;
        if (((turns && slabs[i].turns) || y + height > bottom) && y > top) {
            pages.emplace_back();
            y = top;
            if (head && slabs[i].table > 0 && !slabs[i].head) {
                put(pages.back(), *head, paper.margin, y);
                y += head->height;
            }
        }
        for (; i < to; ++i) {
            if (slabs[i].head) head = &slabs[i];
            if (slabs[i].table == 0) head = nullptr;
            put(pages.back(), slabs[i], paper.margin, y);
            y += slabs[i].height;
        }
    }
    if (pages.back().empty()) pages.pop_back();
    return pages;
}

Pages set_at(const Sheet& sheet, const Paper& paper, double points, bool turns) {
    const Setter setter(paper.width - 2 * paper.margin, points);
    Pages out{paper, sheet.title, sheet.date, points, {}};
    out.pages = paginated(setter.set(sheet), paper, paper.margin + setter.page_head_height(), turns);
    for (std::size_t i = 0; i < out.pages.size(); ++i) {
        auto head = moved(setter.page_head(sheet, i + 1, out.pages.size()), paper.margin, paper.margin);
        std::move(head.begin(), head.end(), std::back_inserter(out.pages[i]));
    }
    return out;
}

}  // namespace

const Paper* paper_of(std::string_view word) {
    const auto found =
        std::find_if(papers.begin(), papers.end(), [&](const Paper& p) { return p.name == word; });
    return found == papers.end() ? nullptr : &*found;
}

std::vector<std::string> paper_words() {
    std::vector<std::string> words;
    for (const Paper& paper : papers) words.emplace_back(paper.name);
    return words;
}

Pages pages_of(const Sheet& sheet, const Paper& paper) {
    // The meter's side begins a page of its own, unless that is what takes one page more.
    const bool turns = set_at(sheet, paper, least_points, true).pages.size() <=
                       set_at(sheet, paper, least_points, false).pages.size();
    Pages best = set_at(sheet, paper, least_points, turns);
    const double most = sheet.after.empty() ? most_points_of_drawing : most_points;
    for (double points = least_points + step_of_points; points <= most; points += step_of_points) {
        Pages larger = set_at(sheet, paper, points, turns);
        if (larger.pages.size() > best.pages.size()) break;
        best = std::move(larger);
    }
    return best;
}

std::string sheet_svg(const Pages& pages, std::size_t only) {
    const Paper& paper = pages.paper;
    const std::size_t count = only > 0 ? 1 : pages.pages.size();
    const double height = paper.height * static_cast<double>(count);
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "font-family=\"{2}\" fill=\"none\" stroke=\"#000\">\n<title>{3}</title>\n{4}"
        "<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\" stroke=\"none\"/>\n",
        coordinate(paper.width), coordinate(height), sheet_type, markup(pages.title), drawn_patterns());
    for (std::size_t i = 0; i < pages.pages.size(); ++i) {
        if (only > 0 && i + 1 != only) continue;
        out += fmt::format("<g class=\"page\" transform=\"translate(0 {})\">\n",
                           coordinate(only > 0 ? 0 : paper.height * static_cast<double>(i)));
        out += drawn_svg(pages.pages[i]) + "</g>\n";
    }
    return out + "</svg>\n";
}

}  // namespace benchfeed::report
