// Differences are told where they are written.
#include <benchfeed/rules/compare.hpp>

#include <doctest/doctest.h>

#include <algorithm>

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

namespace {

/// A saw behind a contactor, and whatever stands between it and an emergency.
std::string stopped_bench(const std::string& stop) {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[site]\nuse = \"workplace\"\n"
           "[supply.s]\nsystem = \"230 V\"\n[outlet.wall]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n"
           "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
           "[switch.k1]\nfrom = \"box.b\"\nkind = \"contactor\"\nno_volt = true\npoles = 2\ncoil = \"230 "
           "V\"\n" +
           stop +
           "[outlet.saw]\nfrom = \"switch.k1\"\npattern = \"CEE 7/3\"\n"
           "[load.saw]\nfrom = \"outlet.saw\"\nmotor = \"universal\"\nplate = { current = \"5 A\" }\n";
}

std::string stop_button(const std::string& name, const std::string& stops) {
    return "[switch." + name +
           "]\nfrom = \"box.b\"\nkind = \"emergency-stop\"\nwiring = \"control\"\npoles = 2\nrating = \"10 "
           "A\"\n" +
           stops;
}

rules::Comparison compared(const std::string& before, const std::string& after) {
    const Judged old = test::judged(before), fresh = test::judged(after);
    return rules::compare({old.situation(), old.judgement()}, {fresh.situation(), fresh.judgement()});
}

std::size_t worse(const std::string& before, const std::string& after) {
    return compared(before, after).worse();
}

const std::string drops_out = "stops = [\"switch.k1\"]\n";

}  // namespace

TEST_CASE("an emergency stop that is gone is worse, whatever it was said to stop") {
    const std::string with = stopped_bench(stop_button("red", drops_out)), without = stopped_bench("");
    const auto gone = compared(with, without);
    REQUIRE(gone.worse() == 1);
    CHECK(gone.moved.front().at == "switch.red");
    CHECK(gone.moved.front().headline == "The red switch is gone: it stopped the saw");
    CHECK(gone.moved.front().before->verdict == rules::Verdict::ok);
    CHECK_FALSE(gone.moved.front().after.has_value());
    CHECK(worse(stopped_bench(stop_button("red", "")), without) == 1);  // nobody said what it stops
    CHECK(worse(without, with) == 0);
}

TEST_CASE("an emergency stop of another name that stops the same is no loss, one button of two is") {
    const std::string red = stop_button("red", drops_out), left = stop_button("left", drops_out);
    CHECK(worse(stopped_bench(red), stopped_bench(left)) == 0);
    CHECK(worse(stopped_bench(red), stopped_bench(red)) == 0);
    CHECK(worse(stopped_bench(red + left), stopped_bench(red)) == 1);
    // The new one stops nothing: that is a loss, and a fail of its own.
    CHECK(worse(stopped_bench(red), stopped_bench(stop_button("left", "stops = []\n"))) == 2);
}

TEST_CASE("a contactor that an emergency stop no longer drops out is worse") {
    const std::string two =
        "[switch.k2]\nfrom = \"box.b\"\nlike = \"switch.k1\"\n[load.planer]\nfrom = \"switch.k2\"\nmotor = "
        "\"induction\"\n"
        "form = \"standing\"\nplate = { current = \"5 A\" }\n";
    const auto before = stopped_bench(two + stop_button("red", "stops = [\"switch.k1\", \"switch.k2\"]\n"));
    const auto after = stopped_bench(two + stop_button("red", drops_out));
    const auto found = compared(before, after);
    REQUIRE(found.worse() == 1);
    CHECK(rules::registry()[found.moved.front().rule].id == "restart.stop-misses-cutter");
    CHECK(worse(after, before) == 0);
}

TEST_CASE("a new emergency stop asks for its test") {
    const auto tests = compared(stopped_bench(""), stopped_bench(stop_button("red", drops_out))).tests;
    CHECK(std::any_of(tests.begin(), tests.end(), [](const rules::Retest& t) {
        return t.test.find("press each emergency stop") != std::string::npos;
    }));
}

TEST_CASE("another draw, or another set, asks for the heaviest start again; another label does not") {
    const auto asks = [](const std::string& before, const std::string& after) {
        const auto tests = compared(before, after).tests;
        return std::any_of(tests.begin(), tests.end(), [](const rules::Retest& t) {
            return t.test.find("start the heaviest tool") != std::string::npos;
        });
    };
    const std::string plan = bench("16 A"), set = "[[together]]\nname = \"all\"\nloads = [\"saw\"]\n";
    std::string thirsty = plan, named = plan;
    thirsty.replace(thirsty.find("\"5 A\""), 5, "\"9 A\"");
    named.insert(named.find("motor = "), "label = \"Old saw\"\n");
    CHECK(asks(plan, thirsty));
    CHECK(asks(plan, plan + set));
    CHECK(!asks(plan, named));
}
