// What is asked first, what is told once, and what an acceptance covers.
#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <string>

#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/differences.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/summary.hpp>

#include "support/judged.hpp"

using namespace benchfeed;
using rules::Verdict;

namespace {

/// A rule plan laid over its base, with something else in it.
std::string plan_with(const std::string& name, const std::string& old, const std::string& now) {
    std::ifstream file(BENCHFEED_RULE_PLANS "/" + name, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(file), {}};
    REQUIRE(!text.empty());
    const auto at = text.find(old);
    REQUIRE_MESSAGE(at != std::string::npos, old);
    return text.replace(at, old.size(), now);
}

/// Everything that a rule says, in the words of its explanations.
std::vector<rules::Explanation> told(const Judged& judged, std::string_view rule) {
    std::vector<rules::Explanation> all;
    const auto s = judged.situation();
    for (const rules::Outcome& o : judged.judgement().outcomes)
        if (rules::registry()[o.rule].id == rule && o.verdict != Verdict::ok)
            all.push_back(rules::explain(s, judged.judgement(), o));
    return all;
}

plan::Index index_of(const plan::Plan& plan, std::string_view path) {
    for (plan::Index i = 0; i < plan.elements.size(); ++i)
        if (plan[i].path() == path) return i;
    FAIL(path);
    return plan::nowhere;
}

}  // namespace

TEST_CASE("an isolator is asked for what the plan does not say: its mark, else its lock") {
    const char* plan = "no-isolator-lockable-alone-cannot-judge.toml";
    const auto asked = [&](const std::string& says) {
        const auto all =
            told(test::judged(plan_with(plan, "\nlockable = true", "\n" + says)), "shock.no-isolator");
        REQUIRE(!all.empty());
        REQUIRE(!all.front().questions.empty());
        return all.front().questions.front().path;
    };
    CHECK(asked("lockable = true") == "switch.main.isolating");
    CHECK(asked("isolating = true") == "switch.main.lockable");
}

TEST_CASE("two switches in a row that start the same tools are one caution") {
    const std::string text = plan_with("several-at-once-fires.toml", "no_volt = true", "no_volt = false");
    const auto s = test::judged(text);
    CHECK(told(s, "restart.several-at-once").size() == 1);
    // Another switch above, which starts no more than the one below it.
    const auto at = s.plan().elements.size();
    std::string more = text;
    const std::string box = "[outlet.wall]\nfrom = \"";
    const auto from = more.find(box);
    REQUIRE(from != std::string::npos);
    const auto end = more.find('"', from + box.size());
    const std::string feed = more.substr(from + box.size(), end - from - box.size());
    more.replace(from + box.size(), feed.size(), "switch.above");
    more += "\n[switch.above]\nfrom = \"" + feed + "\"\npoles = 2\nrating = \"16 A\"\n";
    const auto both = test::judged(more);
    CHECK(both.plan().elements.size() == at + 1);
    CHECK(told(both, "restart.several-at-once").size() == 1);
}

TEST_CASE("an acceptance of what is in order says so, whatever its rule") {
    for (const char* rule : {"restart.no-volt-missing", "heat.plug-overloaded"}) {
        const std::string at = rule == std::string("heat.plug-overloaded") ? "box.junction" : "load.saw";
        const auto judged = test::judged(
            plan_with("bench-without-findings-eu.toml", "[plan]",
                      "[[accept]]\nrule = \"" + std::string(rule) + "\"\nat = \"" + at +
                          "\"\nreason = \"looked at\"\nrevision = \"1\"\n[plan]\nrevision = \"1\""));
        const auto all = told(judged, "plan.accept-unmatched");
        REQUIRE(all.size() == 1);
        CAPTURE(all.front().place.text);
        CHECK(all.front().place.text.find("it is in order") != std::string::npos);
    }
}

TEST_CASE("the loads of a conductor that carries most are those that draw from it") {
    const auto judged = test::judged(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230/400 V\"\n"
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\nconductors = "
        "\"L1-L2-L3-N\"\n"
        "[load.large]\nfrom = \"device.d\"\nconductors = \"L1-N\"\nplate = { current = \"9 A\", power_factor "
        "= 1.0 }\n"
        "[load.small]\nfrom = \"device.d\"\nconductors = \"L2-N\"\nplate = { current = \"2 A\", power_factor "
        "= 1.0 }\n"
        "[[together]]\nname = \"both\"\nloads = [\"large\", \"small\"]\n");
    const auto s = judged.situation();
    std::size_t through = 0;
    for (const rules::Limit& limit : judged.judgement().limits) {
        if (limit.reach.kind != rules::Reach::Kind::through ||
            s.plan[limit.reach.element].path() != "device.d")
            continue;
        const auto evaluated = rules::evaluate(s, limit, s.plan.sets.front().loads);
        if (evaluated.loads.empty()) continue;
        CHECK(evaluated.loads == std::vector<plan::Index>{index_of(s.plan, "load.large")});
        ++through;
    }
    CHECK(through > 0);
}

TEST_CASE("the cord that a tool is sold with is not judged for its heat in a fault") {
    const std::string head =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n"
        "[stock.c]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\nconductor = \"copper\"\n"
        "[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"2 m\" }\n"
        "[load.saw]\nfrom = \"box.b\"\nplate = { current = \"2 A\" }\ncable = { stock = \"c\", length = \"2 "
        "m\"";
    const auto sold = test::judged(head + " }\n"), own = test::judged(head + ", own = true }\n");
    const auto judged = [](const Judged& j, const char* path) {
        return rules::fault_heat_is_judged(j.situation(), index_of(j.plan(), path));
    };
    CHECK(judged(sold, "box.b"));
    CHECK(!judged(sold, "load.saw"));
    CHECK(judged(own, "load.saw"));
}

TEST_CASE("another label is words alone; another rating, or an element that came, is not") {
    using rules::Difference;
    const auto changed = [](const char* key) {
        Difference d;
        d.path = "load.saw";
        d.fields.push_back({key, "a", "b"});
        return d;
    };
    CHECK(rules::only_words(changed("label")));
    CHECK(!rules::only_words(changed("rating")));
    Difference added = changed("label");
    added.kind = Difference::Kind::added;
    CHECK(!rules::only_words(added));
}

TEST_CASE("a table without a row is asked about where the part is") {
    const auto judged = test::judged(plan_with("bench-without-findings-eu.toml", "[plan]", "[plan]"));
    const auto s = judged.situation();
    const tables::Missing row{"cord-ampacity", "a cord of glass"};
    rules::Outcome o;
    o.at = rules::at_element(index_of(s.plan, "switch.saw"));
    const auto at_switch = rules::explain_missing(s, o, row);
    CHECK(at_switch.place.span.line == s.plan[o.at.index].header.line);
    REQUIRE(at_switch.questions.size() == 1);
    CHECK(at_switch.questions.front().path == "switch.saw");
    CHECK(at_switch.headline.find("a cord of glass") != std::string::npos);
    o.at = {};
    CHECK(rules::explain_missing(s, o, row).place.span.nowhere());
}

TEST_CASE("only what is written behind IP is the figure of an enclosure") {
    const auto cautions = [](const char* ip) {
        const std::string written = "ip = \"" + std::string(ip) + "\"";
        return told(test::judged(plan_with("dust-holds.toml", "ip = \"IP44\"", written)), "heat.dust").size();
    };
    CHECK(cautions("IP44") == 0);
    CHECK(cautions("IP30") == 1);
    CHECK(cautions("a 13 mm grille") == 0);
    CHECK(cautions("13 mm grille") == 0);
    CHECK(cautions("IP") == 0);
}
