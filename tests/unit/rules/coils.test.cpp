// Coils while motors start: what is left between the conductors of a coil, when it pulls in and when it lets
// go. The figures are worked beside each case, from U * Zm / (Zm + Z) with everything in phase.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using rules::Reach;
using test::judged;

namespace {

std::string bench(const std::string& region, const std::string& system, const std::string& source,
                  const std::string& rest) {
    return "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" +
           system + "\"\nearthing = \"TN-S\"\nline_impedance = \"" + source +
           "\"\n[box.b]\nfrom = \"supply.s\"\n" + rest;
}

std::string motor(const std::string& name, const std::string& from, const std::string& volts,
                  const std::string& start, const std::string& more = "") {
    return "[load." + name + "]\nfrom = \"" + from + "\"\nmotor = \"induction\"\n" + more +
           "plate = { current = \"5 A\", " + "voltage = \"" + volts +
           "\", power_factor = 1.0, start_current = \"" + start + "\" }\n";
}

/// The volts that a limit of this kind at this element amounts to in the set "all".
double volts(const Judged& result, Reach::Kind kind, const std::string& path, const std::string& starter) {
    for (const rules::Limit& limit : result.judgement().limits) {
        if (limit.reach.kind != kind || !limit.reach.high_start ||
            result.plan()[limit.at.index].path() != path)
            continue;
        if (!starter.empty() && result.plan()[limit.reach.starter].path() != starter) continue;
        const auto value = rules::evaluate(result.situation(), limit, result.plan().everything.loads).value;
        return std::get<Voltage>(value) / (1.0 * unit::volt);
    }
    FAIL("no such limit at " << path);
    return 0;
}

/// The worst that is said of a coil by volts.start-dip.
rules::Verdict worst(const Judged& result, const std::string& path) {
    rules::Verdict verdict = rules::Verdict::ok;
    bool found = false;
    for (const rules::Outcome& o : result.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "volts.start-dip" || result.plan()[o.at.index].path() != path)
            continue;
        verdict = std::max(verdict, o.verdict);
        found = true;
    }
    REQUIRE(found);
    return verdict;
}

std::string release(const std::string& name, const std::string& kind, const std::string& more = "") {
    return "[switch." + name + "]\nfrom = \"box.b\"\nkind = \"" + kind + "\"\nno_volt = true\npoles = 2\n" +
           more;
}

}  // namespace

TEST_CASE("between two lines the source is counted once") {
    // Zm = 240 / 100 = 2.4 ohm: 240 * 2.4 / (2.4 + 0.1) = 230.4 V.
    const Judged lines = judged(bench("US", "120/240 V", "0.1 ohm", motor("saw", "box.b", "240 V", "100 A")));
    CHECK(volts(lines, Reach::Kind::left_at_start, "load.saw", "load.saw") ==
          doctest::Approx(230.4).scale(0).epsilon(1e-6));
    // Line to neutral it is all of it, there and back: 120 * 1.2 / (1.2 + 0.1) = 110.77 V.
    const Judged one = judged(bench("US", "120/240 V", "0.1 ohm",
                                    motor("saw", "box.b", "120 V", "100 A", "conductors = \"L1-N\"\n")));
    CHECK(volts(one, Reach::Kind::left_at_start, "load.saw", "load.saw") ==
          doctest::Approx(110.76923).scale(0).epsilon(1e-6));
    // Three lines, a star: Zm = 400 / sqrt(3) / 100 A = 2.3094 ohm against 0.05: 400 * 2.3094 / 2.3594 =
    // 391.52 V.
    const Judged star = judged(bench("EU", "230/400 V", "0.1 ohm",
                                     motor("saw", "box.b", "400 V", "100 A", "conductors = \"L1-L2-L3\"\n")));
    CHECK(volts(star, Reach::Kind::left_at_start, "load.saw", "load.saw") ==
          doctest::Approx(389.929).scale(0).epsilon(1e-5));
}

TEST_CASE("a coil sees the dip of the conductors between which it hangs") {
    const auto bench_with = [](const std::string& coil) {
        return judged(bench("US", "120/240 V", "0.1 ohm",
                            release("k1", "contactor", coil) + motor("saw", "switch.k1", "240 V", "100 A")));
    };
    // Between the lines what the motor gets; from one of them to the neutral 120 V - 96 A * 0.05 ohm.
    CHECK(volts(bench_with("coil = \"240 V\"\n"), Reach::Kind::left_at_start, "switch.k1", "load.saw") ==
          doctest::Approx(230.4).scale(0).epsilon(1e-6));
    CHECK(volts(bench_with("coil = \"120 V\"\n"), Reach::Kind::left_at_start, "switch.k1", "load.saw") ==
          doctest::Approx(115.2).scale(0).epsilon(1e-6));
}

TEST_CASE("a no-volt switch lets go below 70 %; a contactor surely holds where it pulls in, at 85 %") {
    // 0.5 ohm before the panel. 160 A: Zm = 1.4375 ohm, 170.6 V left, 74 % of 230 V.
    // 110 A: Zm = 2.0909 ohm, 185.6 V, 81 %. 200 A: Zm = 1.15 ohm, 160.3 V, 69.7 %. 75 A: Zm = 3.0667 ohm,
    // 197.8 V, 86 %. That a contactor holds down to 75 % is remembered, and makes no ok.
    const auto said = [](const std::string& kind, const std::string& amps) {
        return worst(judged(bench("EU", "230 V", "0.5 ohm",
                                  release("k1", kind, "coil = \"230 V\"\n") +
                                      motor("saw", "switch.k1", "230 V", amps))),
                     "switch.k1");
    };
    CHECK(said("contactor", "75 A") == rules::Verdict::ok);
    CHECK(said("contactor", "110 A") == rules::Verdict::caution);
    CHECK(said("contactor", "160 A") == rules::Verdict::caution);
    CHECK(said("rocker", "160 A") == rules::Verdict::ok);
    CHECK(said("rocker", "200 A") == rules::Verdict::caution);
    // 0.2 ohm: 120 * Zm / (Zm + 0.2) with Zm = 120 / 160 = 0.75 ohm is 94.7 V, 79 %.
    CHECK(worst(judged(bench("US", "120 V", "0.2 ohm",
                             release("k1", "contactor", "coil = \"120 V\"\n") +
                                 motor("saw", "switch.k1", "120 V", "160 A"))),
                "switch.k1") == rules::Verdict::caution);
}

TEST_CASE("a coil pulls in before its own motor draws anything, the others running") {
    // 5 A of the vac in 2 ohm before the panel: 220 V of 230 V. The saw, behind the coil, is not on yet.
    const Judged easy =
        judged(bench("EU", "230 V", "2 ohm",
                     release("k1", "contactor", "coil = \"230 V\"\n") +
                         motor("saw", "switch.k1", "230 V", "20 A") + motor("vac", "box.b", "230 V", "5 A")));
    CHECK(volts(easy, Reach::Kind::left_at_pick_up, "switch.k1", "") ==
          doctest::Approx(220.0).scale(0).epsilon(1e-6));
    // The mark counts: 220 V are 87 % of 253 V and 84.6 % of 260 V, less than 85 %.
    const auto marked = [](const std::string& coil) {
        return worst(judged(bench("EU", "230 V", "2 ohm",
                                  release("k1", "rocker", coil) + motor("saw", "switch.k1", "230 V", "6 A") +
                                      motor("vac", "box.b", "230 V", "5 A") +
                                      "[[together]]\nname = \"both\"\nloads = [\"saw\", \"vac\"]\n")),
                     "switch.k1");
    };
    CHECK(marked("coil = \"253 V\"\n") != rules::Verdict::caution);
    CHECK(marked("coil = \"260 V\"\n") == rules::Verdict::caution);
}

TEST_CASE("the words of a coil: its own motor, another one, before it is on") {
    const auto headline = [](const Judged& result, const std::string& path) {
        for (const rules::Outcome& o : result.judgement().outcomes)
            if (rules::registry()[o.rule].id == "volts.start-dip" && o.verdict == rules::Verdict::caution &&
                result.plan()[o.at.index].path() == path)
                return rules::explain(result.situation(), result.judgement(), o);
        FAIL("no caution at " << path);
        return rules::Explanation{};
    };
    const Judged own = judged(bench(
        "EU", "230 V", "0.5 ohm",
        release("k1", "contactor", "coil = \"230 V\"\n") + motor("saw", "switch.k1", "230 V", "160 A")));
    CHECK(headline(own, "switch.k1").consequence.find("its own motor") != std::string::npos);
    const Judged other = judged(bench("EU", "230 V", "0.5 ohm",
                                      release("k1", "contactor", "coil = \"230 V\"\n") +
                                          motor("planer", "switch.k1", "230 V", "6 A") +
                                          motor("saw", "box.b", "230 V", "160 A") +
                                          "[[together]]\nname = \"both\"\nloads = [\"planer\", \"saw\"]\n"));
    const auto words = headline(other, "switch.k1");
    CHECK(words.consequence.find("the other one") != std::string::npos);
    CHECK(words.headline.find("while the saw starts") != std::string::npos);
}

namespace {

/// A saw behind a contactor, a lead before the contactor and one between it and the saw; a press at the box.
Judged with_leads(const std::string& to_coil, const std::string& to_saw,
                  const std::string& stock = "type = \"H07RN-F\"\nsection = \"1.5 mm2\"\n") {
    const auto cable = [](const std::string& length) {
        return "cable = { stock = \"c\", length = " + length + " }\n";
    };
    return judged(bench("EU", "230 V", "0.1 ohm",
                        "[stock.c]\ncores = 3\n" + stock +
                            release("k1", "contactor", "coil = \"230 V\"\n" + cable(to_coil)) +
                            motor("saw", "switch.k1", "230 V", "40 A", cable(to_saw)) +
                            motor("press", "box.b", "230 V", "40 A") +
                            "[[together]]\nname = \"both\"\nloads = [\"saw\", \"press\"]\n"));
}

/// What is said of the coil, with the fact that is asked for: "cannot judge: switch.k1.cable.length".
std::vector<std::string> of_the_coil(const Judged& result) {
    std::vector<std::string> list;
    for (const rules::Outcome& o : result.judgement().outcomes) {
        if (rules::registry()[o.rule].id != "volts.start-dip" ||
            result.plan()[o.at.index].path() != "switch.k1")
            continue;
        const auto e = rules::explain(result.situation(), result.judgement(), o);
        list.push_back(std::string(rules::words(o.verdict)) +
                       (e.questions.empty() ? "" : ": " + e.questions.front().path));
    }
    return list;
}

}  // namespace

TEST_CASE(
    "a run that nobody measured makes the volts of a coil a caution that asks for it, wherever the run "
    "lies") {
    using Words = std::vector<std::string>;
    CHECK(of_the_coil(with_leads("\"2 m\"", "\"2 m\"")) == Words{"ok"});
    // Before the coil, for its own motor and for another one's start.
    CHECK(of_the_coil(with_leads("\"unknown\"", "\"2 m\"")) == Words{"caution: switch.k1.cable.length"});
    // Behind it: the start draws less through a longer run, so the coil gets no less than it does now.
    CHECK(of_the_coil(with_leads("\"2 m\"", "\"unknown\"")) == Words{"ok"});
    // ... but where it is short enough to chatter and long enough to hold, the run behind decides, and is
    // asked for.
    const Judged heavy = judged(bench(
        "EU", "230 V", "0.5 ohm",
        "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n" +
            release("k1", "contactor", "coil = \"230 V\"\n") +
            motor("saw", "switch.k1", "230 V", "85 A", "cable = { stock = \"c\", length = \"unknown\" }\n")));
    CHECK(of_the_coil(heavy) == Words{"caution: load.saw.cable.length"});
    // A metal of which no table gives the resistance in so thin a core.
    const std::string aluminium =
        "type = \"PVC sheathed\"\nsection = \"2.5 mm2\"\nconductor = \"aluminium\"\n";
    const auto said = of_the_coil(with_leads("\"2 m\"", "\"2 m\"", aluminium));
    REQUIRE(said.size() == 1);
    CHECK(said.front() == "cannot judge: switch.k1.cable.stock");
}

TEST_CASE("the run before the coil counts while a motor on another run starts") {
    const Judged result = judged(
        bench("EU", "230 V", "0.1 ohm",
              "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n" +
                  release("k1", "contactor",
                          "coil = \"230 V\"\ncable = { stock = \"c\", length = \"unknown\" }\n") +
                  motor("saw", "switch.k1", "230 V", "7 A") + motor("press", "box.b", "230 V", "40 A") +
                  "[[together]]\nname = \"both\"\nloads = [\"saw\", \"press\"]\n"));
    for (const rules::Limit& limit : result.judgement().limits) {
        if (limit.reach.kind != Reach::Kind::left_at_start ||
            result.plan()[limit.at.index].path() != "switch.k1" ||
            result.plan()[limit.reach.starter].path() != "load.press")
            continue;
        const auto evaluated = rules::evaluate(result.situation(), limit, result.plan().everything.loads);
        REQUIRE(std::holds_alternative<Voltage>(evaluated.at_worst));
        CHECK(std::get<Voltage>(evaluated.at_worst) < std::get<Voltage>(evaluated.value));
        return;
    }
    FAIL("no such limit");
}
