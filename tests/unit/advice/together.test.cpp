// Who may run with whom on benches small enough to see it; tests/reference has every subset of random ones.
#include <benchfeed/advice/together.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <benchfeed/advice/headroom.hpp>
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::judged;

namespace {

/// A bench cord of 16 A with loads of these plates; `more` is added to each load's table by name.
std::string bench(const std::string& loads, const std::string& sets = "") {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
           "earthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 ohm\"\n"
           "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 A\"\n"
           "residual = { trip = \"30 mA\", wave = \"A\" }\n"
           "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n"
           "[outlet.wall]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
           "cable = { stock = \"house\", length = \"5 m\", method = \"C\" }\nexisting = true\n"
           "[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
           "[box.j]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = \"lead\", length = \"3 "
           "m\" }\n" +
           loads + sets;
}
std::string heater(const std::string& name, const std::string& amps, const std::string& more = "") {
    return "[outlet." + name + "]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load." +
           name + "]\nfrom = \"outlet." + name + "\"\nmotor = \"none\"\nplate = { current = \"" + amps +
           "\" }\nduty = \"minutes\"\n" + more;
}
std::vector<std::string> names(const Judged& j, const advice::ChosenSets& sets) {
    std::vector<std::string> found;
    for (const auto& set : sets.sets) {
        std::string text;
        for (const auto load : set.loads) text += (text.empty() ? "" : " ") + j.plan()[load].name;
        found.push_back(text);
    }
    return found;
}
using Names = std::vector<std::string>;

}  // namespace

TEST_CASE(
    "largest and smallest sets come fewest loads first, then most amps, with the element that forbids") {
    const Judged j =
        judged(bench(heater("a", "10 A") + heater("b", "7 A") + heater("c", "6 A") + heater("d", "3 A")));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(names(j, answer.largest) == Names{"a c", "a d", "b c d"});
    CHECK(names(j, answer.forbidden) == Names{"a b", "a c d"});
    REQUIRE(answer.forbidden.sets.front().broken);
    const auto& limit = j.judgement().limits[answer.forbidden.sets.front().broken->limit];
    CHECK(rules::registry()[limit.rule].id == "heat.plug-overloaded");
    CHECK(in(unit::ampere, std::get<Current>(answer.forbidden.sets.front().broken->evaluated.value)) ==
          doctest::Approx(17));
    CHECK(answer.pairs[0][1] == advice::Together::no);
    CHECK(answer.pairs[0][2] == advice::Together::yes);  // 16 A of 16 A
    CHECK(answer.pairs[0][3] == advice::Together::yes);
}

namespace {

/// A heater that hangs on something else than the box.
std::string heater_at(const std::string& at, const std::string& name, const std::string& amps,
                      const std::string& more = "") {
    std::string text = heater(name, amps, more);
    const std::string from = "from = \"box.j\"";
    return text.replace(text.find(from), from.size(), "from = \"" + at + "\"");
}
const std::string changeover =
                      "[switch.x]\nfrom = \"box.j\"\nchangeover = true\nrating = \"16 A\"\npoles = 2\n",
                  by_itself = "self_starting = true\n";

/// The largest sets, each with what must be kept from starting beside it.
std::vector<std::pair<std::string, std::string>> largest(const std::string& loads) {
    const Judged j = judged(bench(loads));
    const auto answer = advice::together(j.situation(), j.judgement());
    std::vector<std::pair<std::string, std::string>> found;
    const auto sets = names(j, answer.largest);
    for (std::size_t i = 0; i < sets.size(); ++i) {
        std::string beside;
        for (const auto load : answer.largest.sets[i].not_beside)
            beside += (beside.empty() ? "" : " ") + j.plan()[load].name;
        found.emplace_back(sets[i], beside);
    }
    return found;
}
using Largest = std::vector<std::pair<std::string, std::string>>;

}  // namespace

TEST_CASE("what starts by itself at one position of a switch is told where it would be too much") {
    const auto answer_of = [&](const std::string& saw, const std::string& stove) {
        return largest(heater("saw", saw) + changeover + heater_at("switch.x", "pump", "9 A", by_itself) +
                       heater_at("switch.x", "stove", stove));
    };
    // 10 A beside 9 A is too much for 16 A: the saw runs only while the switch keeps the pump off.
    CHECK(answer_of("10 A", "8 A") == Largest{{"saw", "pump"}, {"pump", ""}, {"stove", ""}});
    // The stove takes the switch, so the pump cannot start.
    CHECK(answer_of("10 A", "3 A") == Largest{{"pump", ""}, {"saw stove", ""}});
    CHECK(answer_of("5 A", "8 A") == Largest{{"saw pump", ""}, {"saw stove", ""}});
}

TEST_CASE("what starts by itself runs with whatever needs its position of a switch") {
    const std::string left = changeover + "[box.left]\nfrom = \"switch.x\"\n" +
                             heater_at("box.left", "pump", "9 A", by_itself) +
                             heater_at("box.left", "lamp", "1 A"),
                      loads = heater("saw", "10 A") + left + heater_at("switch.x", "stove", "8 A");
    CHECK(largest(loads) == Largest{{"saw", "pump"}, {"stove", ""}, {"pump lamp", ""}});
    const Judged j = judged(bench(loads, "[[together]]\nname = \"both\"\nloads = [\"saw\", \"lamp\"]\n"));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(names(j, answer.forbidden) == Names{"saw pump", "saw stove", "saw lamp"});
    // As check has it.
    CHECK(answer.sets.front().answer == advice::Together::no);
    CHECK(answer.pairs[0][2] == advice::Together::no);

    // It may be unplugged where it takes turns at an outlet, or be off by a switch of its own.
    const std::string shared = changeover + "[box.left]\nfrom = \"switch.x\"\n" +
                               heater_at("box.left", "pump", "9 A", by_itself) +
                               "[load.fan]\nfrom = \"outlet.pump\"\nmotor = \"none\"\nplate = { current = "
                               "\"2 A\" }\nduty = \"minutes\"\n" +
                               heater_at("box.left", "lamp", "1 A") + heater_at("switch.x", "stove", "8 A");
    CHECK(largest(heater("saw", "10 A") + shared) ==
          Largest{{"stove", ""}, {"pump lamp", ""}, {"saw fan lamp", ""}});
}

TEST_CASE("several that start by themselves at an outlet with fewer ways: each that is too much is told") {
    const auto plugged = [](const std::string& name, const std::string& amps, const std::string& more = "") {
        return "[load." + name + "]\nfrom = \"outlet.shared\"\nmotor = \"none\"\nplate = { current = \"" +
               amps + "\" }\nduty = \"minutes\"\n" + more;
    };
    const auto shared = [&](const std::string& saw) {
        return heater("saw", saw) +
               "[outlet.shared]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\nways = 2\n" +
               plugged("p", "5 A", by_itself) + plugged("q", "4.5 A", by_itself) + plugged("stove", "3 A");
    };
    // 16 A are allowed. Beside the saw one way of the two stays free, and with a third one it is too much.
    CHECK(largest(shared("9 A")) == Largest{{"saw p", "q"},
                                            {"saw q", "p"},
                                            {"saw stove", "p q"},
                                            {"p q", ""},
                                            {"p stove", ""},
                                            {"q stove", ""}});
}

TEST_CASE("what starts by itself and nobody knows is kept from starting beside any set") {
    const std::string unknown =
        "[outlet.q]\nfrom = \"switch.x\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
        "[load.q]\nfrom = \"outlet.q\"\nmotor = \"none\"\nplate = { current = \"unknown\" }\nself_starting = "
        "true\n";
    CHECK(largest(heater("saw", "5 A") + changeover + unknown + heater_at("switch.x", "stove", "12 A")) ==
          Largest{{"stove", ""}, {"saw", "q"}});
}

TEST_CASE("of two reasons that do the same harm the one that is overstepped more forbids") {
    // a and b, 11 A: a tenth too much for the first switch, and nearly twice what the second is made for.
    // Beside c the first can be too small while the second is not, so it is asked at all.
    const Judged j =
        judged(bench("[switch.first]\nfrom = \"box.j\"\nrating = \"10 A\"\npoles = 2\n"
                     "[switch.small]\nfrom = \"switch.first\"\nrating = \"6 A\"\npoles = 2\n" +
                     heater_at("switch.small", "a", "6 A") + heater_at("switch.small", "b", "5 A") +
                     heater_at("switch.first", "c", "4.5 A")));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(names(j, answer.forbidden) == Names{"a b", "a c"});
    const auto edge_of = [&](const advice::ChosenSet& set) {
        REQUIRE(set.broken);
        return in(unit::ampere, std::get<Current>(j.judgement().limits[set.broken->limit].edge));
    };
    CHECK(edge_of(answer.forbidden.sets[0]) == doctest::Approx(6));
    CHECK(edge_of(answer.forbidden.sets[1]) == doctest::Approx(10));
}

TEST_CASE("equal loads are one entry") {
    std::string loads = heater("big", "9 A");
    for (int i = 0; i < 6; ++i) loads += heater("lamp" + std::to_string(i), "2 A");
    const Judged j = judged(bench(loads));
    const auto answer = advice::together(j.situation(), j.judgement());
    REQUIRE(answer.equals.size() == 1);
    CHECK(answer.equals.front().size() == 6);
    REQUIRE(answer.largest.sets.size() == 2);  // big and any 3, all 6 without it
    CHECK(answer.largest.sets[0].choices.back().count == 3);
    CHECK(answer.largest.sets[1].choices.back().count == 6);
    REQUIRE(answer.forbidden.sets.size() == 1);  // big and any 4
    CHECK(answer.forbidden.sets.front().choices.back().count == 4);
}

TEST_CASE("what starts by itself is in every set, what another starts joins it, ways are taken in turns") {
    const Judged j =
        judged(bench(heater("always", "6 A", "self_starting = true\n") + heater("saw", "7 A") +
                     heater("vac", "4 A", "starts_with = \"saw\"\n") +
                     "[outlet.shared]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
                     "[load.x]\nfrom = \"outlet.shared\"\nmotor = \"none\"\nplate = { current = \"2 A\" "
                     "}\nduty = \"minutes\"\n"
                     "[load.y]\nfrom = \"outlet.shared\"\nmotor = \"none\"\nplate = { current = \"1 A\" "
                     "}\nduty = \"minutes\"\n"));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(answer.company.always.size() == 1);
    CHECK(answer.company.turns.size() == 1);
    // 6 + 7 + 4 = 17 A: the saw brings the vac, so alone it is too much; the vac alone is not.
    CHECK(names(j, answer.forbidden) == Names{"saw"});
    CHECK(names(j, answer.largest) == Names{"vac x", "vac y"});
    const auto at = [&](const char* name) {
        const auto& loads = answer.company.loads;
        return static_cast<std::size_t>(
            std::find(loads.begin(), loads.end(), j.plan().find(plan::Kind::load, name)) - loads.begin());
    };
    CHECK(answer.pairs[at("x")][at("y")] == advice::Together::turns);
    CHECK(answer.pairs[at("saw")][at("saw")] == advice::Together::no);
}

TEST_CASE("the positions of a changeover switch take turns") {
    const auto load = [](const std::string& name, const std::string& from, const std::string& amps) {
        return "[load." + name + "]\nfrom = \"" + from + "\"\nmotor = \"none\"\nplate = { current = \"" +
               amps + "\" }\nduty = \"minutes\"\n";
    };
    const Judged j = judged(
        bench("[switch.c]\nfrom = \"box.j\"\npoles = 2\nrating = \"16 A\"\nchangeover = "
              "true\n[box.left]\nfrom = \"switch.c\"\n"
              "[box.right]\nfrom = \"switch.c\"\n" +
              load("a", "box.left", "3 A") + load("b", "box.left", "2 A") + load("c", "box.right", "4 A")));
    const auto answer = advice::together(j.situation(), j.judgement());
    REQUIRE(answer.company.changeovers.size() == 1);
    CHECK(names(j, answer.largest) == Names{"c", "a b"});
    CHECK(answer.pairs[0][1] == advice::Together::yes);
    CHECK(answer.pairs[0][2] == advice::Together::turns);
    CHECK(answer.pairs[1][2] == advice::Together::turns);
}

TEST_CASE("a load that nobody knows is in no allowed set, and what is forbidden without it stays so") {
    const Judged j =
        judged(bench(heater("a", "10 A") + heater("b", "7 A") + heater("c", "1 A") +
                     "[outlet.q]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
                     "[load.q]\nfrom = \"outlet.q\"\nmotor = \"none\"\nplate = { current = \"unknown\" }\n"));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(names(j, answer.largest) == Names{"a c", "b c"});
    CHECK(names(j, answer.forbidden) == Names{"a b"});
    CHECK(answer.pairs[3][3] == advice::Together::cannot_judge);
    CHECK(answer.doubts[3].open);
    CHECK(!answer.declared_sets_fit());
}

TEST_CASE("a plug that nobody knows leaves every set behind it open") {
    std::string text = bench(heater("a", "10 A"));
    text.replace(text.find("plug = \"CEE 7/7\""), 16, "plug = \"unknown\"");
    const Judged j = judged(text);
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(answer.largest.sets.empty());
    CHECK(answer.pairs[0][0] == advice::Together::cannot_judge);
}

TEST_CASE("declared sets: amps and watts left at their weakest element") {
    const Judged j = judged(bench(heater("a", "10 A") + heater("b", "2.5 A"),
                                  "[[together]]\nname = \"both\"\nloads = [\"a\", \"b\"]\n"));
    const auto answer = advice::together(j.situation(), j.judgement());
    REQUIRE(answer.sets.size() == 1);
    CHECK(answer.declared_sets_fit());
    CHECK(in(unit::ampere, *answer.sets[0].left) == doctest::Approx(3.5));
    CHECK(in(unit::watt, *answer.sets[0].watts_left) == doctest::Approx(805));
}

TEST_CASE("room for one more load ends where the first limit does, for minutes and for hours") {
    const std::string loads =
        heater("a", "9 A") +
        "[outlet.free]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"
        "[outlet.small]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\nrating = \"3 A\"\n";
    const Judged j = judged(bench(loads));
    const auto s = j.situation();
    const auto free = advice::free_outlets(s);
    REQUIRE(free.size() == 2);
    const auto room = [&](plan::Index at, advice::Stay stay) {
        const auto found = advice::headroom(s, j.judgement(), 0, at, stay);
        REQUIRE(found.most.has_value());
        return in(unit::ampere, *found.most);
    };
    CHECK(room(free[0], advice::Stay::minutes) == doctest::Approx(7));  // 16 A of the plug less 9 A
    CHECK(room(free[0], advice::Stay::hours) ==
          doctest::Approx(7));  // 10 A for hours, and 9 A are for minutes
    CHECK(room(free[1], advice::Stay::minutes) == doctest::Approx(3));  // the outlet itself
    const auto watts = advice::headroom(s, j.judgement(), 0, free[0], advice::Stay::minutes).watts;
    CHECK(in(unit::watt, *watts) == doctest::Approx(7 * 230));
    // With the further load written into the plan, its limit holds; with a little more it does not.
    const auto with = [&](const char* amps) {
        const Judged more = judged(
            bench(loads + "[load.more]\nfrom = \"outlet.free\"\nmotor = \"none\"\nplate = { current = \"" +
                      std::string(amps) + "\" }\n",
                  "[[together]]\nname = \"all\"\nloads = [\"a\", \"more\"]\n"));
        return advice::together(more.situation(), more.judgement()).declared_sets_fit();
    };
    CHECK(with("7 A"));
    CHECK(!with("7.01 A"));
}

TEST_CASE(
    "of a further load nobody knows the power factor: its amps are added to those of a motor as they are") {
    const std::string motor =
        "[outlet.m]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.m]\nfrom = "
        "\"outlet.m\"\n"
        "motor = \"universal\"\nplate = { current = \"9 A\", power_factor = 0.5, voltage = \"230 V\" }\n";
    const Judged j =
        judged(bench(motor + "[outlet.free]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n"));
    const auto free = advice::free_outlets(j.situation());
    REQUIRE(free.size() == 1);
    const auto found = advice::headroom(j.situation(), j.judgement(), 0, free.front(), advice::Stay::minutes);
    REQUIRE(found.most);
    CHECK(in(unit::ampere, *found.most) == doctest::Approx(7));  // at right angles 9.5 A would go in
}

TEST_CASE("a long cord ends the room by its volts before any plug is full") {
    std::string text = bench(heater("a", "4 A") +
                             "[outlet.free]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n");
    text.replace(text.find("length = \"3 m\""), 14, "length = \"45 m\"");
    const Judged j = judged(text);
    const auto free = advice::free_outlets(j.situation());
    const auto found = advice::headroom(j.situation(), j.judgement(), 0, free.front(), advice::Stay::minutes);
    REQUIRE(found.most);
    // 8.21 and 7.41 mohm/m at 20 degC, at 60 and 70 degC: 45 m and 5 m out and back are 0.944 ohm; 5 % of 230
    // V let 12.2 A through, of which 4 A run.
    CHECK(test::agrees(in(unit::ampere, *found.most), 8.185, 1e-3));
}

TEST_CASE("a sum of lags that lies between two directions is as long as it is: 16.02 A are more than 16 A") {
    const auto tool = [](const char* name, const char* amps, const char* watts) {
        return fmt::format(
            "[outlet.{0}]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.{0}]\nfrom = "
            "\"outlet.{0}\"\nmotor = \"universal\"\nplate = {{ current = \"{1}\", power_in = \"{2}\", "
            "voltage = "
            "\"230 V\" }}\n",
            name, amps, watts);
    };
    const Judged j = judged(bench(tool("saw", "7.0 A", "1600 W") + tool("router", "6.1 A", "1400 W") +
                                  tool("jigsaw", "2.8 A", "650 W") + tool("lamp", "0.14 A", "30 W")));
    const auto answer = advice::together(j.situation(), j.judgement());
    CHECK(names(j, answer.forbidden) == Names{"saw router jigsaw lamp"});
    CHECK(answer.largest.sets.size() == 4);
}

TEST_CASE("a search that is cut gives sets that are right, and says so") {
    std::string tools;
    for (int i = 0; i < 40; ++i)
        tools += heater(fmt::format("h{}", i).c_str(), fmt::format("{:.2f} A", 0.5 + 0.013 * i).c_str());
    const Judged j = judged(bench(tools));
    const auto answer = advice::together(j.situation(), j.judgement(), {.most_sets = 20, .most_steps = 40});
    CHECK(answer.largest.stopped);
    CHECK(answer.forbidden.stopped);
    REQUIRE(!answer.largest.sets.empty());
    REQUIRE(!answer.forbidden.sets.empty());
    const auto amps = [&](const advice::ChosenSet& set) { return in(unit::ampere, set.amps); };
    for (const auto& set : answer.largest.sets) {
        CHECK(amps(set) <= 16 + 1e-9);
        CHECK(amps(set) > 16 - 1.1);  // no other heater can join
    }
    for (const auto& set : answer.forbidden.sets) {
        CHECK(amps(set) > 16);
        CHECK(amps(set) < 16 + 1.1);  // without any one of them it fits
    }
}
