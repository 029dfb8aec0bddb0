// What must not matter does not: the order of a file, names, a cable cut in halves, the unit in which a
// figure is written. Over random benches of every system, each judged whole. The monotone laws stand in
// tests/unit/rules/worst_subset.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <map>
#include <regex>
#include <set>

#include "base/measure.hpp"
#include "plans/expectations.hpp"
#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

/// What was found, in words that know no order: "rule at path part, loads of the set: verdict, value of
/// edge".
using Facts = std::multiset<std::string>;
using Keep = std::function<bool(std::string_view rule, const std::string& path)>;

std::string set_words(const plan::Plan& plan, plan::Index set) {
    if (set == rules::no_set) return "";
    std::set<std::string> names;
    for (const plan::Index load : rules::set_of(plan, set).loads) names.insert(plan[load].name);
    return fmt::format("{}", fmt::join(names, " "));
}

/// Where a rule tells several equal places once, the first of the file speaks: with `places` false, only that
/// it does.
Facts facts_of(const Judged& judged, const Keep& keep = nullptr, bool places = true) {
    Facts facts;
    for (const auto& o : judged.judgement().outcomes) {
        const std::string_view rule = rules::registry()[o.rule].id;
        const std::string path = rules::path_of(judged.plan(), o.at);
        if (keep && !keep(rule, path)) continue;
        if (!places && o.limit == plan::nowhere) {
            const std::string fact = fmt::format("{}: {}", rule, rules::words(o.verdict));
            if (!facts.contains(fact)) facts.insert(fact);
            continue;
        }
        facts.insert(fmt::format("{} at {} {}, {}: {}, {} of {}", rule, path, rules::words(o.part),
                                 set_words(judged.plan(), o.set), rules::words(o.verdict),
                                 to_text(o.value, 6), to_text(o.edge, 6)));
    }
    return facts;
}

std::string difference(const Facts& a, const Facts& b) {
    std::string out;
    for (const std::string& fact : a)
        if (!b.contains(fact)) out += "- " + fact + "\n";
    for (const std::string& fact : b)
        if (!a.contains(fact)) out += "+ " + fact + "\n";
    return out;
}

/// The plan by blocks: what stands above the first header, then each header with its lines.
std::vector<std::string> blocks(const std::string& plan) {
    std::vector<std::string> out(1);
    std::istringstream lines(plan);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with('[')) out.emplace_back();
        out.back() += line + "\n";
    }
    return out;
}

std::string replaced(const std::string& text, const std::string& pattern,
                     const std::function<std::string(const std::smatch&)>& by) {
    const std::regex wanted(pattern);
    std::string out;
    std::string::const_iterator at = text.begin();
    for (std::sregex_iterator it(text.begin(), text.end(), wanted), end; it != end; ++it) {
        out.append(at, text.begin() + it->position());
        out += by(*it);
        at = text.begin() + it->position() + it->length();
    }
    return out.append(at, text.end());
}

void for_random_benches(unsigned first_seed, int each,
                        const std::function<void(BenchDice&, const std::string&)>& test) {
    for (const char* system : {"230 V", "120/240 V", "120/208 V", "230/400 V"})
        for (int i = 0; i < static_cast<int>(test::rounds(static_cast<unsigned>(each))); ++i) {
            BenchDice random(first_seed + static_cast<unsigned>(i));
            BenchOptions options;
            options.system = system;
            options.loads = 3 + i % 5;
            const std::string plan = random_bench(random, options);
            CAPTURE(system);
            CAPTURE(plan);
            test(random, plan);
        }
}

}  // namespace

TEST_CASE("law: the order of the tables in a file changes nothing") {
    for_random_benches(100, 25, [](BenchDice& random, const std::string& plan) {
        auto parts = blocks(plan);
        std::shuffle(parts.begin() + 1, parts.end(), random.engine);
        const std::string other = fmt::format("{}", fmt::join(parts, ""));
        const std::string changed =
            difference(facts_of(judged(plan), nullptr, false), facts_of(judged(other), nullptr, false));
        CHECK_MESSAGE(changed.empty(), changed << other);
    });
}

TEST_CASE("law: other names change names and nothing else") {
    // Each name gets a letter before it that turns their order round.
    const auto renamed = [](const std::string& name) {
        return std::string(1, static_cast<char>('z' - (name[0] - 'a'))) + "-" + name;
    };
    for_random_benches(200, 25, [&](BenchDice&, const std::string& plan) {
        std::string other =
            replaced(plan, R"((supply|device|box|outlet|switch|load|stock)\.([a-z][a-z0-9]*))",
                     [&](const std::smatch& m) { return m[1].str() + "." + renamed(m[2]); });
        other = replaced(other, R"re((stock|starts_with) = "([a-z0-9]+)")re",
                         [&](const std::smatch& m) { return m[1].str() + " = \"" + renamed(m[2]) + "\""; });
        Facts back;
        for (const std::string& fact : facts_of(judged(other)))
            back.insert(replaced(fact, R"(([. ])[a-z]-([a-z][a-z0-9]*))",
                                 [](const std::smatch& m) { return m[1].str() + m[2].str(); }));
        const std::string changed = difference(facts_of(judged(plan)), back);
        CHECK_MESSAGE(changed.empty(), changed << other);
    });
}

TEST_CASE("law: a cable cut into two equal halves changes nothing behind it") {
    for_random_benches(300, 25, [](BenchDice&, const std::string& plan) {
        const std::string other = replaced(
            plan,
            R"re(\[box\.main\]\nfrom = "device\.d"\n(conductors = [^\n]*\n)cable = \{ stock = "cord", length = "([0-9.]+) m" \}\n)re",
            [](const std::smatch& m) {
                const std::string half = fmt::format(
                    "cable = {{ stock = \"cord\", length = \"{:.2f} m\" }}\n", std::stod(m[2]) / 2);
                return "[box.half]\nfrom = \"device.d\"\n" + m[1].str() + half +
                       "[box.main]\nfrom = \"box.half\"\n" + m[1].str() + half;
            });
        REQUIRE(other != plan);
        // By construction other: what is said of the new box, what box.main says of its own cable (a fault at
        // the near end of the second half meets less current), and rules about the text of the plan.
        const Keep keep = [](std::string_view rule, const std::string& path) {
            return !rule.starts_with("plan.") && path != "box.half" && path != "box.main";
        };
        const std::string changed = difference(facts_of(judged(plan), keep), facts_of(judged(other), keep));
        CHECK_MESSAGE(changed.empty(), changed << other);
    });
}

TEST_CASE("law: the same plan in feet and milliamperes is the same plan") {
    for_random_benches(400, 25, [](BenchDice&, const std::string& plan) {
        std::string other = replaced(plan, R"re("([0-9.]+) m")re", [](const std::smatch& m) {
            return fmt::format("\"{:.15f} ft\"", std::stod(m[1]) / 0.3048);
        });
        other = replaced(other, R"re("([0-9.]+) A")re", [](const std::smatch& m) {
            return fmt::format("\"{:.0f} mA\"", std::stod(m[1]) * 1000);
        });
        other = replaced(other, R"re("([0-9.]+) ohm")re", [](const std::smatch& m) {
            return fmt::format("\"{:.0f} mohm\"", std::stod(m[1]) * 1000);
        });
        other = replaced(other, R"re("([0-9.]+) kA")re", [](const std::smatch& m) {
            return fmt::format("\"{:.0f} A\"", std::stod(m[1]) * 1000);
        });
        REQUIRE(other != plan);
        const std::string changed = difference(facts_of(judged(plan)), facts_of(judged(other)));
        CHECK_MESSAGE(changed.empty(), changed << other);
    });
}
