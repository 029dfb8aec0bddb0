// What is advised holds when it is done: sets that may run together and sets that must not, cures, values
// tried, sections chosen.
#include <doctest/doctest.h>
#include <fmt/ranges.h>

#include <benchfeed/advice/cures.hpp>
#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/size.hpp>
#include <benchfeed/advice/sweep.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/plan/fields.hpp>
#include "laws/facts.hpp"

using namespace benchfeed;
using namespace benchfeed::laws;
using rules::Verdict;
using test::BenchDice;

namespace {

/// Every so many plans, since these ask for many judgements each.
std::vector<const Bench*> every(unsigned nth) {
    std::vector<const Bench*> some;
    for (const Bench& bench : corpus())
        if (bench.number() % std::max(1U, nth / times()) == 0) some.push_back(&bench);
    return some;
}

// ---- together -----------------------------------------------------------------------------------

std::string with_set(const std::string& text, const plan::Plan& plan, const std::vector<plan::Index>& loads) {
    std::vector<std::string> names;
    for (const plan::Index load : loads) names.push_back("\"" + plan[load].name + "\"");
    return fmt::format("{}\n[[together]]\nname = \"asked-for\"\nloads = [{}]\n", text,
                       fmt::join(names, ", "));
}

/// What check says of the set: a fail, or a question that counts as one.
struct Said {
    std::string fail, open;
};
Said said_of(const Judged& judged) {
    Said said;
    for (const auto& o : judged.judgement().outcomes) {
        if (o.limit == plan::nowhere || rules::set_name(judged.plan(), o.set) != "asked-for") continue;
        const std::string words = fmt::format("{} at {}", id_of(o), rules::path_of(judged.plan(), o.at));
        if (o.verdict == Verdict::fail) said.fail = words;
        if (rules::is_grave_question(o)) said.open = words;
    }
    return said;
}

void hold_sets(Breaches& breaches, const Bench& bench, const advice::ChosenSets& sets, bool allowed,
               std::size_t& tried) {
    for (std::size_t i = 0; i < std::min<std::size_t>(sets.sets.size(), 3); ++i) {
        // A plan has no word for a switch that keeps off what starts by itself: written, it fails beside it.
        if (!sets.sets[i].not_beside.empty()) continue;
        const std::string text = with_set(bench.text, bench.judged->plan(), sets.sets[i].loads);
        const auto other = judged(text);
        const std::string example = bench.name + "\n" + text;
        if (!other) {
            breaches.add("a set that cannot be written into the plan", example);
            continue;
        }
        ++tried;
        const Said said = said_of(*other);
        if (allowed && !said.fail.empty()) breaches.add("allowed and fails: " + said.fail, example);
        if (allowed && !said.open.empty()) breaches.add("allowed and not judged: " + said.open, example);
        if (!allowed && said.fail.empty() && (sets.sets[i].certain || said.open.empty()))
            breaches.add("forbidden and passes", example);
    }
}

// ---- cures --------------------------------------------------------------------------------------

using Key = std::tuple<plan::Index, std::string, int, std::string>;

std::map<Key, Verdict> verdicts_of(const Judged& judged, const std::vector<rules::Outcome>& outcomes) {
    std::map<Key, Verdict> found;
    for (const auto& o : outcomes) {
        if (id_of(o).starts_with("plan.")) continue;
        Verdict& known = found[{o.rule, rules::path_of(judged.plan(), o.at), static_cast<int>(o.part),
                                rules::set_name(judged.plan(), o.set)}];
        known = std::max(known, o.verdict);
    }
    return found;
}
/// Every place of a finding about many places by itself: whichever of them tells it, none may be worse.
std::map<Key, Verdict> places_of(const Judged& judged) {
    return verdicts_of(judged, rules::judge_places(judged.situation()));
}
std::string key_words(const Key& key) {
    return fmt::format("{} at {} {} [{}]", rules::registry()[std::get<0>(key)].id, std::get<1>(key),
                       rules::words(static_cast<rules::Part>(std::get<2>(key))), std::get<3>(key));
}

/// The changes of a remedy made: what it cures is better, and nothing else is worse.
/// Of an element that a cure adds a rule may say what it says somewhere already: the same current flows
/// there.
Verdict added(const Bench& bench, const rules::Remedy& remedy, const std::map<Key, Verdict>& before,
              const Key& place) {
    const auto& elements = bench.judged->plan().elements;
    const bool there = std::any_of(elements.begin(), elements.end(),
                                   [&](const plan::Element& e) { return e.path() == std::get<1>(place); });
    Verdict worst = Verdict::ok;
    if (there || remedy.fragment.empty()) return worst;
    for (const auto& [key, verdict] : before)
        if (std::get<0>(key) == std::get<0>(place)) worst = std::max(worst, verdict);
    return worst;
}

void hold_cure(Breaches& breaches, const Bench& bench, const std::map<Key, Verdict>& before,
               const rules::Outcome& cured, const rules::Remedy& remedy) {
    std::vector<std::string> set;
    for (const auto& change : remedy.changes) set.push_back(change.path + "=" + change.value);
    const auto other = judged(bench.text + "\n" + remedy.fragment, set);
    const bool leaves_out = remedy.changes.front().path.starts_with("together.");
    const std::string rule = leaves_out ? "a load left out of its set" : std::string(id_of(cured));
    const std::string example = bench.name + ": " + remedy.text;
    if (!other) return breaches.add(rule + ": its change makes no plan", example);
    const auto after = places_of(*other);
    const Key key{cured.rule, rules::path_of(bench.judged->plan(), cured.at), static_cast<int>(cured.part),
                  rules::set_name(bench.judged->plan(), cured.set)};
    if (const auto it = after.find(key); it != after.end() && it->second >= cured.verdict)
        breaches.add(rule + ": does not cure", example);
    for (const auto& o :
         other->judgement().outcomes)  // the elements are the same, so folds keep their numbers
        if (cured.fold != plan::nowhere && o.rule == cured.rule && o.fold == cured.fold &&
            o.set == cured.set && o.verdict >= cured.verdict)
            breaches.add(rule + ": does not cure, another place carries it", example);
    for (const auto& [place, verdict] : after) {
        const auto it = before.find(place);
        const Verdict was = it != before.end() ? it->second : added(bench, remedy, before, place);
        if (verdict > was) breaches.add(rule + ": brings something else", example + "\n" + key_words(place));
    }
}

// ---- values tried -------------------------------------------------------------------------------

/// "box.main.cable.length", from a third to three times what it is.
std::vector<std::string> ranges_of(const plan::Plan& plan) {
    std::vector<std::string> ranges;
    const auto add = [&](const std::string& path, double value, const char* unit) {
        ranges.push_back(
            fmt::format("{}=\"{:.4g} {} to {:.4g} {}\"", path, value / 3, unit, value * 3, unit));
    };
    for (const plan::Element& e : plan.elements) {
        if (e.cable && e.cable->length.known())
            add(e.path() + ".cable.length", in(unit::metre, *e.cable->length), "m");
        const auto* load = e.as<plan::Load>();
        if (load && load->plate && load->plate->current.known())
            add(e.path() + ".plate.current", in(unit::ampere, *load->plate->current), "A");
    }
    return ranges;
}

}  // namespace

TEST_CASE("law: a set that may run together passes when it is written down, one that must not fails") {
    Breaches breaches;
    std::size_t allowed = 0, forbidden = 0;
    for (const Bench* bench : every(2)) {
        const auto answer = advice::together(bench->judged->situation(), bench->judged->judgement());
        if (answer.always_broken) continue;
        hold_sets(breaches, *bench, answer.largest, true, allowed);
        hold_sets(breaches, *bench, answer.forbidden, false, forbidden);
    }
    at_least(allowed, 200, "allowed sets");
    at_least(forbidden, 40, "forbidden sets");
    breaches.hold();
}

TEST_CASE("law: a cure does what it says, and nothing gets worse by it") {
    Breaches breaches;
    std::size_t tried = 0;
    for (const Bench* bench : every(6)) {
        const text::Document document("plan.toml", bench->text);
        const advice::Source source{document, test::catalogue(), words(), {}};
        const auto s = bench->judged->situation();
        const auto before = places_of(*bench->judged);
        advice::CureTrials trials;
        for (const auto& finding : rules::findings(s, bench->judged->judgement()))
            for (const auto& remedy :
                 advice::cures(source, s, bench->judged->judgement(), *finding.outcome, trials)) {
                if (remedy.changes.empty() || remedy.changes.front().value.empty()) continue;
                ++tried;
                hold_cure(breaches, *bench, before, *finding.outcome, remedy);
            }
    }
    at_least(tried, 60, "cures");
    breaches.hold();
}

TEST_CASE("law: on both sides of a crossing stands the verdict that is told") {
    Breaches breaches;
    std::size_t tried = 0;
    for (const Bench* bench : every(5)) {
        BenchDice random(seed() + bench->number());
        const text::Document document("plan.toml", bench->text);
        const auto ranges = ranges_of(bench->judged->plan());
        if (ranges.empty()) continue;
        const std::string range = random.one_of(ranges);
        const auto what = advice::read_try(range);
        REQUIRE(std::holds_alternative<advice::Try>(what));
        const auto answer =
            advice::sweep({document, test::catalogue(), words(), {}}, std::get<advice::Try>(what));
        const auto* sweep = std::get_if<advice::Sweep>(&answer);
        if (!sweep) continue;  // a value at which the text is no plan
        for (const auto& crossing : sweep->crossings) {
            ++tried;
            const std::string path = std::get<advice::Try>(what).path + "=";
            for (const auto& [value, verdict] :
                 {std::pair(crossing.last, crossing.before), std::pair(crossing.first, crossing.after)}) {
                const auto other = judged(bench->text, {path + value});
                if (!other || other->judgement().verdict != verdict)
                    breaches.add("another verdict", bench->name + ": " + path + value);
            }
        }
    }
    at_least(tried, 20, "crossings");
    breaches.hold();
}
