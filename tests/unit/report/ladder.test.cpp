// The cores of a cable as a ladder: the same terminals as in the table beside it, in words that stay inside
// the drawing.
#include <benchfeed/report/ladder.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/report/card_parts.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using report::Ladder;
using report::ladder_height;
using report::ladder_svg;

namespace {

std::string content(const std::filesystem::path& path) {
    std::ostringstream out;
    out << std::ifstream(path).rdbuf();
    return out.str();
}

std::size_t count(const std::string& text, std::string_view part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
    return found;
}

/// A rung's end is the whole text of its row, or that text without the place, and then the place stands above
/// it.
bool is_end(const std::string& row, const std::string& rung, const std::string& place) {
    return row == rung || (row.starts_with(rung) && row.ends_with(place));
}
/// At the other place: such an end stands on the wrong side.
bool is_at(const std::string& row, const std::string& place) {
    return row.ends_with(place) && row.find(" switched by ") == std::string::npos;
}

void check_ladder(const report::SheetSection& section) {
    const Ladder& ladder = section.ladder;
    REQUIRE(ladder.rungs.size() == section.table.rows.size());
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
        const auto& row = section.table.rows[i];
        const auto& rung = ladder.rungs[i];
        CAPTURE(row[1]);
        CAPTURE(row[2]);
        CHECK(rung.core.starts_with(row[0]));
        if (rung.spare) continue;
        const bool comes_back = !is_at(row[1], ladder.left) && is_at(row[1], ladder.right);
        const std::string &near = comes_back ? row[2] : row[1], &far = comes_back ? row[1] : row[2];
        CHECK(is_end(near, rung.left, ladder.left));
        CHECK(is_end(far, rung.right, ladder.right));
        if (is_at(far, ladder.right)) CHECK(rung.right != far);  // short where the place stands above
        if (is_at(near, ladder.left)) CHECK(rung.left != near);
        if (row[4] != "-") CHECK(rung.core.ends_with("marked " + row[4]));
    }
}

}  // namespace

TEST_CASE("a ladder says what the table of the same cable says") {
    int ladders = 0;
    for (const char* folder : {BENCHFEED_DATA_DIR "/plans", BENCHFEED_RULE_PLANS})
        for (const auto& file : std::filesystem::directory_iterator(folder)) {
            if (file.path().extension() != ".toml") continue;
            CAPTURE(file.path().filename().string());
            const Judged plan = test::judged(content(file.path()));
            const auto s = plan.situation();
            for (const auto& section : report::core_sections(s, advice::schedule(s)))
                if (!section.ladder.rungs.empty()) {
                    check_ladder(section);
                    ++ladders;
                }
        }
    CHECK(ladders > 1000);
}

TEST_CASE("every line of a ladder has its words, its ends and its colour") {
    const Ladder ladder{"the box",
                        "the switch",
                        {{"L", "L in", "1 brown", "brown"},
                         {"PE", "PE", "2 green-yellow", "green-yellow"},
                         {"end insulated", "end insulated", "3 grey", "grey", true}}};
    const std::string svg = ladder_svg(ladder, 136);
    CHECK(count(svg, "<text") == 2 + 3 * 3);
    CHECK(count(svg, "<circle") == 2 * 2);       // the spare ends nowhere
    CHECK(count(svg, "stroke-dasharray") == 2);  // the yellow of the protective core, the spare
    CHECK(svg.find(fmt::format("height=\"{}mm\"", ladder_height(ladder, 136))) != std::string::npos);
    CHECK(ladder_height({}, 136) == 0);
}

TEST_CASE("long words make a rung higher, never wider") {
    Ladder ladder{"a", "b", {{"L", "L", "1 brown", "brown"}}};
    const double low = ladder_height(ladder, 136);
    ladder.rungs[0].left = "terminals L switched by the switch of the large extractor behind the long bench";
    CHECK(ladder_height(ladder, 136) > low);
    CHECK(ladder_height(ladder, 136) <= ladder_height(ladder, 100));
    ladder.rungs[0].left = "<script>\x1b[31m";
    const std::string svg = ladder_svg(ladder, 136);
    CHECK(svg.find("<script>") == std::string::npos);
    CHECK(svg.find('\x1b') == std::string::npos);
}
