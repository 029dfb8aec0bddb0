// The shopping list on benches worked by hand.
#include <benchfeed/advice/parts.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include <benchfeed/base/arithmetic.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using advice::PartGroup;
using test::judged;

namespace {

std::string demo(const std::string& name) {
    std::ifstream file(std::string(BENCHFEED_DATA_DIR) + "/plans/" + name + ".toml");
    std::stringstream text;
    text << file.rdbuf();
    REQUIRE_FALSE(text.str().empty());
    return text.str();
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    return text.replace(at, from.size(), to);
}

advice::ShoppingList list_of(const std::string& plan, const advice::PartsOptions& options = {}) {
    const Judged bench = judged(plan);
    return advice::shopping_list(bench.situation(), bench.judgement(), options);
}

/// The line whose words begin so; fails where there is none.
const advice::PartLine& line(const advice::ShoppingList& list, PartGroup group, const std::string& begins) {
    for (const advice::PartLine& one : list.parts)
        if (one.group == group && one.what.rfind(begins, 0) == 0) return one;
    FAIL("no line begins with " << begins);
    return list.parts.front();
}
bool has(const advice::ShoppingList& list, PartGroup group, const std::string& begins) {
    return std::any_of(list.parts.begin(), list.parts.end(), [&](const advice::PartLine& one) {
        return one.group == group && one.what.rfind(begins, 0) == 0;
    });
}
bool chooses(const advice::PartLine& one, const std::string& piece) {
    return std::any_of(one.choose.begin(), one.choose.end(),
                       [&](const std::string& text) { return text.find(piece) != std::string::npos; });
}
double metres(Length length) {
    return in(unit::metre, length);
}

/// The figures, as printed, give the result, as printed.
void check_steps(const std::vector<Step>& steps) {
    for (const Step& step : steps) {
        if (!step.words.empty()) continue;
        const auto by_hand = evaluate(step.numbers), told = evaluate(step.result);
        REQUIRE_MESSAGE(by_hand.has_value(), step.numbers);
        REQUIRE_MESSAGE(told.has_value(), step.result);
        CHECK_MESSAGE(by_hand->si == doctest::Approx(told->si).epsilon(5e-3),
                      step.numbers << " = " << step.result);
    }
}

}  // namespace

TEST_CASE("the cuts of a demo plan, by hand") {
    const auto list = list_of(demo("heron-lane"));
    REQUIRE(list.cables.size() == 2);
    // Cord: (5 + 2 * 0.2 + 0.3) * 1.1 = 6.27; runs in the carcass of a mobile bench: (2 + 0.4 + 0.3 + 0.5)
    // * 1.1.
    CHECK(metres(*list.cables[0].cuts.at(0).cut) == doctest::Approx(6.27));
    REQUIRE(list.cables[1].cuts.size() == 4);
    for (const advice::Cut& cut : list.cables[1].cuts) CHECK(metres(*cut.cut) == doctest::Approx(3.52));
    CHECK(metres(list.cables[1].total) == doctest::Approx(14.08));
    CHECK(list.cables[0].cuts[0].steps.at(0).numbers == "(5 m + 2 * 0.2 m + 0.3 m) * (1 + 10 %)");
    for (const auto& cable : list.cables)
        for (const advice::Cut& cut : cable.cuts) check_steps(cut.steps);
    for (const auto& part : list.parts) check_steps(part.steps);
    CHECK(list.warning.empty());
}

TEST_CASE("every allowance can be replaced, and then has no source") {
    const auto list =
        list_of(demo("heron-lane"), {.allowances = {"free-end=0", "bends=1 ft", "service-loop=0 m",
                                                    "waste=0 %", "ferrules=50 %", "spare-ways=0"}});
    // 5 + 0.3048, up to a centimetre.
    CHECK(metres(*list.cables[0].cuts[0].cut) == doctest::Approx(5.31));
    CHECK(metres(*list.cables[1].cuts[0].cut) == doctest::Approx(2.31));
    // What is none is not in the sum either.
    const auto loops = [](const advice::ShoppingList& of) {
        std::size_t count = 0;
        for (const auto& cable : of.cables)
            for (const auto& cut : cable.cuts)
                for (const Step& step : cut.steps)
                    count += step.formula.find("service loop") != std::string::npos;
        return count;
    };
    CHECK(loops(list) == 0);
    CHECK(loops(list_of(demo("heron-lane"))) > 0);
    CHECK(*line(list, PartGroup::ends, "ferrule for 1.5 mm2").count == 45);
    CHECK_FALSE(list.allowances.waste.source.has_value());
    REQUIRE(list.allowances.clip_spacing.source.has_value());
    CHECK(list.allowances.clip_spacing.source->grade == tables::Grade::practice);
    CHECK(list.allowances.clip_spacing.source->status == tables::Status::practice);

    advice::Allowances tried;
    for (const char* good : {"free-end=0.3m", "waste=12.5 %", "clip-spacing=8 in", "bends=0 ft"}) {
        CAPTURE(good);
        CHECK_FALSE(advice::allow(tried, good).has_value());
    }
    CHECK(tried.free_end.written == "0.3 m");
    for (const char* bad :
         {"free-end", "free-end=3 A", "clip-spacing=0 m", "slack=1 m", "waste=3 m", "spare-ways=1.5",
          "spare-ways=-1", "free-end=0 A", "", "=", "bends=.", "bends=0 m 3"}) {
        CAPTURE(bad);
        CHECK(advice::allow(tried, bad).has_value());
    }
}

TEST_CASE("a cut is rounded up to a tenth of a foot in the US") {
    const auto list = list_of(demo("maple-row"));
    // (10 ft + 16 in + 1 ft) * 1.1 = 13.5667 ft.
    CHECK(in(unit::foot, *list.cables.at(0).cuts.at(0).cut) == doctest::Approx(13.6));
    CHECK(list.cables[0].cuts[0].steps.at(0).result == "13.5667 ft");
}

TEST_CASE("counts of a demo plan, by hand") {
    const auto list = list_of(demo("heron-lane"));
    CHECK(*line(list, PartGroup::plugs, "plug CEE 7/7, 16 A").count == 1);
    CHECK(*line(list, PartGroup::outlets, "outlet CEE 7/3, 16 A").count == 5);
    const auto& switches =
        line(list, PartGroup::switches, "rocker switch, 2 poles, 16 A, motors 10 A, no-volt");
    CHECK(*switches.count == 4);
    CHECK(switches.places.at(0).detail == "7 A pass, 7 A of motors");
    // L, N and PE: the cord, four runs and the lamp outlet in the box are six wires each, and two to spare.
    const auto& terminals = line(list, PartGroup::terminals, "lever terminal of 8 ways for 1.5 mm2");
    CHECK(*terminals.count == 3);
    CHECK(terminals.places.at(2).detail == "PE 6 wires + 2 to spare");
    // Five cables of three cores with two ends each, and a fifth more.
    CHECK(*line(list, PartGroup::ends, "ferrule for 1.5 mm2").count == 36);
    // The cord enters the box; each run leaves it and enters a switch.
    CHECK(*line(list, PartGroup::entries, "gland with grip for H07RN-F 3 x 1.5 mm2").count == 1);
    CHECK(*line(list, PartGroup::entries, "gland with grip for H05VV-F 3 x 1.5 mm2").count == 8);
    // 2 m / 0.25 m = 8 spacings: nine clips for each of four runs.
    CHECK(*line(list, PartGroup::fixing, "clip").count == 36);
    CHECK(*line(list, PartGroup::boxes, "enclosure or back box for 1 switch and 1 outlet").count == 4);
    CHECK(*line(list, PartGroup::labels, "cable marker").count == 10);
    CHECK_FALSE(has(list, PartGroup::devices, ""));  // the breaker and the wall outlet are there
    CHECK(list.there_already.size() == 2);
}

TEST_CASE("room of a box in the US is what the rule about full boxes counts") {
    const auto list = list_of(demo("maple-row"));
    // Four cables of two live cores: 8 * 2.25; all grounds one: 2.25; lever connectors and outside clamps
    // nothing.
    const auto& box = line(list, PartGroup::boxes, "metal box, at least 20.25 in3 (planned: 42 in3)");
    REQUIRE(box.notes.size() == 1);
    CHECK(box.notes[0].find("4 x 1-1/2 in, 21 in3") != std::string::npos);
    CHECK(*line(list, PartGroup::terminals, "lever terminal of at least 6 ways for 12 AWG").count == 3);
    CHECK_FALSE(has(list, PartGroup::ends, ""));  // bare stranded cores in lever terminals
}

TEST_CASE("what the plan does not tell is to be chosen, with what decides") {
    std::string plan = demo("heron-lane");
    plan =
        changed(plan, "rating       = \"16 A\"\nmotor_rating = \"10 A\"\n", "rating       = \"unknown\"\n");
    plan = changed(plan, "length = \"2 m\"", "length = \"unknown\"");
    plan = changed(plan, "terminals = \"lever\"\nmaterial  = \"plastic\"\nways      = 8",
                   "terminals = \"unknown\"\nmaterial  = \"unknown\"");
    plan = changed(plan, "plug      = \"CEE 7/7\"", "plug      = \"unknown\"");
    const auto list = list_of(plan);
    CHECK(chooses(line(list, PartGroup::plugs, "plug"), "pattern"));
    const auto& saw = line(list, PartGroup::switches, "rocker switch, 2 poles, no-volt release");
    CHECK(chooses(saw, "rated current: at least 7 A"));
    CHECK(chooses(saw, "motor rating, the figure in brackets or in hp: at least 7 A of motors"));
    CHECK(chooses(line(list, PartGroup::boxes, "box"), "plastic or metal"));
    CHECK(chooses(line(list, PartGroup::terminals, "terminal of at least 8 ways"), "kind of terminal"));
    REQUIRE(list.cables.size() == 2);
    CHECK(list.cables[1].unmeasured == 4);  // the others take it over from the first
    CHECK(list.cables[1].cuts[0].steps.empty());
    CHECK_FALSE(line(list, PartGroup::fixing, "clip").count.has_value());
    CHECK(list.warning.rfind("DO NOT BUY YET", 0) == 0);  // essential ratings are open
    CHECK(list.essential_questions > 0);
}

TEST_CASE("ends of cores follow the terminals where nobody wrote what sits on them") {
    std::string plan = demo("heron-lane");
    while (plan.find(", ends = \"ferrule\"") != std::string::npos)
        plan = changed(plan, ", ends = \"ferrule\"", "");
    const auto levers = list_of(plan);
    // Lever terminals take fine strands as they are; plug, switches and outlets are not told: 5 runs, 3
    // cores, 1 end.
    CHECK_FALSE(has(levers, PartGroup::ends, "ferrule for"));
    CHECK(has(levers, PartGroup::ends, "ferrule or ring for 1.5 mm2, for 15 more ends"));
    const auto screws = list_of(changed(plan, "terminals = \"lever\"", "terminals = \"screw\""));
    CHECK(*line(screws, PartGroup::ends, "ferrule for 1.5 mm2").count == 18);  // 15 * 1.2
    const auto rings =
        list_of(changed(demo("heron-lane"), "grip = true, ends = \"ferrule\", route = \"floor\"",
                        "grip = true, ends = \"ring\", route = \"floor\""));
    CHECK(*line(rings, PartGroup::ends, "crimp ring for 1.5 mm2").count == 8);  // 6 * 1.2 = 7.2
    CHECK(*line(rings, PartGroup::ends, "ferrule for 1.5 mm2").count == 29);    // 24 * 1.2 = 28.8
}

TEST_CASE("nothing that is there already is bought") {
    const auto list =
        list_of(changed(demo("heron-lane"), "[stock.lead]\n", "[stock.lead]\nexisting = true\n"));
    REQUIRE(list.cables.size() == 1);
    CHECK(list.stocks_there.size() == 2);
    CHECK(*line(list, PartGroup::entries, "gland with grip for H07RN-F").count ==
          1);  // it still enters the box
    const auto old =
        list_of(changed(demo("heron-lane"), "[outlet.lamp]\n", "[outlet.lamp]\nexisting = true\n"));
    CHECK(*line(old, PartGroup::outlets, "outlet CEE 7/3").count == 4);
}

TEST_CASE("a reel comes whole, and a fused plug with a spare fuse") {
    const auto barn = list_of(demo("crooked-barn"));
    CHECK(
        *line(barn, PartGroup::plugs, "cable reel as sold, plug CEE 7/7, H07RN-F 3 x 1.5 mm2, 25 m").count ==
        1);
    CHECK(barn.cables.size() == 1);
    CHECK(barn.warning.rfind("DO NOT BUY YET", 0) == 0);
    CHECK(barn.fails > 10);
    const auto yard = list_of(demo("hawthorn-yard"));
    CHECK(*line(yard, PartGroup::plugs, "plug BS 1363, 13 A, with a 13 A fuse").count == 1);
    CHECK(*line(yard, PartGroup::plugs, "spare fuse of 13 A").count == 1);
}

TEST_CASE("a cord set that is sold with its plug is no reel") {
    const std::string lane = demo("heron-lane");
    const auto at = lane.find("cable", lane.find("[box.junction]"));
    const auto open = lane.find("{", at);
    for (const char* reel : {"", " reel = \"none\","}) {
        std::string text = lane;
        text.insert(open + 1, std::string(" listed = true,") + reel);
        CHECK(has(list_of(text), PartGroup::plugs, "cord set as sold, plug CEE 7/7, H07RN-F 3 x 1.5 mm2"));
    }
}

TEST_CASE("nothing is to be chosen that the plan tells, and no coil where there is none") {
    const std::string lane = demo("heron-lane");
    const auto any = [](const advice::ShoppingList& list, const std::string& piece) {
        return std::any_of(list.parts.begin(), list.parts.end(),
                           [&](const advice::PartLine& one) { return chooses(one, piece); });
    };
    const auto with = [&](const std::string& table, const std::string& field) {
        return list_of(changed(lane, table + "\n", table + "\n" + field + "\n"));
    };
    const std::string lid = "IP code: wood dust";
    CHECK(any(list_of(lane), lid));
    CHECK_FALSE(any(with("[box.junction]", "ip = \"IP54\""), lid));
    const auto dusty = lane.find("\ndust");
    const std::string clean =
        dusty == std::string::npos
            ? changed(lane, "[site]\n", "[site]\ndust = false\n")
            : changed(lane, lane.substr(dusty + 1, lane.find('\n', dusty + 1) - dusty - 1), "dust = false");
    CHECK_FALSE(any(list_of(clean), lid));
    const std::string coil = "volts of the coil";
    CHECK_FALSE(any(list_of(lane), coil));
    CHECK(any(list_of(changed(lane, "coil         = \"230 V\"", "")), coil));
    CHECK_FALSE(any(list_of(demo("crooked-barn")), coil));  // its switches have none
    // What breaks no short circuit is asked for no capacity.
    const auto behind = [&](const std::string& words) {
        return any(list_of(lane + "[device.bench]\nfrom = \"box.junction\"\nkind = " + words),
                   "short-circuit capacity");
    };
    CHECK(behind("\"circuit breaker\"\nrating = \"16 A\"\n"));
    for (const auto& [poles, words] : {std::pair{"1", ", 1 pole"}, {"2", ", 2 poles"}}) {
        const auto list = list_of(
            lane + "[device.bench]\nfrom = \"box.junction\"\nkind = \"circuit breaker\"\npoles = " + poles +
            "\n");
        CHECK(std::any_of(list.parts.begin(), list.parts.end(),
                          [&, w = std::string(words)](const advice::PartLine& one) {
                              const auto at = one.what.find(w);
                              return one.group == PartGroup::devices && at != std::string::npos &&
                                     one.what.substr(at + w.size(), 1) != "s";
                          }));
    }
    CHECK_FALSE(behind("\"circuit breaker\"\nrating = \"16 A\"\nbreaking = \"6 kA\"\n"));
    CHECK_FALSE(behind("\"residual current device\"\nrating = \"16 A\"\nresidual = { trip = \"30 mA\" }\n"));
}

TEST_CASE("a switch is bought as everything that the plan says it is, and as no more") {
    const std::string lane = demo("heron-lane"),
                      plain = "rocker switch, 2 poles, 16 A, motors 10 A, no-volt release, coil 230 V";
    CHECK(has(list_of(lane), PartGroup::switches, plain + ", IEC 61058"));
    const auto with = [&](const std::string& fields) {
        return list_of(changed(lane, "[switch.saw]\n", "[switch.saw]\n" + fields));
    };
    CHECK(has(with("indicator = true\nlockable = true\nisolating = true\n"), PartGroup::switches,
              plain + ", with a lamp, lockable, marked for isolation, IEC 61058"));
    CHECK(has(with("indicator = false\nlockable = false\nisolating = false\n"), PartGroup::switches,
              plain + ", IEC 61058"));
}

TEST_CASE("single cores are a line for each conductor") {
    std::string plan = demo("maple-row");
    plan = changed(plan, "type      = \"SJOOW\"", "type      = \"THHN\"");
    plan = changed(plan, "mounting = \"mobile\"", "mounting = \"fixed\"");
    plan = changed(plan, "plug      = \"5-20\"\n", "");
    while (plan.find("grip = true, ends = \"bare\", route = \"carcass\"") != std::string::npos)
        plan = changed(plan, "grip = true, ends = \"bare\", route = \"carcass\"", "method = \"conduit\"");
    plan = changed(plan, "grip = true, ends = \"bare\", route = \"floor\"", "method = \"conduit\"");
    const auto list = list_of(plan);
    REQUIRE(list.cables.size() == 3);
    CHECK(list.cables[0].core == "L");
    CHECK(list.cables[1].core == "N");
    CHECK(list.cables[2].core == "protective");
    for (const auto& cable : list.cables) {
        CHECK(cable.cores == 1);
        CHECK(cable.cuts.size() == 4);
    }
    CHECK(has(list, PartGroup::fixing, "conduit or trunking"));
    CHECK_FALSE(has(list, PartGroup::entries, "cord"));
    // As many as the plan says there are: what it has no core for is not bought.
    while (plan.find("cores     = 3") != std::string::npos)
        plan = changed(plan, "cores     = 3", "cores     = 2");
    const auto fewer = list_of(plan);
    REQUIRE(fewer.cables.size() == 2);
    CHECK(fewer.cables[0].core == "L");
    CHECK(fewer.cables[1].core == "protective");
}

TEST_CASE("cuts are packed from the lengths that are sold") {
    const advice::SoldLengths sold{{{"H07RN-F", 3, section_of(1.5 * unit::mm2), {10.0 * unit::metre}}},
                                   {5.0 * unit::metre, 8.0 * unit::metre}};
    const auto list = list_of(demo("heron-lane"), {.sold = &sold});
    REQUIRE(list.cables[0].packs.has_value());
    CHECK(metres(list.cables[0].packs->bought) == doctest::Approx(10));
    // Four of 3.52 m: two in 8 m, twice, rather than one in 5 m, four times.
    CHECK(metres(list.cables[1].packs->bought) == doctest::Approx(16));
    CHECK(metres(list.cables[1].packs->left) == doctest::Approx(1.92));
    CHECK(list.cables[1].packs->packs.size() == 2);
}

TEST_CASE("a list of sold lengths, and its mistakes") {
    const auto read = [](const std::string& text) {
        return advice::read_sold_lengths(text::Document("sold.toml", text));
    };
    const auto good = read(
        "others = [\"25 m\"]\n[sold.\"H07RN-F\"]\n\"3 x 1.5 mm2\" = [\"5 m\", \"10 m\"]\n"
        "[sold.SJOOW]\n\"3x12 AWG\" = [\"25 ft\"]\n");
    REQUIRE(std::holds_alternative<advice::SoldLengths>(good));
    const auto& sold = std::get<advice::SoldLengths>(good);
    CHECK(sold.lengths_of("H07RN-F", 3, section_of(1.5 * unit::mm2)).size() == 2);
    CHECK(sold.lengths_of("SJOOW", 3, section_of(Awg{12})).size() == 1);
    CHECK(metres(sold.lengths_of("H07RN-F", 5, section_of(1.5 * unit::mm2)).at(0)) == doctest::Approx(25));
    for (const char* bad : {"", "[sold.X]\n\"1.5 mm2\" = [\"5 m\"]", "[sold.X]\n\"3 x 1.5 mm2\" = \"5 m\"",
                            "[sold.X]\n\"3 x 1.5 mm2\" = []", "[sold.X]\n\"3 x 1.5 mm2\" = [5]",
                            "[sold.X]\n\"3 x 1.5 mm2\" = [\"5 A\"]", "[sold.X]\n\"0 x 1.5 mm2\" = [\"5 m\"]",
                            "sold = 3", "[price.X]\n\"1.5 mm2\" = 3", "[sold]\nX = 1"}) {
        CAPTURE(bad);
        CHECK(std::holds_alternative<Diagnostics>(read(bad)));
    }
    CHECK(std::holds_alternative<QuantityFault>(advice::read_lengths("10 m,")));
    CHECK(std::holds_alternative<QuantityFault>(advice::read_lengths("10 m, 0 m")));
    CHECK(std::get<std::vector<Length>>(advice::read_lengths("10 m,25ft")).size() == 2);
}

TEST_CASE(
    "what a looped switch feeds sits in the box: one place, one box, its cable ends in the box's terminals") {
    const auto list = list_of(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 "
        "V\"\n[device.d]\nfrom "
        "= \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\n[stock.run]\ntype = "
        "\"H05VV-F\"\nsection = "
        "\"1.5 mm2\"\ncores = 3\n[outlet.wall]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\n[box.b]\nfrom = "
        "\"outlet.wall\"\nplug = \"CEE 7/7\"\nterminals = \"screw\"\ncable = { stock = \"run\", length = \"3 "
        "m\" "
        "}\n[switch.w]\nfrom = \"box.b\"\nwiring = \"loop\"\npoles = 1\nrating = \"10 A\"\ncable = { stock = "
        "\"run\", "
        "length = \"2 m\" }\n[outlet.near]\nfrom = \"switch.w\"\npattern = \"CEE 7/3\"\n[outlet.far]\nfrom = "
        "\"switch.w\"\npattern = \"CEE 7/3\"\ncable = { stock = \"run\", length = \"1 m\" }\n[load.l]\nfrom "
        "= "
        "\"outlet.near\"\n");
    CHECK(has(list, PartGroup::boxes, "enclosure or back box for 1 switch"));
    CHECK_FALSE(has(list, PartGroup::boxes, "enclosure or back box for 1 switch and"));
    CHECK(line(list, PartGroup::boxes, "box").places.front().detail.find("the near outlet mounted in it") !=
          std::string::npos);
    // Fine strands in screws want ferrules: 3 at the box of each of the three cables; their other ends are
    // open.
    CHECK(*line(list, PartGroup::ends, "ferrule for 1.5 mm2").count == 11);  // 9 * 1.2, rounded up
    // L: feed and switch; back from the switch: its core and two outlets.
    const auto& terminals = line(list, PartGroup::terminals, "screw terminal of at least 4 ways");
    CHECK(terminals.places.front().detail.rfind("L 2 wires", 0) == 0);
    const auto& back = line(list, PartGroup::terminals, "screw terminal of at least 5 ways");
    CHECK(std::any_of(back.places.begin(), back.places.end(), [](const auto& place) {
        return place.detail.rfind("switched by the w switch 3 wires", 0) == 0;
    }));
}
