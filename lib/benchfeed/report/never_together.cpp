// What must never run together, whole: a list while it is short, else amps that are added up.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include <benchfeed/advice/amps_rule.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/report/together_words.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::AmpsRule;
using plan::Index;
using rules::Situation;

namespace {

/// Forbidden sets are listed up to so many; beyond these few the rule that they follow is told where it is
/// proven to say the same.
constexpr std::size_t listed_sets = 24, few_sets = 4;

bool is_pair(const advice::ChosenSet& set) {
    return set.choices.size() == 2 && std::all_of(set.choices.begin(), set.choices.end(),
                                                  [](const auto& c) { return c.of.size() == 1; });
}

/// Pairs with the same first tool are one line: "the saw with the router, the planer or the lathe".
std::vector<std::string> listed(const Situation& s, const std::vector<advice::ChosenSet>& sets) {
    std::vector<std::string> lines;
    std::map<Index, std::vector<std::string>> with;
    std::vector<Index> order;
    for (const auto& set : sets) {
        if (!is_pair(set)) {
            lines.push_back(choices_words(s, set));
            continue;
        }
        const Index first = set.choices[0].of.front();
        if (!with.contains(first)) order.push_back(first);
        with[first].push_back(s.plan[set.choices[1].of.front()].words());
    }
    std::vector<std::string> pairs;
    for (const Index first : order)
        pairs.push_back(s.plan[first].words() + " with " + joined(with[first], " or "));
    pairs.insert(pairs.end(), lines.begin(), lines.end());
    return pairs;
}

/// "at the bench plug at most 16 A: 7 A the saw, 6.1 A the router"; alike amps stand together.
std::string place_line(const Situation& s, const advice::AmpsPlace& place) {
    std::map<std::string, std::vector<std::string>> by_amps;
    std::vector<std::string> order;
    for (std::size_t i = 0; i < place.loads.size(); ++i) {
        const std::string amps = to_text(place.amps[i]);
        if (!by_amps.contains(amps)) order.push_back(amps);
        by_amps[amps].push_back(s.plan[place.loads[i]].words());
    }
    std::vector<std::string> tools;
    for (const std::string& amps : order)
        tools.push_back(amps + (by_amps[amps].size() > 1 ? " each " : " ") + rules::list(by_amps[amps]));
    return fmt::format("more than {1} at {0}, added up: {2}", rules::words(s, place.at, place.part),
                       to_text(place.most), joined(tools, "; "));
}

std::vector<std::string> added_up(const Situation& s, const AmpsRule& rule, const advice::ChosenSets& sets) {
    std::vector<std::string> lines;
    for (const auto& place : rule.places) lines.push_back(place_line(s, place));
    if (!rule.besides.empty()) {
        if (!lines.empty()) lines.emplace_back("nor these, however few amps they draw:");
        for (const std::size_t i : rule.besides) lines.push_back(choices_words(s, sets.sets[i]));
    }
    switch (rule.proof) {
        case AmpsRule::Proof::equal:
            break;
        case AmpsRule::Proof::stricter:
            lines.emplace_back(
                "(Some sets beyond these amps would pass: plain sums are on the cautious side.)");
            break;
        case AmpsRule::Proof::open:
            lines.emplace_back(
                "(Too many sets to look at each: starts and volts were judged for those under \"May run "
                "together\" alone. Run no others.)");
            break;
    }
    return lines;
}

}  // namespace

SheetSection never_section(const Situation& s, const rules::Judgement& judgement,
                           const advice::TogetherAnswer& answer) {
    SheetSection section{"Never together", {}};
    section.type = Type::strong;
    section.panel = true;
    const auto& forbidden = answer.forbidden;
    const bool whole = !forbidden.more && !forbidden.stopped;
    const auto lines = listed(s, forbidden.sets);
    const auto rule = advice::amps_rule(s, judgement, answer);
    const bool same = rule.proof == AmpsRule::Proof::equal && rule.besides.empty();
    const bool listable = whole && lines.size() <= (same ? few_sets : listed_sets);
    section.lines = listable ? lines : added_up(s, rule, forbidden);
    const auto unsure = [](const advice::ChosenSet& set) { return !set.certain; };
    if (std::any_of(forbidden.sets.begin(), forbidden.sets.end(), unsure))
        section.lines.emplace_back("(Some of these only until somebody has read the plates.)");
    if (answer.always_broken) section.lines.emplace_back("anything: what runs by itself is too much already");
    if (section.lines.empty()) {
        const std::string but = none_forbidden_words(s, judgement, answer);
        section.lines.push_back(but.empty() ? "nothing is forbidden: all may run at once" : but);
    }
    return section;
}

}  // namespace benchfeed::report
