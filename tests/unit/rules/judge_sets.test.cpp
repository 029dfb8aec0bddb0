// Judging leaves out what cannot matter to a set: the outcomes are those of every limit at every set.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/rules/judge.hpp>
#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;

namespace {

/// Four boxes with twenty loads each, all in one set.
std::string many_loads() {
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "line_impedance = \"0.01 ohm\"\n[stock.run]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n";
    std::string loads;
    for (int box = 0; box < 4; ++box) {
        plan += fmt::format(
            "[outlet.wall{0}]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n[box.b{0}]\nfrom = "
            "\"outlet.wall{0}\"\n"
            "plug = \"CEE 7/7\"\ncable = {{ stock = \"run\", length = \"{1} m\" }}\n",
            box, 2 + box);
        for (int i = 0; i < 20; ++i) {
            plan += fmt::format(
                "[outlet.o{0}-{1}]\nfrom = \"box.b{0}\"\npattern = \"CEE 7/3\"\n[load.l{0}-{1}]\nfrom = "
                "\"outlet.o{0}-{1}\"\nmotor = \"universal\"\nplate = {{ current = \"0.{2} A\" }}\n",
                box, i, 1 + (box + i) % 9);
            loads += fmt::format("\"l{}-{}\", ", box, i);
        }
    }
    return plan + "[[together]]\nname = \"all\"\nloads = [" + loads + "]\n";
}

/// Outcomes that a limit at a set has to have, counted; each is compared with the limit alone.
int compare(const Judged& judged) {
    const rules::Situation s = judged.situation();
    const auto& judgement = judged.judgement();
    int compared = 0;
    for (plan::Index set = 0; set < s.plan.sets.size(); ++set)
        for (plan::Index i = 0; i < judgement.limits.size(); ++i) {
            const rules::Limit& limit = judgement.limits[i];
            const rules::Evaluated alone = rules::evaluate(s, limit, s.plan.sets[set].loads);
            const auto told =
                std::find_if(judgement.outcomes.begin(), judgement.outcomes.end(), [&](const auto& o) {
                    return o.set == set && o.rule == limit.rule && o.at == limit.at && o.part == limit.part;
                });
            if (alone.loads.empty()) continue;
            REQUIRE(told != judgement.outcomes.end());
            if (told->limit != i) continue;  // another limit on the same part is worse
            // The same phasors in another order: equal but for the last bits.
            REQUIRE(told->value.index() == alone.value.index());
            CHECK(std::abs(number(told->value) - number(alone.value)) <=
                  1e-12 * std::abs(number(alone.value)));
            ++compared;
        }
    return compared;
}

}  // namespace

TEST_CASE("what a set amounts to at a limit does not depend on how the limit was found") {
    CHECK(compare(test::judged(many_loads())) > 200);
    int compared = 0;
    for (unsigned seed = 1; seed <= 40; ++seed)
        for (const char* system : {"230 V", "120/240 V", "230/400 V"}) {
            test::BenchDice dice(seed);
            compared += compare(test::judged(test::random_bench(dice, {.system = system})));
        }
    CHECK(compared > 1000);
}
