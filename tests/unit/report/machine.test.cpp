// Reports of programs are written piece by piece: what of a large plan would fill the memory is never one
// text.
#include <benchfeed/report/machine.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

#include "support/judged.hpp"

using namespace benchfeed;

namespace {

/// Boxes with a tool each, two in a set; nothing is said of what most questions ask for.
std::string plan_of(int boxes) {
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "[stock.run]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";
    for (int i = 0; i < boxes; ++i)
        plan += fmt::format(
            "[outlet.wall{0}]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n[box.b{0}]\nfrom = "
            "\"outlet.wall{0}\"\nplug = \"CEE 7/7\"\ncable = {{ stock = \"run\", length = \"5 m\" }}\n"
            "[load.l{0}]\nfrom = \"box.b{0}\"\nmotor = \"universal\"\nplate = {{ current = \"18 A\" }}\n",
            i);
    for (int i = 0; i + 1 < boxes; i += 2)
        plan += fmt::format("[[together]]\nname = \"set{0}\"\nloads = [\"l{0}\", \"l{1}\"]\n", i, i + 1);
    return plan;
}

struct Pieces {
    std::size_t all = 0, largest = 0;
};
Pieces pieces(const report::MachineFormat& format, int boxes) {
    const text::Document document("plan.toml", plan_of(boxes));
    const Judged judged = test::judged(document.content());
    const report::JudgedPlan plan{document,
                                  judged.situation(),
                                  judged.judgement(),
                                  [](const rules::Outcome& o) { return reaches(o, FailOn::fail); },
                                  {},
                                  rules::Verdict::ok,
                                  true};
    Pieces seen;
    std::string text;
    format.plan(plan, [&](std::string_view piece) {
        seen.all += piece.size();
        seen.largest = std::max(seen.largest, piece.size());
        text += piece;
    });
    CHECK(report::written(format.plan, plan) == text);
    return seen;
}

}  // namespace

TEST_CASE("of a plan ten times as large the report is ten times as long, and each piece a small part of it") {
    for (const std::string name : {"json", "sarif"}) {
        CAPTURE(name);
        const report::MachineFormat& format = *report::find_machine_format(name);
        const Pieces few = pieces(format, 20), many = pieces(format, 200);
        CHECK(many.all > 8 * few.all);
        // A piece that speaks of everything at once names all loads.
        CHECK(few.largest < few.all / 20);
        CHECK(many.largest < many.all / 50);
    }
}
