// What is sized is better and nothing else: no verdict rises at any place, and sized again it stays.
#include <doctest/doctest.h>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/size.hpp>
#include "laws/facts.hpp"

using namespace benchfeed;
using namespace benchfeed::laws;
using rules::Verdict;

namespace {

using Key = std::tuple<plan::Index, std::string, int, std::string>;

/// How many outcomes at each place are at least a caution, a cannot judge, a fail. Of a finding about many
/// places each is looked at by itself: what is asked of one of them may be asked of another one too, whose
/// section was in question before. One about whichever end of a circuit is worst has no place of its own.
std::map<Key, std::array<int, 3>> counts_of(const Judged& judged) {
    std::map<Key, std::array<int, 3>> found;
    for (const auto& o : rules::judge_places(judged.situation())) {
        const bool nowhere = id_of(o) == "shock.slow-disconnection";
        auto& counts = found[{o.rule, nowhere ? "" : rules::path_of(judged.plan(), o.at),
                              static_cast<int>(o.part), rules::set_name(judged.plan(), o.set)}];
        for (std::size_t k = 0; k < counts.size(); ++k) counts[k] += static_cast<std::size_t>(o.verdict) > k;
    }
    return found;
}

/// "heat.fault-energy: a cannot judge more".
void hold_no_worse(Breaches& breaches, const Bench& bench, const Judged& after, const std::string& text) {
    const auto before = counts_of(*bench.judged);
    for (const auto& [key, counts] : counts_of(after)) {
        const auto at = before.find(key);
        for (std::size_t k = counts.size(); k-- > 0;) {
            if (counts[k] <= (at == before.end() ? 0 : at->second[k])) continue;
            breaches.add(
                fmt::format("{}: a {} more", rules::registry()[std::get<0>(key)].id,
                            rules::words(static_cast<Verdict>(k + 1))),
                fmt::format("{}: at {} [{}]\n{}", bench.name, std::get<1>(key), std::get<3>(key), text));
            break;
        }
    }
}

std::string words_of(const advice::Sized& sized) {
    std::string words;
    for (const auto& group : sized.groups)
        if (!(group.before == group.after))
            words += fmt::format(" {} {} -> {}", sized.plan->stocks[group.group.stocks.front()].name,
                                 section_text(group.before), section_text(group.after));
    return words;
}

}  // namespace

TEST_CASE(
    "law: with the sections that are chosen nothing is worse at any place, and chosen again they stay") {
    Breaches breaches;
    std::size_t changed = 0, uncured = 0, tried = 0;
    for (const Bench& bench : corpus()) {
        if (times() == 1 && test::sanitized && bench.number() % 3 != 0) continue;
        ++tried;
        const auto sized = advice::size(bench.judged->situation());
        uncured += !sized.uncured.empty();
        const auto edits = advice::edits_of(sized, bench.judged->plan());
        if (edits.edits.empty() || !edits.missing.empty()) continue;
        ++changed;
        const std::string text = advice::edited(text::Document("plan.toml", bench.text), edits.edits);
        const auto other = judged(text);
        REQUIRE(other);
        CHECK(advice::faults_of(other->judgement()) == sized.uncured);
        hold_no_worse(breaches, bench, *other, text);
        const auto again = advice::size(other->situation());
        if (const std::string words = words_of(again); !words.empty())
            breaches.add("sized again it changes", bench.name + ":" + words_of(sized) + ", then" + words);
    }
    MESSAGE(tried << " plans, " << changed << " changed, " << uncured << " with something uncured");
    CHECK((test::sanitized || changed >= 100));
    CHECK((test::sanitized || uncured >= 100));
    breaches.hold();
}
