// Many plans on one page: order, counts, widths, and text that a hostile name cannot turn into markup.
#include <doctest/doctest.h>

#include <benchfeed/report/changes.hpp>
#include <benchfeed/report/overview.hpp>

using namespace benchfeed;
using report::Answer;
using report::OverviewRow;

namespace {

OverviewRow row(const std::string& path, std::size_t fails, std::size_t open, std::size_t cautions,
                rules::Danger danger = rules::Danger::heat) {
    OverviewRow made;
    made.path = path;
    made.fails = fails;
    made.open = open;
    made.cautions = cautions;
    made.danger = danger;
    made.answer = fails ? Answer::fails : open ? Answer::open : cautions ? Answer::cautions : Answer::clean;
    made.worst = fails ? "the bench cord can be overloaded while nothing trips" : "";
    made.listed = fails > 0;
    return made;
}

report::Overview some() {
    report::Overview all;
    report::add(all, row("few.toml", 1, 0, 0));
    report::add(all, row("touch.toml", 1, 0, 0, rules::Danger::touch));
    report::add(all, row("many.toml", 12, 2, 5));
    report::add(all, row("clean.toml", 0, 0, 0));
    report::add(all, row("careful.toml", 0, 0, 3));
    report::add(all, report::overview_row("broken.toml", {{"", "poles is written twice", {}, ""}}));
    return all;
}

}  // namespace

TEST_CASE("worst first: what cannot be read, then what touch can meet, then the most fails") {
    const std::string text = report::overview_text(some(), {}, {80, false});
    CHECK(text.find("6 plans: 1 cannot be read, 3 fail; 1 has cautions alone, 1 has no finding.\n") == 0);
    const auto at = [&](const char* name) { return text.find(name); };
    CHECK(at("broken.toml") < at("touch.toml"));
    CHECK(at("touch.toml") < at("many.toml"));
    CHECK(at("many.toml") < at("few.toml"));
    CHECK(at("clean.toml") == std::string::npos);
    CHECK(at("careful.toml") == std::string::npos);
    CHECK(text.find("1 more with open questions or cautions: --show unknown, --show caution.") !=
          std::string::npos);
}

TEST_CASE("it fits 80 and 40 columns") {
    for (const std::size_t width : {std::size_t{80}, std::size_t{40}}) {
        const std::string text = report::overview_text(some(), {}, {width, false});
        for (const std::string_view line : report::lines_of(text))
            CHECK_MESSAGE(report::columns(line) <= width, line);
    }
}

TEST_CASE("a name is no markup") {
    const std::string told =
        report::markdown_text("a|b\n`x` <b>&amp; [l](http://e.org) www.e.org @all #1 \x1b[0m");
    for (const char* raw : {"<", "@all", "#1", "http://", "www.e", "\n", "\x1b"})
        CHECK_MESSAGE(told.find(raw) == std::string::npos, raw);
    CHECK(told.find("a\\|b") == 0);
    CHECK(told.find("\\[l\\]\\(") != std::string::npos);
}

TEST_CASE("files are alike by their lines") {
    CHECK(report::likeness("a\nb\n", "a\nb\n") == doctest::Approx(1));
    CHECK(report::likeness("a\nb\n", "b\nc\n") == doctest::Approx(0.5));
    CHECK(report::likeness("a\n", "x\n") == doctest::Approx(0));
    CHECK(report::likeness("", "") == doctest::Approx(1));
}
