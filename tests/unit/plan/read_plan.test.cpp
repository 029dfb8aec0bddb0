#include <doctest/doctest.h>

#include <set>

#include <benchfeed/check.hpp>
#include <benchfeed/plan/fields.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

plan::Plan read(const std::string& content, const std::vector<plan::Override>& overrides = {}) {
    auto reading = plan::read_plan(text::Document("p.toml", content), plan_words(catalogue()), overrides);
    for (const auto& problem : reading.problems) FAIL_CHECK(problem.message);
    return std::move(reading.plan);
}
std::vector<std::string> problems(const std::string& content,
                                  const std::vector<plan::Override>& overrides = {}) {
    std::vector<std::string> messages;
    for (const auto& problem :
         plan::read_plan(text::Document("p.toml", content), plan_words(catalogue()), overrides).problems)
        messages.push_back(problem.message);
    return messages;
}
/// "box.rating" for a field of a box, "cable.length" for inner tables, "feed.plug" for what every element
/// has.
std::string key_of(const std::string& path) {
    const std::string last = path.substr(path.rfind('.') + 1), rest = path.substr(0, path.rfind('.'));
    if (std::count(path.begin(), path.end(), '.') == 3) return rest.substr(rest.rfind('.') + 1) + "." + last;
    const std::set<std::string> feed{"from", "label", "like",  "conductors",
                                     "plug", "fuse",  "inlet", "existing"};
    return (feed.contains(last) ? "feed" : path.substr(0, path.find('.'))) + "." + last;
}
std::string whole() {
    return test::read_text(std::string(BENCHFEED_TESTS_DIR) + "/plans/every-field.toml");
}

}  // namespace

TEST_CASE("every field of the format is read and kept, with its place") {
    const std::string content = whole();
    const text::Document document("every-field.toml", content);
    plan::Plan plan = read(content);
    std::set<std::string> written, known;
    for (const auto& field : plan::all_slots(plan)) {
        const std::string key = key_of(field.path);
        known.insert(key);
        if (!plan::is_written(field.slot.ref)) continue;
        written.insert(key);
        CHECK_FALSE(plan::span_of(field.slot.ref).nowhere());
        CHECK_FALSE(document.slice(plan::span_of(field.slot.ref)).empty());
    }
    for (auto& accept : plan.accepts)
        for (const auto& slot : plan::slots(accept)) CHECK(plan::is_written(slot.ref));
    for (auto& change : plan.changes)
        for (const auto& slot : plan::slots(change)) CHECK(plan::is_written(slot.ref));
    for (const auto& key : known) CHECK_MESSAGE(written.contains(key), "no plan in the tests writes " << key);
    CHECK(known.size() >= 110);
}

TEST_CASE("\"unknown\" is accepted exactly where the format says so") {
    plan::Plan plan = read(whole());
    const auto fields = plan::all_slots(plan);
    std::size_t tried = 0;
    for (const auto& field : fields) {
        if (!plan::is_written(field.slot.ref) || field.path.starts_with("together")) continue;
        const auto said = problems(whole(), {{field.path + "=unknown"}});
        const bool refused = std::any_of(said.begin(), said.end(), [&](const std::string& m) {
            return m.find("cannot be unknown") != std::string::npos;
        });
        CAPTURE(field.path);
        CHECK(refused == (!field.slot.info.may_be_unknown &&
                                  !std::holds_alternative<plan::Field<std::string>*>(field.slot.ref)
                              ? true
                              : refused));
        if (field.slot.info.may_be_unknown) CHECK_FALSE(refused);
        ++tried;
    }
    CHECK(tried > 100);
}

TEST_CASE("--set replaces one value, before like, and marks where it came from") {
    const std::string base = test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml");
    const auto plan = read(base, {{"box.junction.cable.length=\"3 m\""},
                                  {"switch.saw.no_volt=false"},
                                  {"together.sawing.loads=saw, lamp"},
                                  {"load.saw.plate.power_in="}});
    const auto& box = plan[plan.find(plan::Kind::box, "junction")];
    CHECK(in(unit::metre, *box.cable->length) == 3);
    CHECK(box.cable->length.origin == plan::Origin::option);
    CHECK(plan[plan.find(plan::Kind::switch_, "saw")].as<plan::Switch>()->no_volt.is(false));
    CHECK(plan[plan.find(plan::Kind::switch_, "router")].as<plan::Switch>()->no_volt.is(
        false));  // taken over by like
    CHECK(plan.together[0].loads->size() == 2);
    CHECK_FALSE(plan[plan.find(plan::Kind::load, "saw")].as<plan::Load>()->plate->power_in.known());
    CHECK(problems(base, {{"box.junction.cable.length=3 A"}}).front() ==
          "length is a length; \"3 A\" is a current");
    CHECK(problems(base, {{"box.nowhere.ways=3"}}).front() == "the plan has no box.nowhere.ways");
    CHECK(problems(base, {{"box.junction.wais=3"}}).front() == "box.junction has no field wais");
    CHECK(problems(base, {{"nonsense"}}).front() == "\"nonsense\" is not PATH=VALUE");
}

TEST_CASE("like takes what is not written, and shows both places") {
    const auto plan = read(test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml"));
    const auto& router = plan[plan.find(plan::Kind::switch_, "router")];
    CHECK(router.as<plan::Switch>()->poles.origin == plan::Origin::like);
    CHECK(router.as<plan::Switch>()->poles.span ==
          plan[plan.find(plan::Kind::switch_, "saw")].as<plan::Switch>()->poles.span);
    CHECK(router.like_index == plan.find(plan::Kind::switch_, "saw"));
    CHECK(router.cable.has_value());
    CHECK_FALSE(router.label.known());
}

TEST_CASE("sets are closed over what joins by itself; undeclared loads get one of their own") {
    const std::string head =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n";
    const auto outlet = [](const std::string& name, const std::string& more = "") {
        return "[outlet." + name + "]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\n" + more;
    };
    const auto load = [](const std::string& name, const std::string& more = "") {
        return "[load." + name + "]\nfrom = \"outlet." + name + "\"\nmotor = \"universal\"\n" + more;
    };
    const std::string content = head + outlet("saw") + outlet("vac") + outlet("lamp") + outlet("air") +
                                outlet("plane") + load("saw") + load("vac", "kind = \"extractor\"\n") +
                                load("lamp", "kind = \"light\"\n") + load("air", "kind = \"compressor\"\n") +
                                load("plane") + "[[together]]\nname = \"sawing\"\nloads = [\"saw\"]\n";
    const auto plan = read(content);
    const auto names = [&](const plan::RunSet& set) {
        std::string out;
        for (const auto i : set.loads) out += plan[i].name + " ";
        return out;
    };
    REQUIRE(plan.sets.size() == 2);
    CHECK(names(plan.sets[0]) == "saw air ");  // the compressor starts when it likes
    CHECK(plan.sets[1].name == "plane");
    CHECK(plan.sets[1].assumed);
    CHECK(names(plan.sets[1]) == "vac lamp air plane ");
    CHECK(names(plan.everything) == "saw vac lamp air plane ");
}

TEST_CASE("conductors: what fits is taken, more than one choice is an error to omit") {
    const std::string us =
        "format = 1\n[plan]\nregion = \"US\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"120/240 V\"\n";
    const auto plan = read(us +
                           "[outlet.saw]\nfrom = \"supply.s\"\npattern = \"6-20\"\n[load.saw]\nfrom = "
                           "\"outlet.saw\"\nmotor = \"induction\"\n");
    CHECK(plan::conductors_text(*plan[plan.find(plan::Kind::outlet, "saw")].conductors) == "L1-L2");
    CHECK(plan::conductors_text(*plan[plan.find(plan::Kind::load, "saw")].conductors) == "L1-L2");
    const auto open = problems(us +
                               "[outlet.a]\nfrom = \"supply.s\"\npattern = \"5-20\"\n[load.a]\nfrom = "
                               "\"outlet.a\"\nmotor = \"universal\"\n");
    REQUIRE(open.size() == 1);
    CHECK(open[0] == "outlet.a could be fed in more than one way: say by which conductors");
    const auto wrong = problems(
        "format = 1\n[plan]\nregion = \"US\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"120 "
        "V\"\n[outlet.a]\nfrom = \"supply.s\"\npattern = \"6-20\"\n[load.a]\nfrom = \"outlet.a\"\nmotor = "
        "\"induction\"\n");
    REQUIRE_FALSE(wrong.empty());
    CHECK(wrong[0] == "outlet.a needs 2 lines, but L1-N arrive from supply.s");
}

TEST_CASE("where several volts arrive, those of the plate choose the conductors if they leave one choice") {
    const auto plan_of = [](const std::string& load) {
        return "format = 1\n[plan]\nregion = \"US\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"120/240 "
               "V\"\n"
               "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"20 A\"\npoles = 2\n"
               "[load.x]\nfrom = \"device.d\"\n" +
               load;
    };
    const auto conductors = [&](const char* load) {
        const plan::Plan plan = read(plan_of(load));
        return plan::conductors_text(*plan[plan.find(plan::Kind::load, "x")].conductors);
    };
    CHECK(conductors("plate = { current = \"5 A\", voltage = \"240 V\" }\n") == "L1-L2");
    CHECK(conductors("conductors = \"L2-N\"\n") == "L2-N");
    CHECK(conductors("plate = { current = \"5 A\" }\n") == "L1-L2-N");  // all, where nothing says less
    CHECK(problems(plan_of("plate = { current = \"5 A\", voltage = \"120 V\" }\n")).size() == 1);
}

TEST_CASE("a fault of a value beside the plan is told at its place in that value") {
    const std::string option = "box.main.cable.length=3 A";
    const std::vector<plan::Override> overrides{{option}};
    const text::Document document("p.toml", whole());
    const auto reading = plan::read_plan(document, plan_words(catalogue()), overrides);
    REQUIRE(reading.problems.size() == 1);
    REQUIRE(reading.problems.front().labels.size() == 1);
    const Span& span = reading.problems.front().labels.front().span;
    CHECK(span.line == 0);
    CHECK(span.column == option.find('3') + 1);
    CHECK(span.end_column == option.size() + 1);
}

TEST_CASE("a number beside the plan is a number however long it is") {
    const std::vector<plan::Override> long_one{{"stock.lead.cores=123456789012345678"}};
    CHECK(problems(whole(), long_one) == std::vector<std::string>{"cores cannot be 123456789012345678"});
}

TEST_CASE("a word in the wrong case is told the right one, whatever its letters") {
    for (const std::string word : {"aU", "eU", "uS", "cH"}) {
        const std::vector<plan::Override> region{{"plan.region=" + word}};
        const auto reading =
            plan::read_plan(text::Document("p.toml", whole()), plan_words(catalogue()), region);
        REQUIRE(!reading.problems.empty());
        std::string right = word;
        right[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(right[0])));
        CHECK(reading.problems.front().help.find("\"" + right + "\"") != std::string::npos);
    }
}

TEST_CASE("a name is letters, digits, - and _, from the first of each to the last") {
    const auto problems_of = [](const std::string& name) {
        return problems(
            "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n"
            "[load.\"" +
            name + "\"]\nfrom = \"supply.s\"\n");
    };
    for (const char* good :
         {"a", "z", "A", "Z", "0", "9", "-", "_", "az-AZ_09", "a234567890123456789012345678901234567890"})
        CHECK_MESSAGE(problems_of(good).empty(), good);
    for (const char* bad :
         {"", "@", "[", "`", "{", "/", ":", "a b", "a2345678901234567890123456789012345678901"})
        CHECK_MESSAGE(!problems_of(bad).empty(), bad);
}

TEST_CASE("the order of the file decides nothing but the order of printing") {
    const std::string base = test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/hawthorn-yard.toml");
    // Move the supply, on which all hangs, to the end.
    const auto from = base.find("[supply.board]"), to = base.find("[device.ring]");
    const std::string moved = base.substr(0, from) + base.substr(to) + "\n" + base.substr(from, to - from);
    auto a = check(text::Document("a", base), catalogue()),
         b = check(text::Document("b", moved), catalogue());
    REQUIRE(std::holds_alternative<Judged>(a));
    REQUIRE(std::holds_alternative<Judged>(b));
    CHECK(std::get<Judged>(a).judgement().outcomes.size() == std::get<Judged>(b).judgement().outcomes.size());
    CHECK(std::get<Judged>(a).judgement().verdict == std::get<Judged>(b).judgement().verdict);
}
