// Who runs with whom where not everything can: the positions of a changeover switch, the ways of an outlet,
// company that is assumed.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include <benchfeed/check.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

/// Two branches behind a changeover switch, and a box that is always fed.
const std::string bench =
    "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n"
    "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n"
    "[box.j]\nfrom = \"device.d\"\n[switch.c]\nfrom = \"box.j\"\npoles = 2\nchangeover = true\n"
    "[box.left]\nfrom = \"switch.c\"\n[box.right]\nfrom = \"switch.c\"\n";

std::string load(const std::string& name, const std::string& from, const std::string& plate,
                 const std::string& more = "") {
    return "[load." + name + "]\nfrom = \"" + from + "\"\nmotor = \"none\"\n" +
           (plate.empty() ? "" : "plate = { " + plate + " }\n") + more;
}
std::string amps(double value) {
    return "current = \"" + std::to_string(value).substr(0, 4) + " A\"";
}
const std::string light = "kind = \"light\"\n";

plan::Reading read(const std::string& text) {
    return plan::read_plan(text::Document("p.toml", text), plan_words(catalogue()), {});
}
std::string names(const plan::Plan& plan, const std::vector<plan::Index>& loads) {
    std::string all;
    for (const plan::Index one : loads) all += (all.empty() ? "" : " ") + plan[one].name;
    return all;
}
/// "saw: saw lamp; planer: planer"
std::string sets(const std::string& text) {
    const plan::Reading reading = read(text);
    for (const auto& problem : reading.problems) FAIL_CHECK(problem.message);
    std::string all;
    for (const auto& set : reading.plan.sets)
        all += (all.empty() ? "" : "; ") + set.name + (set.assumed ? ": " : " (declared): ") +
               names(reading.plan, set.loads);
    return all;
}
std::string everything(const std::string& text) {
    const plan::Reading reading = read(text);
    for (const auto& problem : reading.problems) FAIL_CHECK(problem.message);
    return names(reading.plan, reading.plan.everything.loads);
}

}  // namespace

TEST_CASE("a set runs one position of a changeover switch") {
    const std::string loads = load("saw", "box.left", amps(6)) + load("sander", "box.left", amps(2)) +
                              load("planer", "box.right", amps(8)) + load("lamp", "box.j", amps(1));
    const auto problems = [&](const std::string& members) {
        std::string all;
        for (const auto& problem :
             read(bench + loads + "[[together]]\nname = \"a\"\nloads = [" + members + "]\n").problems)
            all += problem.message;
        return all;
    };
    CHECK(problems("\"saw\", \"planer\"") == "the set runs two positions of switch.c");
    CHECK(problems("\"planer\", \"lamp\", \"saw\"") == "the set runs two positions of switch.c");
    CHECK(problems("\"saw\", \"sander\", \"lamp\"").empty());
    CHECK(problems("\"planer\", \"lamp\"").empty());
    // Without changeover the two branches are fed at once.
    std::string plain = bench + loads + "[[together]]\nname = \"a\"\nloads = [\"saw\", \"planer\"]\n";
    plain.replace(plain.find("changeover = true"), 17, "changeover = false");
    CHECK(read(plain).problems.empty());
}

TEST_CASE("everything at once is, of what takes turns, what draws most") {
    const auto first = [&](const std::string& left, const std::string& right) {
        return everything(bench + load("a", "box.left", left) + load("b", "box.right", right) +
                          load("lamp", "box.j", amps(1)));
    };
    CHECK(first(amps(6), amps(8)) == "b lamp");
    CHECK(first(amps(8), amps(6)) == "a lamp");
    // Watts by the volts of the plate, or by 200 V; what comes out takes half as much again to go in.
    CHECK(first(amps(4.9), "power_in = \"1000 W\"") == "b lamp");
    CHECK(first(amps(5.1), "power_in = \"1000 W\"") == "a lamp");
    CHECK(first(amps(4.2), "power_in = \"1000 W\", voltage = \"230 V\"") == "b lamp");
    CHECK(first(amps(4.5), "power_in = \"1000 W\", voltage = \"230 V\"") == "a lamp");
    CHECK(first(amps(7.4), "power_out = \"1000 W\"") == "b lamp");
    CHECK(first(amps(7.6), "power_out = \"1000 W\"") == "a lamp");
    CHECK(first(amps(5.5), "horsepower = \"1 hp\", horsepower_kind = \"rated\"") == "b lamp");
    CHECK(first(amps(5.7), "horsepower = \"1 hp\", horsepower_kind = \"rated\"") == "a lamp");
    CHECK(first(amps(0.1), "") == "a lamp");
}

TEST_CASE("a load in no set has one with the extractors and lights that can run with it") {
    const std::string loads = load("saw", "box.left", amps(6)) + load("planer", "box.right", amps(8)) +
                              load("vac", "box.left", amps(4), "kind = \"extractor\"\n") +
                              load("lamp", "box.j", amps(1), light);
    CHECK(sets(bench + loads) == "saw: saw vac lamp; planer: planer lamp");
    // A lamp that stands in a tool's set needs none of its own; one that cannot has one.
    CHECK(sets(bench + load("planer", "box.right", amps(8)) + load("spot", "box.left", amps(1), light)) ==
          "planer: planer; spot: spot");
    CHECK(sets(bench + loads + "[[together]]\nname = \"x\"\nloads = [\"saw\", \"lamp\"]\n") ==
          "x (declared): saw lamp; planer: planer lamp; vac: vac lamp");
}

TEST_CASE("what starts by itself or with another joins, unless another one has its way") {
    const std::string loads = load("saw", "box.left", amps(6)) + load("planer", "box.right", amps(8)) +
                              load("vac", "box.j", amps(4), "starts_with = \"saw\"\n") +
                              load("fridge", "box.j", amps(1), "self_starting = true\n");
    CHECK(sets(bench + loads) ==
          "saw: saw vac fridge; planer: planer fridge; vac: vac fridge; fridge: fridge");
    const std::string shared = "[outlet.o]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\n" +
                               load("drill", "outlet.o", amps(2)) +
                               load("pump", "outlet.o", amps(3), "self_starting = true\n");
    CHECK(sets(bench + shared) == "drill: drill; pump: pump");
    std::string both = bench + shared;
    both.replace(both.find("pattern"), 0, "ways = 2\n");
    CHECK(sets(both) == "drill: drill pump; pump: pump");
    CHECK(everything(both) == "drill pump");
    CHECK(everything(bench + shared) == "pump");
}
