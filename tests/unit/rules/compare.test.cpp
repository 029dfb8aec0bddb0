// Differences are told where they are written.
#include "rules/compare.hpp"

#include <doctest/doctest.h>

#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;

namespace {

std::string bench(const std::string& rating) {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
           "[outlet.wall]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n"
           "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
           "[switch.saw]\nfrom = \"box.b\"\npoles = 2\nrating = \"" +
           rating +
           "\"\n[switch.router]\nfrom = \"box.b\"\nlike = \"switch.saw\"\n"
           "[outlet.saw]\nfrom = \"switch.saw\"\npattern = \"CEE 7/3\"\n"
           "[outlet.router]\nfrom = \"switch.router\"\npattern = \"CEE 7/3\"\n"
           "[load.saw]\nfrom = \"outlet.saw\"\nmotor = \"universal\"\nplate = { current = \"5 A\" }\n";
}

std::vector<std::string> paths(const std::string& before, const std::string& after) {
    const Judged old = test::judged(before), fresh = test::judged(after);
    const auto compared =
        rules::compare({old.situation(), old.judgement()}, {fresh.situation(), fresh.judgement()});
    std::vector<std::string> paths;
    for (const rules::Difference& d : compared.differences) paths.push_back(d.path);
    return paths;
}

}  // namespace

TEST_CASE("what a switch takes over from another is told at the other") {
    CHECK(paths(bench("16 A"), bench("10 A")) == std::vector<std::string>{"switch.saw"});
    CHECK(paths(bench("16 A"), bench("16 A")).empty());
    // Written out in the new plan: then it is a difference of its own.
    std::string own = bench("10 A");
    own.insert(own.find("like = "), "rating = \"6 A\"\n");
    CHECK(paths(bench("16 A"), own) == std::vector<std::string>{"switch.saw", "switch.router"});
}
