// A sheet on pages: nothing is left out, nothing lies on anything else, and type and blanks keep their sizes.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include <benchfeed/report/card.hpp>
#include <benchfeed/report/set_type.hpp>
#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;
using report::Drawn;
using report::DrawnBox;
using report::DrawnWords;

namespace {

using Sheets = report::Sheet (*)(const text::Document&, const rules::Situation&, const rules::Judgement&,
                                 const report::Tool&, const report::CardOptions&);

report::Sheet sheet_of(Sheets sheets, const std::string& plan) {
    const Judged judged = test::judged(plan);
    return sheets(text::Document("plan.toml", plan), judged.situation(), judged.judgement(),
                  {"benchfeed", "0"}, {});
}

struct Box {
    double left, top, right, bottom;
};
Box box_of(const DrawnWords& w) {
    const double width = report::text_width(w.words, w.size, w.strong);
    const double left = w.anchor == report::Anchor::start    ? w.x
                        : w.anchor == report::Anchor::middle ? w.x - width / 2
                                                             : w.x - width;
    return {left, w.y - 0.7 * w.size, left + width, w.y};
}
/// Half a millimetre of one in the other is seen.
bool overlap(const Box& a, const Box& b) {
    constexpr double seen = 0.5;
    return a.left + seen < b.right && b.left + seen < a.right && a.top + seen < b.bottom &&
           b.top + seen < a.bottom;
}

/// Words of all pages, without spaces: lines may break anywhere.
std::string all_words(const report::Pages& pages) {
    std::string all;
    for (const auto& page : pages.pages)
        for (const Drawn& thing : page)
            if (const auto* words = std::get_if<DrawnWords>(&thing))
                all += report::plain_spaces(words->words);
    std::erase(all, ' ');
    return all;
}
std::string no_spaces(std::string words) {
    std::erase(words, ' ');
    return words;
}

void check_page(const std::vector<Drawn>& page, const report::Paper& paper) {
    std::vector<const DrawnWords*> words;
    for (const Drawn& thing : page) {
        if (const auto* w = std::get_if<DrawnWords>(&thing)) words.push_back(w);
        if (const auto* b = std::get_if<DrawnBox>(&thing)) {
            CHECK(b->y + b->height <= paper.height - paper.margin + 0.3);
            CHECK(b->x + b->width <= paper.width - paper.margin + 0.8);
        }
    }
    for (std::size_t i = 0; i < words.size(); ++i) {
        const Box box = box_of(*words[i]);
        INFO(words[i]->words);
        CHECK(words[i]->size >= 7 * report::mm_of_point - 1e-9);
        CHECK(box.left >= paper.margin - 0.5);
        CHECK(box.right <= paper.width - paper.margin + 0.5);
        CHECK(box.bottom <= paper.height - paper.margin + 0.5);
        for (std::size_t j = 0; j < i; ++j) {
            INFO(words[j]->words);
            CHECK_FALSE(overlap(box, box_of(*words[j])));
        }
    }
}

/// Every word of every section stands on some page.
void check_complete(const report::Sheet& sheet, const report::Pages& pages) {
    const std::string all = all_words(pages);
    const auto holds = [&](const std::string& words) {
        INFO(words);
        CHECK(all.find(no_spaces(words)) != std::string::npos);
    };
    for (const auto* sections : {&sheet.before, &sheet.after})
        for (const auto& section : *sections) {
            for (const std::string& line : section.lines)
                for (const std::string& part : report::set_lines(line, 25, 4, true)) {
                    const std::string word = part.substr(0, part.find(' '));
                    holds(word);
                }
            for (const auto& row : section.table.rows)
                for (const std::string& cell : row) {
                    for (const std::string& word : report::set_lines(cell, 1e-9, 1e-9)) holds(word);
                }
            for (const auto& test : section.tests)
                for (const std::string& place : test.places) holds(place);
        }
    holds(sheet.status.substr(0, sheet.status.find(' ')));
}

std::size_t blanks_of_tests(const report::Sheet& sheet) {
    std::size_t count = 0;
    for (const auto& section : sheet.after)
        for (const auto& test : section.tests) count += std::max<std::size_t>(1, test.places.size());
    return count;
}

void check_blanks(const report::Sheet& sheet, const report::Pages& pages) {
    std::size_t large = 0;
    for (const auto& page : pages.pages)
        for (const Drawn& thing : page)
            if (const auto* box = std::get_if<DrawnBox>(&thing); box && box->blank)
                large += box->width >= 15 - 1e-9 && box->height >= 8 - 1e-9 ? 1 : 0;
    CHECK(large >= blanks_of_tests(sheet));
}

}  // namespace

TEST_CASE("random benches on every paper: sizes, margins, nothing on anything else, nothing left out") {
    for (unsigned seed = 1; seed <= 12; ++seed) {
        test::BenchDice random(seed);
        test::BenchOptions options;
        options.system = random.one_of<std::string>({"230 V", "120/240 V", "230/400 V"});
        options.loads = random.from(1, 24);
        const std::string plan = test::random_bench(random, options);
        for (const Sheets sheets : {report::card_sheet, report::diagram_sheet, report::wiring_sheet})
            for (const std::string& word : report::paper_words()) {
                INFO("seed " << seed << " on " << word);
                const report::Paper& paper = *report::paper_of(word);
                const report::Sheet sheet = sheet_of(sheets, plan);
                const report::Pages pages = report::pages_of(sheet, paper);
                CHECK(pages.points >= 9);
                for (const auto& page : pages.pages) check_page(page, paper);
                check_complete(sheet, pages);
                check_blanks(sheet, pages);
            }
    }
}

TEST_CASE("long words and long names are divided, never cut and never over the edge") {
    report::Sheet sheet;
    sheet.title = std::string(200, 'W');
    sheet.revision = "Revision 1";
    sheet.status = "CHECKED";
    report::SheetSection section{"Outlets", {std::string(500, 'm')}};
    section.table = {{"a", "b"}, {{std::string(300, 'x'), "figure 16 A"}, {std::string(500, 'W'), "y"}}};
    sheet.after = {section};
    for (const std::string& word : report::paper_words()) {
        const report::Paper& paper = *report::paper_of(word);
        const report::Pages pages = report::pages_of(sheet, paper);
        for (const auto& page : pages.pages) check_page(page, paper);
        CHECK(all_words(pages).find(std::string(500, 'm')) != std::string::npos);
        CHECK(all_words(pages).find(std::string(500, 'W')) != std::string::npos);
    }
}

TEST_CASE("widths of letters are those of Helvetica") {
    // Adobe core font metrics, Helvetica: H 722, e 556, l 222, o 556; Helvetica-Bold: H 722, e 556, l 278, o
    // 611; thousandths of the size.
    CHECK(report::text_width("Hello", 1) == doctest::Approx(0.722 + 0.556 + 2 * 0.222 + 0.556));
    CHECK(report::text_width("Hello", 1, true) == doctest::Approx(0.722 + 0.556 + 2 * 0.278 + 0.611));
    CHECK(report::text_width("0123456789", 10) == doctest::Approx(55.6));
    CHECK(report::set_lines("a b c", 100, 1).size() == 1);
    CHECK(report::set_lines("aaaa aaaa", 2.3, 1).size() == 2);
    const auto divided = report::set_lines("aaaaaaaa", 2.3, 1);
    CHECK(divided.size() == 2);
    CHECK(divided[0] + divided[1] == "aaaaaaaa");
}

TEST_CASE("a unit stays with its figure") {
    const std::string kept = report::kept_together("plug 12.3 of 16 A at way 7, 5 m H07RN-F 3 x 1.5 mm2");
    for (const double room : {12.0, 14.0, 20.0, 30.0})  // the longest word of them is 10 mm
        for (const std::string& line : report::set_lines(kept, room, 2))
            for (const char* unit : {"A", "m", "mm2", "7,"}) CHECK(line != unit);
    CHECK(report::plain_spaces(kept) == "plug 12.3 of 16 A at way 7, 5 m H07RN-F 3 x 1.5 mm2");
}

TEST_CASE("words of others end nothing in a style sheet") {
    test::BenchDice random(3);
    std::string plan = test::random_bench(random, {});
    plan.insert(plan.find("[plan]\n") + 7, "title = \"\\\"} body{display:none} </style><b>\"\n");
    const std::string html = report::sheet_html(sheet_of(report::card_sheet, plan), *report::paper_of("A5"));
    CHECK(html.find("</style><b>") == std::string::npos);
    const std::string style = html.substr(html.find("<style>"), html.find("</style>") - html.find("<style>"));
    CHECK(style.find("\\000022\\00007d body\\00007bdisplay") != std::string::npos);  // all of it an escape
    CHECK(style.find("body{display:none}") == std::string::npos);
}
