// The connection schedule, traced as a continuity tester would: from the pins of the plug to every contact.
#include <benchfeed/advice/schedule.hpp>

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include <benchfeed/advice/continuity.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>
#include "support/judged.hpp"
#include "support/random_bench.hpp"

using namespace benchfeed;
using advice::Point;
using advice::Terminal;
using plan::Conductor;
using plan::Index;
using test::judged;

namespace {

constexpr std::array conductors{Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n, Conductor::pe};

/// Every plan of the project that can be read.
std::vector<std::pair<std::string, std::string>> all_plans() {
    std::vector<std::pair<std::string, std::string>> found;
    const std::string tests = BENCHFEED_TESTS_DIR;
    for (const std::string& root :
         {std::string(BENCHFEED_DATA_DIR) + "/plans", tests + "/plans", std::string(BENCHFEED_RULE_PLANS)})
        for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
            // Those of tests/plans/rules are read whole.
            const bool piece = entry.path().string().starts_with(tests + "/plans/rules/");
            if (entry.path().extension() != ".toml" || piece) continue;
            std::ostringstream text;
            text << std::ifstream(entry.path()).rdbuf();
            found.emplace_back(entry.path().filename().string(), text.str());
        }
    std::sort(found.begin(), found.end());
    return found;
}

std::string text_of(const std::string& name) {
    for (const auto& [file, text] : all_plans())
        if (file == name) return text;
    FAIL("no plan " << name);
    return "";
}

template <class Look>
void each_plan(Look look) {
    for (const auto& plan_file : all_plans()) {
        auto result = check(text::Document(plan_file.first, plan_file.second), test::catalogue());
        const auto* plan = std::get_if<Judged>(&result);
        if (!plan) continue;
        INFO(plan_file.first);
        look(*plan);
    }
}

/// The switch or device opens this conductor, straight from the plan.
bool opens(const rules::Situation& s, Index i, Conductor c) {
    const auto arriving = s.plan[i].conductors.value_or(plan::Conductors{});
    std::optional<plan::Conductors> open;
    if (const auto* sw = s.plan[i].as<plan::Switch>()) open = rules::opened_by(*sw, arriving);
    if (const auto* device = s.plan[i].as<plan::Device>()) open = rules::opened_by(*device, arriving);
    return open && open->has(c);
}

/// Where a tester stands: pins of the plug that leads from the house, or the terminals at a fixed bench.
Terminal probe_for(const rules::Situation& s, Index outlet, Conductor c) {
    Index at = outlet;
    while (s.plan[at].parent != plan::nowhere && !s.network.house[s.plan[at].parent]) at = s.plan[at].parent;
    if (s.plan[at].plug.written()) return {Point::pin, at, c};
    if (s.plan[at].parent == plan::nowhere) return {Point::source, at, c};
    // Wired on behind something that stands already.
    const Index up = s.plan[at].parent;
    const auto kind = s.plan[up].kind;
    if (kind == plan::Kind::box) return {Point::bank, up, c};
    if (kind == plan::Kind::outlet) return {Point::contact, up, c};
    if (kind == plan::Kind::supply) return {Point::source, up, c};
    return {opens(s, up, c) ? Point::out : Point::passing, up, c};
}

std::vector<Index> outlets_of(const rules::Situation& s) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::outlet && !s.network.house[i] && !rules::is_tool_socket(s, i)) {
            bool inside = false;
            for (const Index up : s.plan.path_to(i)) inside |= s.plan[up].kind == plan::Kind::load;
            if (!inside) found.push_back(i);
        }
    return found;
}

/// Every core of the bench's cables and every plug on the way has a protective conductor.
bool earth_by_the_plan(const rules::Situation& s, Index outlet) {
    for (const Index up : s.plan.path_to(outlet)) {
        const plan::Element& e = s.plan[up];
        if (s.network.house[up] && s.plan.head.mounting.is(plan::Mounting::mobile)) continue;
        if (const auto* stock = rules::stock_of(s, up); stock && stock->protective.is(false)) return false;
        const tables::Table& patterns = *s.tables.table("plug-patterns");
        if (const auto row = e.plug.known() ? patterns.row_of("pattern", *e.plug) : std::nullopt;
            row && !*patterns.flag(*row, "earth"))
            return false;
    }
    return true;
}

/// What a tester finds that the plan does not mean, with these switches closed.
std::vector<std::string> surprises(const rules::Situation& s, const advice::Schedule& schedule,
                                   const std::vector<advice::Stand>& stands) {
    std::vector<std::string> found;
    const advice::Continuity copper(schedule, stands);
    for (const Index outlet : outlets_of(s)) {
        const auto used = s.plan[outlet].conductors.value_or(plan::Conductors{});
        for (const Conductor probe : conductors)
            for (const Conductor contact : conductors) {
                if (contact != Conductor::pe && !used.has(contact)) continue;
                bool expected = probe == contact;
                if (contact == Conductor::pe && !earth_by_the_plan(s, outlet)) expected = false;
                for (const Index up : s.plan.path_to(outlet)) {
                    if (s.network.house[up]) continue;
                    if (opens(s, up, contact) && !stands[up].closed) expected = false;
                    if (opens(s, up, contact) && stands[up].position != plan::nowhere &&
                        !s.network.hangs_below(outlet, stands[up].position))
                        expected = false;
                }
                if (copper.joined(probe_for(s, outlet, probe), {Point::contact, outlet, contact}) != expected)
                    found.push_back(s.plan[outlet].path() + ": pin " +
                                    plan::conductors_text(
                                        {static_cast<std::uint8_t>(1u << static_cast<unsigned>(probe))}) +
                                    (expected ? " does not reach " : " reaches ") + "contact " +
                                    plan::conductors_text(
                                        {static_cast<std::uint8_t>(1u << static_cast<unsigned>(contact))}));
            }
    }
    return found;
}

std::vector<Index> openers(const rules::Situation& s) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::switch_ || s.plan[i].kind == plan::Kind::device) found.push_back(i);
    return found;
}

/// All closed, all open, each one open alone and closed alone, and each position of a changeover switch.
std::vector<std::vector<advice::Stand>> states(const rules::Situation& s) {
    std::vector<advice::Stand> all;
    for (const plan::Element& e : s.plan.elements) {
        const auto* sw = e.as<plan::Switch>();
        const bool turns = sw && sw->changeover.is(true) && !e.children.empty();
        all.push_back({true, turns ? e.children.front() : plan::nowhere});
    }
    auto none = all;
    for (auto& stand : none) stand.closed = false;
    std::vector<std::vector<advice::Stand>> out{all, none};
    for (const Index opener : openers(s)) {
        out.push_back(all);
        out.back()[opener].closed = false;
        out.push_back(none);
        out.back()[opener].closed = true;
        if (all[opener].position == plan::nowhere) continue;
        for (const Index position : s.plan[opener].children) {
            out.push_back(all);
            out.back()[opener].position = position;
        }
    }
    return out;
}

}  // namespace

TEST_CASE("a tester finds exactly the continuity that every plan means, with each switch open and closed") {
    int plans = 0, contacts = 0;
    each_plan([&](const Judged& plan) {
        const auto s = plan.situation();
        const auto schedule = advice::schedule(s);
        if (!schedule.complete()) return;
        ++plans;
        for (const auto& stands : states(s)) {
            contacts += static_cast<int>(outlets_of(s).size());
            const auto found = surprises(s, schedule, stands);
            CHECK_MESSAGE(found.empty(), (found.empty() ? "" : found.front()));
        }
    });
    CHECK(plans > 200);
    CHECK(contacts > 2000);
}

TEST_CASE("and on random benches") {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        test::BenchDice random(seed);
        test::BenchOptions options;
        options.system = random.one_of<std::string>({"230 V", "120/240 V", "230/400 V"});
        options.loads = random.from(2, 16);
        INFO("seed " << seed);
        const Judged plan = judged(test::random_bench(random, options));
        const auto s = plan.situation();
        const auto schedule = advice::schedule(s);
        if (!schedule.complete()) continue;
        for (const auto& stands : states(s)) CHECK(surprises(s, schedule, stands).empty());
    }
}

TEST_CASE("planted faults are found") {
    const Judged plan = judged(text_of("heron-lane.toml"));
    const auto s = plan.situation();
    const auto right = advice::schedule(s);
    const auto all = states(s).front();
    REQUIRE(surprises(s, right, all).empty());
    const auto cable_to = [&](advice::Schedule& schedule, std::string_view path) -> advice::Run& {
        for (advice::Run& run : schedule.runs)
            if (run.element != plan::nowhere && s.plan[run.element].path() == path) return run;
        FAIL("no run to " << path);
        return schedule.runs.front();
    };
    SUBCASE("line and neutral swapped") {
        auto wrong = right;
        auto& cores = cable_to(wrong, "switch.saw").cores;
        std::swap(cores[0].to, cores[1].to);
        CHECK(surprises(s, wrong, all).size() == 4);
    }
    SUBCASE("protective core left off") {
        auto wrong = right;
        cable_to(wrong, "box.junction").cores.pop_back();
        const auto found = surprises(s, wrong, all);
        REQUIRE(found.size() == 5);  // every outlet of the bench
        CHECK(found.front() == "outlet.saw: pin PE does not reach contact PE");
    }
    SUBCASE("neutral joined to earth in the box") {
        auto wrong = right;
        const Index box = s.plan.find(plan::Kind::box, "junction");
        wrong.runs.push_back(
            {plan::nowhere,
             box,
             advice::Means::link,
             {{"", "", "", {Point::bank, box, Conductor::n}, {Point::bank, box, Conductor::pe}}},
             {},
             ""});
        CHECK(surprises(s, wrong, all).size() == 10);
    }
    SUBCASE("a pole bridged") {
        auto wrong = right;
        const Index sw = s.plan.find(plan::Kind::switch_, "saw");
        wrong.runs.push_back({sw,
                              sw,
                              advice::Means::link,
                              {{"", "", "", {Point::in, sw, Conductor::l1}, {Point::out, sw, Conductor::l1}}},
                              {},
                              ""});
        CHECK(surprises(s, wrong, all).empty());
        CHECK(surprises(s, wrong, states(s)[1]) ==
              std::vector<std::string>{"outlet.saw: pin L1 reaches contact L1"});
    }
}

TEST_CASE("behind a release every contact but the earth reads open while the bench is dead") {
    const Judged plan = judged(text_of("heron-lane.toml"));
    const auto s = plan.situation();
    const advice::Continuity copper(advice::schedule(s), advice::stands_when_dead(s.plan));
    const Index box = s.plan.find(plan::Kind::box, "junction");
    for (const Index outlet : outlets_of(s)) {
        const bool lamp = s.plan[outlet].name == "lamp";
        const auto reads = [&](Conductor c) {
            return copper.joined({Point::pin, box, c}, {Point::contact, outlet, c});
        };
        CHECK(reads(Conductor::l1) == lamp);
        CHECK(reads(Conductor::n) == lamp);
        CHECK(reads(Conductor::pe));
    }
}

TEST_CASE("what a cable cannot do is refused where the rule about cores says so, and nowhere else") {
    int refused = 0, poles = 0, stops = 0;
    each_plan([&](const Judged& plan) {
        const auto s = plan.situation();
        for (const advice::Run& run : advice::schedule(s).runs) {
            if (run.element == plan::nowhere || run.means != advice::Means::cable) continue;
            std::optional<rules::Verdict> verdict;
            for (const auto& o : plan.judgement().outcomes)
                if (rules::registry()[o.rule].id == "shock.cores-missing" &&
                    o.at == rules::at_element(run.element))
                    verdict = o.verdict;
            if (run.refused.empty()) {
                CHECK(verdict != rules::Verdict::fail);
            } else if (verdict == rules::Verdict::fail) {
                ++refused;
            } else {
                const bool of_a_stop = run.refused.find("its contact belongs") == 0;
                CHECK((of_a_stop || run.refused.find("how many poles") != std::string::npos));
                of_a_stop ? ++stops : ++poles;
            }
        }
    });
    CHECK(refused >= 2);
    CHECK(poles >= 1);
    CHECK(stops >= 1);
}

TEST_CASE("ways of the terminals are those by which a box is judged") {
    int boxes = 0;
    each_plan([&](const Judged& plan) {
        const auto s = plan.situation();
        const auto schedule = advice::schedule(s);
        if (!schedule.complete()) return;
        for (const auto& o : plan.judgement().outcomes) {
            if (rules::registry()[o.rule].id != "heat.box-overfilled" || o.variant != 1) continue;
            int most = 0;
            for (const advice::Ways& ways : schedule.ways)
                if (ways.box == o.at.index && ways.terminal.point == Point::bank)
                    most = std::max(most, ways.wires);
            const int printed = *s.plan[o.at.index].as<plan::Box>()->ways.value;
            CHECK(most == static_cast<int>(std::lround(number(o.value) / 100 * printed)));
            ++boxes;
        }
    });
    CHECK(boxes >= 9);
}

TEST_CASE("a looped switch: the return is marked, in the US the white core leads to the switch") {
    const auto loop = [](const std::string& region, const std::string& type, const std::string& section) {
        const bool us = region == "US";
        return judged(
            "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" +
            (us ? "120 V" : "230 V") +
            "\"\nearthing = \"TN-C-S\"\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating "
            "= "
            "\"15 A\"\n[stock.run]\ntype = \"" +
            type + "\"\nsection = \"" + section +
            "\"\ncores = 3\n[box.b]\nfrom = \"device.d\"\ncable = { stock = \"run\", length = \"5 m\" }\n"
            "[switch.w]\nfrom = \"box.b\"\nwiring = \"loop\"\npoles = 1\nrating = \"15 A\"\ncable = { stock "
            "= "
            "\"run\", length = \"2 m\" }\n[outlet.o]\nfrom = \"switch.w\"\npattern = \"" +
            (us ? "5-15" : "CEE 7/3") +
            "\"\ncable = { stock = \"run\", length = \"1 m\" }\n[load.l]\nfrom = \"outlet.o\"\n");
    };
    const auto cores = [](const Judged& plan) {
        const auto s = plan.situation();
        std::vector<std::string> lines;
        for (const advice::Run& run : advice::schedule(s).runs)
            if (run.element == s.plan.find(plan::Kind::switch_, "w"))
                for (const advice::Core& core : run.cores)
                    lines.push_back(core.colour + (core.marked.empty() ? "" : " marked " + core.marked) +
                                    ": " + advice::words(s, core.from) + " -> " + advice::words(s, core.to));
        return lines;
    };
    CHECK(cores(loop("EU", "PVC sheathed", "1.5 mm2")) ==
          std::vector<std::string>{
              "brown: terminals L in the b box -> L in, the w switch",
              "blue marked brown: L out, the w switch -> terminals L switched by the w switch",
              "green-yellow: terminals PE in the b box -> PE terminal at the w switch"});
    CHECK(cores(loop("US", "NM-B", "14 AWG")) ==
          std::vector<std::string>{
              "white marked black: terminals L in the b box -> L in, the w switch",
              "black: L out, the w switch -> terminals L switched by the w switch",
              "green, green-yellow or bare: terminals PE in the b box -> PE terminal at the w switch"});
}

TEST_CASE("a neutral has the neutral's core, whether or not a core is spare") {
    for (const char* cores : {"3", "5"}) {  // four have no blue one
        std::string text = text_of("heron-lane.toml");
        const auto at = text.find("cores", text.find("[stock.lead]"));
        text.replace(at, text.find('\n', at) - at, std::string("cores = ") + cores);
        const Judged j = judged(text);
        const auto schedule = advice::schedule(j.situation());
        std::size_t blue = 0;
        for (const auto& run : schedule.runs) {
            if (run.element != j.plan().find(plan::Kind::box, "junction")) continue;
            CHECK(std::find(run.spare.begin(), run.spare.end(), "blue") == run.spare.end());
            for (const auto& core : run.cores) {
                blue += core.colour == "blue";
                CHECK(core.marked.empty());
            }
        }
        CHECK(blue == 1);
    }
}
