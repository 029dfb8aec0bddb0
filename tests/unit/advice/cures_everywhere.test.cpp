// What holds of every cure of every plan: it can be bought, it is one for its part, it does what it says.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <memory>
#include <regex>
#include <set>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/rules/support.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;
using rules::Verdict;

namespace {

struct Told {
    const rules::Outcome* outcome;
    rules::Remedy remedy;
};
struct Bench {
    std::string name;
    std::unique_ptr<text::Document> document;
    std::unique_ptr<Judged> judged;
    std::vector<Told> told;
};

/// Every remedy of everything that is not in order, of every plan there is, as reports tell it.
const std::vector<Bench>& benches() {
    static const std::vector<Bench> all = [] {
        static const plan::Words words = plan_words(catalogue());
        std::vector<Bench> found;
        for (const std::string& folder :
             {std::string(BENCHFEED_RULE_PLANS), std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios",
              std::string(BENCHFEED_DATA_DIR) + "/plans"})
            for (const auto& path : plans_in(folder)) {
                Bench bench;
                bench.name = path.filename().string();
                bench.document = std::make_unique<text::Document>(path.string(), read_text(path));
                auto read = check(*bench.document, catalogue());
                if (!std::holds_alternative<Judged>(read)) continue;
                bench.judged = std::make_unique<Judged>(std::get<Judged>(std::move(read)));
                advice::CureTrials trials{1000};
                for (const auto& o : bench.judged->judgement().outcomes) {
                    if (o.verdict == Verdict::ok) continue;
                    for (auto& remedy :
                         advice::cures({*bench.document, catalogue(), words, {}}, bench.judged->situation(),
                                       bench.judged->judgement(), o, trials))
                        bench.told.push_back({&o, std::move(remedy)});
                }
                found.push_back(std::move(bench));
            }
        return found;
    }();
    return all;
}

template <class Look>
void each_cure(Look look) {
    for (const Bench& bench : benches())
        for (const Told& told : bench.told) {
            CAPTURE(bench.name);
            CAPTURE(rules::registry()[told.outcome->rule].id);
            CAPTURE(told.remedy.text);
            look(bench, told);
        }
}

using Key = std::tuple<std::string_view, std::string, std::string_view, std::string>;
Key key_of(const Judged& judged, const rules::Outcome& o) {
    return {rules::registry()[o.rule].id, rules::path_of(judged.plan(), o.at), rules::words(o.part),
            rules::set_name(judged.plan(), o.set)};
}
/// Every place of a finding about many places by itself: whichever of them tells it, none may be worse.
std::map<Key, Verdict> verdicts(const Judged& judged) {
    std::map<Key, Verdict> worst;
    for (const auto& o : rules::judge_places(judged.situation())) {
        Verdict& there = worst[key_of(judged, o)];
        there = std::max(there, o.verdict);
    }
    return worst;
}

/// An element that a cure adds to the plan.
bool added(const Judged& judged, const std::string& place) {
    const auto& elements = judged.plan().elements;
    return place.find('.') != std::string::npos &&
           std::none_of(elements.begin(), elements.end(), [&](const auto& e) { return e.path() == place; });
}
/// The worst that a rule says anywhere.
Verdict worst_of(const std::map<Key, Verdict>& verdicts, std::string_view rule) {
    Verdict worst = Verdict::ok;
    for (const auto& [key, verdict] : verdicts)
        if (std::get<0>(key) == rule) worst = std::max(worst, verdict);
    return worst;
}

std::vector<double> figures(const std::string& text, const char* pattern) {
    const std::regex regex(pattern);
    std::vector<double> found;
    for (std::sregex_iterator at(text.begin(), text.end(), regex), end; at != end; ++at)
        found.push_back(std::stod((*at)[1]));
    return found;
}

/// The owner of a path: "switch.saw" of "switch.saw.poles".
std::string owner(const std::string& path) {
    return path.substr(0, path.find('.', path.find('.') + 1));
}

}  // namespace

TEST_CASE("every change that a cure names, made with --set, cures its outcome and brings nothing new") {
    std::size_t changed = 0;
    each_cure([&](const Bench& bench, const Told& told) {
        if (told.remedy.changes.empty()) return;
        std::vector<plan::Override> overrides;
        for (const auto& change : told.remedy.changes)
            overrides.push_back({change.path + "=" + change.value});
        const text::Document with(bench.document->path(),
                                  bench.document->content() + "\n" + told.remedy.fragment);
        const auto again = check(with, catalogue(), overrides);
        const auto* after = std::get_if<Judged>(&again);
        CHECK(after);
        if (!after) return;
        const auto now = verdicts(*after), before = verdicts(*bench.judged);
        const auto here = now.find(key_of(*bench.judged, *told.outcome));
        const Verdict left = here == now.end() ? Verdict::ok : here->second;
        CHECK(left < told.outcome->verdict);
        const auto says = [&](const char* words) {
            return told.remedy.text.find(words) != std::string::npos;
        };
        if (says(" brings ") || says("cures it") || says("reduces it to a caution"))
            CHECK((says("which is a caution") || says("reduces it to a caution")) ==
                  (left == Verdict::caution));
        for (const auto& o : rules::judge_places(after->situation()))  // no other place carries it on
            if (told.outcome->fold != plan::nowhere && o.rule == told.outcome->rule &&
                o.fold == told.outcome->fold && o.set == told.outcome->set)
                CHECK(o.verdict < told.outcome->verdict);
        // A load that was left out of its set has one of its own: no place may be worse for it than it was.
        std::map<std::tuple<std::string_view, std::string, std::string_view>, Verdict> worst_at;
        std::set<std::string> sets{"", "everything"};
        for (const auto& set : bench.judged->plan().sets) sets.insert(set.name);
        for (const auto& [key, verdict] : before) {
            Verdict& worst = worst_at[{std::get<0>(key), std::get<1>(key), std::get<2>(key)}];
            worst = std::max(worst, verdict);
        }
        for (const auto& [key, verdict] : now) {
            if (!sets.contains(std::get<3>(key))) {
                const auto at = worst_at.find({std::get<0>(key), std::get<1>(key), std::get<2>(key)});
                CHECK(verdict <= (at == worst_at.end() ? Verdict::ok : at->second));
                continue;
            }
            const auto was = before.find(key);
            const std::string_view rule = std::get<0>(key);
            const std::string &place = std::get<1>(key), &set = std::get<3>(key);
            CAPTURE(rule);
            CAPTURE(place);
            CAPTURE(set);
            // Of an element that is added a rule may say what it says somewhere already: it carries the same.
            if (!told.remedy.fragment.empty() && added(*bench.judged, place))
                CHECK(verdict <= worst_of(before, rule));
            else
                CHECK(verdict <= (was == before.end() ? Verdict::ok : was->second));
        }
        ++changed;
    });
    CHECK(changed > 100);
}

TEST_CASE("nobody is told to make a cable shorter than half of what it is") {
    std::size_t seen = 0;
    each_cure([&](const Bench&, const Told& told) {
        const auto from = figures(told.remedy.text, "([0-9.]+) m -> [0-9.]+ m "),
                   to = figures(told.remedy.text, "[0-9.]+ m -> ([0-9.]+) m ");
        for (std::size_t i = 0; i < from.size(); ++i) {
            CHECK(to[i] >= from[i] / 2 - 1e-9);
            ++seen;
        }
    });
    CHECK(seen > 3);
}

TEST_CASE("a length that leaves a caution is told where it is more than the one that cures") {
    std::size_t seen = 0;
    each_cure([&](const Bench&, const Told& told) {
        const auto cures = figures(told.remedy.text, "-> ([0-9.]+) m "),
                   leaves = figures(told.remedy.text, "; up to ([0-9.]+) m it is a caution");
        if (leaves.empty()) return;
        ++seen;
        REQUIRE(cures.size() == 1);
        CHECK(leaves.front() > cures.front());
    });
    CHECK(seen > 0);
}

TEST_CASE("a device is told in a rating that is made, and in one for all that stand behind one plug") {
    const std::set<double> iec{6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125};
    const std::set<double> nec{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100};
    std::size_t seen = 0;
    for (const Bench& bench : benches()) {
        CAPTURE(bench.name);
        std::set<double> ratings;
        for (const Told& told : bench.told) {
            CAPTURE(told.remedy.text);
            for (const double rating :
                 figures(told.remedy.text, "(?:device of|protected at) (?:at most )?([0-9.]+) A")) {
                const auto& made = bench.judged->situation().nec() ? nec : iec;
                CHECK(made.contains(rating));
                ratings.insert(rating);
                ++seen;
            }
        }
        if (bench.judged->situation().network.bench_plugs == 1) CHECK(ratings.size() <= 1);
    }
    CHECK(seen > 10);
}

TEST_CASE("what is left out of a set is a helper, or one tool of several and not the largest") {
    std::size_t seen = 0;
    each_cure([&](const Bench& bench, const Told& told) {
        const std::regex regex("(?:without|when) the ([a-z0-9 -]+?)(?: does not)?, or plug");
        std::smatch match;
        if (!std::regex_search(told.remedy.text, match, regex)) return;
        ++seen;
        const auto& plan = bench.judged->plan();
        const auto& set = rules::set_of(plan, told.outcome->set);
        const auto helper = [&](plan::Index i) {
            const auto& load = *plan[i].as<plan::Load>();
            return load.kind.is(plan::LoadKind::extractor) || load.kind.is(plan::LoadKind::light) ||
                   load.kind.is(plan::LoadKind::charger) || load.starts_with.written();
        };
        const auto amps = [&](plan::Index i) {
            const auto& network = bench.judged->situation().network;
            return network.loads[network.load_of[i]].current;
        };
        for (const plan::Index out : set.loads) {
            if (plan[out].words() != "the " + match[1].str() || helper(out)) continue;
            CHECK(std::any_of(set.loads.begin(), set.loads.end(), [&](plan::Index other) {
                return other != out && !helper(other) && amps(other) >= amps(out);
            }));
        }
    });
    CHECK(seen > 5);
}

TEST_CASE("no release is put where it takes the function away") {
    std::size_t seen = 0;
    each_cure([&](const Bench& bench, const Told& told) {
        for (const auto& change : told.remedy.changes)
            for (const auto& element : bench.judged->plan().elements) {
                if (element.path() + ".no_volt" != change.path) continue;
                const auto& sw = *element.as<plan::Switch>();
                CHECK_FALSE(sw.kind.is(plan::SwitchKind::current_sensing));
                CHECK_FALSE(sw.kind.is(plan::SwitchKind::remote));
                ++seen;
            }
    });
    CHECK(seen > 3);
}

TEST_CASE("what is sold as one piece is not asked to change") {
    std::size_t seen = 0;
    each_cure([&](const Bench& bench, const Told& told) {
        const auto& o = *told.outcome;
        if (o.at.kind != rules::At::Kind::element) return;
        if (!rules::inside_a_machine(bench.judged->situation(), o.at.index)) return;
        CHECK(told.remedy.text.find("a part that is made") == std::string::npos);
        CHECK(told.remedy.text.find("device of") == std::string::npos);
        ++seen;
    });
    CHECK(seen > 3);
}

TEST_CASE("work in a wall is an electrician's") {
    std::size_t seen = 0;
    // Tried or not: what does not cure in these plans is told in others.
    const auto look = [&](const Bench& bench, const rules::Remedy& remedy) {
        CAPTURE(bench.name);
        CAPTURE(remedy.text);
        const auto& plan = bench.judged->plan();
        for (const auto& change : remedy.changes)
            for (plan::Index i = 0; i < plan.elements.size(); ++i) {
                const auto& element = plan.elements[i];
                if (!element.cable || !bench.judged->situation().network.house[i]) continue;
                const bool stock = element.cable->stock_index != plan::nowhere &&
                                   plan.stocks[element.cable->stock_index].path() == owner(change.path);
                if (change.path != element.path() + ".cable.length" && !stock) continue;
                CHECK(remedy.cost == rules::Cost::electrician);
                ++seen;
            }
    };
    for (const Bench& bench : benches())
        for (const auto& o : bench.judged->judgement().outcomes)
            if (o.verdict == Verdict::fail || o.verdict == Verdict::caution)
                for (const auto& remedy :
                     rules::explain(bench.judged->situation(), bench.judged->judgement(), o).remedies)
                    look(bench, remedy);
    CHECK(seen > 0);
}

TEST_CASE("a switch is told one motor rating, wherever it is asked for") {
    std::size_t seen = 0;
    for (const Bench& bench : benches()) {
        CAPTURE(bench.name);
        std::map<std::string, std::set<std::string>> asked;
        for (const Told& told : bench.told)
            for (const auto& change : told.remedy.changes)
                if (change.path.ends_with(".motor_rating")) asked[change.path].insert(change.value);
        for (const auto& one : asked) {
            CAPTURE(one.first);
            CHECK(one.second.size() == 1);
            ++seen;
        }
    }
    CHECK(seen > 3);
}

TEST_CASE("the one device that is told, fitted at the inlet, guards its whole chain") {
    const std::string before =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "earthing = \"TN-S\"\nloop_impedance = \"0.3 ohm\"\n[device.d]\nfrom = \"supply.s\"\nkind = "
        "\"circuit "
        "breaker\"\ncurve = \"C\"\nrating = \"20 A\"\nresidual = { trip = \"30 mA\", wave = \"A\" }\n"
        "[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n[stock.lead]\ntype = "
        "\"H07RN-F\"\nsection = \"1.0 mm2\"\ncores = 3\n[outlet.w]\nfrom = \"device.d\"\npattern = \"CEE "
        "7/3\"\nearth = \"tested\"\ncable = { stock = \"house\", length = \"10 m\", method = \"C\" }\n";
    const std::string after =
        "[switch.k]\nfrom = \"box.j\"\npoles = 2\nrating = \"12 A\"\nmotor_rating = \"12 "
        "A\"\n[outlet.a]\nfrom "
        "= \"switch.k\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[outlet.b]\nfrom = \"box.j\"\npattern = "
        "\"CEE 7/3\"\nearth = \"tested\"\n[load.a]\nfrom = \"outlet.a\"\nkind = \"tool\"\nmotor = "
        "\"universal\"\nlatched = false\nplate = { current = \"5 A\", voltage = \"230 V\" }\n";
    const std::string feed =
        "from = \"outlet.w\"\nplug = \"CEE 7/7\"\ncable = { stock = \"lead\", length = \"5 m\" }\n";
    const std::set<std::string_view> rules_of_chain{"heat.element-unprotected", "heat.cable-unprotected"};
    const Judged bare = judged(before + "[box.j]\n" + feed + after);
    std::set<double> told;
    std::size_t fails = 0;
    for (const auto& o : bare.judgement().outcomes) {
        if (o.verdict != Verdict::fail || !rules_of_chain.contains(rules::registry()[o.rule].id)) continue;
        ++fails;
        for (const auto& remedy : rules::explain(bare.situation(), bare.judgement(), o).remedies)
            for (const double rating : figures(remedy.text, "one breaker or fuse of ([0-9.]+) A"))
                told.insert(rating);
    }
    CHECK(fails >= 4);                      // the wall outlet, the plug, the cord, the switch
    REQUIRE(told == std::set<double>{10});  // the cord carries 10 A, the switch 12 A, the plug 16 A
    const Judged guarded =
        judged(before + "[device.inlet]\nkind = \"circuit breaker\"\ncurve = \"B\"\nrating = \"10 A\"\n" +
               feed + "[box.j]\nfrom = \"device.inlet\"\n" + after);
    for (const auto& o : guarded.judgement().outcomes) {
        if (!rules_of_chain.contains(rules::registry()[o.rule].id)) continue;
        CAPTURE(rules::path_of(guarded.plan(), o.at));
        CHECK(o.verdict == Verdict::ok);
    }
}
