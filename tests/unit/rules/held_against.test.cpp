// What readings of a plan are held against where the sheet makes no such test, or another one.
#include <benchfeed/rules/held_against.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using test::judged;

namespace {

std::string demo(const std::string& name) {
    std::ostringstream text;
    text << std::ifstream(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml").rdbuf();
    return text.str();
}
std::string with(std::string text, const std::string& old, const std::string& now) {
    const auto at = text.find(old);
    REQUIRE(at != std::string::npos);
    return text.replace(at, old.size(), now);
}
std::string reading(const std::string& test, const std::string& at, const std::string& found,
                    const std::string& date = "2026-05-02", const std::string& more = "") {
    return "\n[[reading]]\ntest = \"" + test + "\"\nat = \"" + at + "\"\nfound = \"" + found +
           "\"\ndate = \"" + date + "\"\n" + more;
}

/// What the one reading of a plan is held against, and how it compares.
struct Compared {
    rules::Held held;
    rules::Standing standing;
};
Compared compared(const std::string& text) {
    const Judged plan = judged(text);
    const auto s = plan.situation();
    REQUIRE(s.plan.readings.size() == 1);
    const plan::MeterReading& reading = s.plan.readings.front();
    const rules::Held held = rules::held_against(s, reading);
    return {held, rules::standing(s, held, plan::read_found(*reading.found).value(), reading)};
}
/// Outcomes of the rule about readings.
std::size_t told(const std::string& text) {
    const Judged plan = judged(text);
    const auto& all = plan.judgement().outcomes;
    return static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [](const rules::Outcome& o) {
        return rules::registry()[o.rule].id == "shock.reading-beyond";
    }));
}
const std::string heron = demo("heron-lane"), maple = demo("maple-row");

}  // namespace

TEST_CASE("figures are those that the sheet prints") {
    // 7 m of cord: 7 * 13.3 mohm = 0.0931 ohm, tinned 7 * 13.7 = 0.0959 ohm; printed 0.09 and 0.20 ohm.
    const auto pe = compared(heron + reading("protective", "outlet.saw", "0.2 ohm"));
    CHECK(number(pe.held.expected) == 0.09);
    CHECK(number(pe.held.stop) == 0.20);
    CHECK(pe.standing == rules::Standing::within);
    CHECK(compared(heron + reading("protective", "outlet.saw", "0.21 ohm")).standing ==
          rules::Standing::beyond);
    CHECK(rules::shown(pe.held.stop) == "0.20 ohm");
    // Cmin 0.95 * 230 V / 80 A = 2.731 ohm; cold 0.8 of it.
    const auto cold = compared(heron + reading("loop", "outlet.saw", "2.5 ohm"));
    CHECK(number(cold.held.stop) == 2.19);
    CHECK(cold.standing == rules::Standing::beyond);
    const auto warm =
        compared(heron + reading("loop", "outlet.saw", "2.5 ohm", "2026-05-02", "cold = false\n"));
    CHECK(number(warm.held.stop) == 2.73);
    CHECK(warm.standing == rules::Standing::within);
}

TEST_CASE("less and more count from a fifth and a tenth of an ohm on") {
    const auto loop = [](const char* found) {
        return compared(heron + reading("loop", "outlet.saw", found)).standing;
    };
    // 0.95 ohm is expected.
    CHECK(loop("1.14 ohm") == rules::Standing::within);
    CHECK(loop("1.15 ohm") == rules::Standing::higher);
    CHECK(loop("> 1.15 ohm") == rules::Standing::short_range);
    CHECK(loop("0.8 ohm") == rules::Standing::within);
    CHECK(loop("0.79 ohm") == rules::Standing::lower);
    CHECK(loop("< 0.79 ohm") == rules::Standing::lower);
    CHECK(loop("< 2 ohm") == rules::Standing::within);
    // Of a few hundredths nothing is clearly less.
    CHECK(compared(heron + reading("protective", "outlet.saw", "0.01 ohm")).standing ==
          rules::Standing::within);
}

TEST_CASE("behind a release nothing is joined while the bench is dead") {
    for (const char* test : {"link", "neutral"}) {
        CHECK(compared(heron + reading(test, "outlet.saw", "open")).standing == rules::Standing::within);
        CHECK(compared(heron + reading(test, "outlet.saw", "> 10 ohm")).standing == rules::Standing::within);
        CHECK(compared(heron + reading(test, "outlet.saw", "0.15 ohm")).standing == rules::Standing::beyond);
        CHECK(compared(heron + reading(test, "outlet.saw", "2 kohm")).standing ==
              rules::Standing::within);  // the coil
    }
    CHECK(compared(heron + reading("link", "outlet.lamp", "open")).standing == rules::Standing::beyond);
}

TEST_CASE("in a TT system the residual device's loop counts, warm or cold") {
    const std::string tt = with(with(heron, "earthing       = \"TN-C-S\"", "earthing       = \"TT\""),
                                "loop_impedance = \"0.5 ohm\"", "loop_impedance = \"80 ohm\"");
    CHECK(number(compared(tt + reading("loop", "outlet.saw", "82 ohm")).held.stop) == 200);
    CHECK(compared(tt + reading("loop", "outlet.saw", "82 ohm")).standing == rules::Standing::within);
    CHECK(compared(tt + reading("loop", "outlet.saw", "120 ohm")).standing == rules::Standing::higher);
    CHECK(compared(tt + reading("loop", "outlet.saw", "210 ohm")).standing == rules::Standing::beyond);
    CHECK(rules::shown(compared(tt + reading("loop", "outlet.saw", "210 ohm")).held.stop) == "200 ohm");
}

TEST_CASE("what nothing is compared with is listed, and is no outcome") {
    const auto listed = [](const std::string& text) {
        const Judged plan = judged(text);
        std::string all;
        for (const auto& item : rules::not_checked(plan.situation()))
            if (item.what.starts_with("a reading of ")) all += item.what + ": " + item.why + "\n";
        return all;
    };
    const std::string us = maple + reading("insulation", "outlet.saw", "500 kohm") +
                           reading("insulation", "outlet.dust", "500 kohm");
    CHECK(listed(us) ==
          "a reading of insulation at the saw outlet and the dust outlet: no figure is known here for how "
          "much it has to be\n");
    CHECK(told(us) == told(maple));
    const std::string house = heron + reading("protective", "outlet.wall", "5 ohm");
    CHECK(listed(house) ==
          "a reading of protective conductor at the wall outlet: the wiring of the house is as found\n");
    CHECK(told(house) == 0);
    const std::string metal = heron + "\n[metal.rail]\ncarries_wiring = false\nbonded = \"no\"\n" +
                              reading("protective", "metal.rail", "open");
    CHECK(listed(metal) ==
          "a reading of protective conductor at the metal part rail: the plan does not say where the "
          "part is bonded\n");
    CHECK(listed(heron + reading("loop", "outlet.saw", "0.9 ohm")).empty());
}

TEST_CASE("behind a generator no loop is compared, and a floating one trips no tester") {
    const auto generator = [](const char* earthing) {
        return with(
            with(heron, "earthing       = \"TN-C-S\"", std::string("earthing = \"") + earthing + "\""),
            "circuit        = \"individual\"", "source = \"generator\"\npower = \"3 kVA\"");
    };
    const auto none = [](const std::string& text) { return compared(text).held.none; };
    CHECK_FALSE(none(generator("TN-S") + reading("loop", "outlet.saw", "5 ohm")).empty());
    CHECK(none(generator("TN-S") + reading("residual", "device.b16", "28 ms")).empty());
    CHECK_FALSE(none(generator("IT") + reading("residual", "device.b16", "no trip")).empty());
    CHECK_FALSE(none(generator("IT") + reading("ramp", "device.b16", "no trip")).empty());
    CHECK(none(generator("IT") + reading("protective", "outlet.saw", "2 ohm")).empty());
}

TEST_CASE("volts are held to those of the system, to earth only where its neutral is earthed") {
    const auto held = [](const std::string& plan, const char* test) {
        return compared(plan + reading(test, "outlet.saw", "0 V")).held;
    };
    // 230 V less and more a tenth, to the volt.
    for (const char* test : {"line to neutral", "line to earth"}) {
        CHECK(number(held(heron, test).floor) == 207);
        CHECK(number(held(heron, test).stop) == 253);
        CHECK(number(held(maple, test).expected) == 120);
        CHECK(number(held(maple, test).floor) == 108);
        CHECK(number(held(maple, test).stop) == 132);
    }
    CHECK(rules::shown(held(heron, "line to earth").floor) == "207 V");
    CHECK(number(held(heron, "neutral to earth").doubt) == 5);
    CHECK(number(held(heron, "neutral to earth").stop) == 50);
    const std::string floating = with(heron, "earthing       = \"TN-C-S\"", "earthing = \"IT\"");
    CHECK(held(floating, "line to neutral").none.empty());
    for (const char* test : {"line to earth", "neutral to earth"}) {
        CHECK(held(heron, test).none.empty());
        CHECK(held(floating, test).none.find("not earthed") != std::string::npos);
    }
    CHECK(compared(heron + reading("line to neutral", "outlet.saw", "206 V")).standing ==
          rules::Standing::beneath);
    CHECK(compared(heron + reading("line to neutral", "outlet.saw", "< 207 V")).standing ==
          rules::Standing::beneath);
    CHECK(compared(heron + reading("line to neutral", "outlet.saw", "> 206 V")).standing ==
          rules::Standing::short_range);
    CHECK(compared(heron + reading("line to neutral", "outlet.saw", "< 230 V")).standing ==
          rules::Standing::short_range);
}

TEST_CASE("a later reading of the same takes the place of an earlier one") {
    const std::string bad = reading("protective", "outlet.saw", "2 ohm", "2026-05-02"),
                      good = reading("protective", "outlet.saw", "0.1 ohm", "2026-05-03");
    CHECK(told(heron + bad) == 1);
    CHECK(told(heron + bad + good) == 0);
    CHECK(told(heron + good + bad) == 0);
    CHECK(told(heron + bad + reading("protective", "outlet.router", "0.1 ohm", "2026-05-03")) == 1);
    CHECK(told(heron + bad + reading("loop", "outlet.saw", "0.95 ohm", "2026-05-03")) == 1);
    CHECK(told(heron + bad + reading("protective", "outlet.saw", "0.1 ohm", "2026-05-02")) == 1);
}

TEST_CASE("a reading makes nothing ok, and takes no outcome away") {
    const auto outcomes = [](const std::string& text) {
        const Judged plan = judged(text);
        return plan.judgement().outcomes.size();
    };
    for (const std::string& text : {heron, demo("crooked-barn")}) {
        const std::string at = text.find("[outlet.saw]") != std::string::npos ? "outlet.saw" : "outlet.wall";
        CHECK(outcomes(text + reading("insulation", at, "> 500 Mohm")) == outcomes(text));
        CHECK(outcomes(text + reading("loop", at, "open")) == outcomes(text) + 1);
    }
}

TEST_CASE("readings at one place are one finding that shows all of them") {
    const Judged plan = judged(heron + reading("protective", "outlet.saw", "2 ohm") +
                               reading("loop", "outlet.saw", "0.3 ohm"));
    const auto found = rules::findings(plan.situation(), plan.judgement());
    const auto it = std::find_if(found.begin(), found.end(), [](const rules::Finding& f) {
        return rules::registry()[f.outcome->rule].id == "shock.reading-beyond";
    });
    REQUIRE(it != found.end());
    const auto e = rules::explain(plan.situation(), plan.judgement(), *it->outcome);
    CHECK(e.headline.find("2 ohm (read 2026-05-02)") != std::string::npos);
    CHECK(e.consequence.find("Also read here: fault loop 0.3 ohm; 0.95 ohm is expected") !=
          std::string::npos);
    REQUIRE(e.related.size() == 1);
    CHECK(e.related.front().text == "fault loop 0.3 ohm");
}
