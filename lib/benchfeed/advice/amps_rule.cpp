#include <benchfeed/advice/amps_rule.hpp>

#include <algorithm>

#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Judgement;
using rules::Situation;

namespace {

/// The loads that a limit counts and what each adds; nothing where it does not limit amps that flow.
std::optional<AmpsPlace> place_of(const Situation& s, const rules::Limit& limit, const Company& company) {
    if (limit.reach.kind != rules::Reach::Kind::through || limit.bound != rules::Bound::at_most)
        return std::nullopt;
    const auto* edge = std::get_if<Current>(&limit.edge);
    if (!edge) return std::nullopt;
    AmpsPlace place{limit.at, limit.part, Current(*edge - limit.base), {}, {}};
    Current sum{};
    for (const Index load : company.loads) {
        const Index position = s.network.load_of[load];
        if (position == plan::nowhere || !s.network.hangs_below(load, limit.reach.element)) continue;
        const network::LoadPoint& point = s.network.loads[position];
        const Current amps(point.current * limit.weight.of(point));
        if (!(amps > Current{})) continue;
        place.loads.push_back(load);
        place.amps.push_back(amps);
        sum += amps;
    }
    if (!rules::above(sum, place.most)) return std::nullopt;  // nobody can be too much for it
    return place;
}

Current sum_at(const AmpsPlace& place, const std::vector<Index>& running) {
    Current sum{};
    for (std::size_t i = 0; i < place.loads.size(); ++i)
        if (std::find(running.begin(), running.end(), place.loads[i]) != running.end()) sum += place.amps[i];
    return sum;
}
bool breaks(const std::vector<AmpsPlace>& places, const std::vector<Index>& running) {
    return std::any_of(places.begin(), places.end(), [&](const AmpsPlace& place) {
        return rules::above(sum_at(place, running), place.most);
    });
}

/// Whatever is too much for the second place is too much for the first.
bool speaks_first(const AmpsPlace& first, const AmpsPlace& second) {
    if (first.most > second.most) return false;
    for (std::size_t i = 0; i < second.loads.size(); ++i) {
        const auto at = std::find(first.loads.begin(), first.loads.end(), second.loads[i]);
        if (at == first.loads.end()) return false;
        if (first.amps[static_cast<std::size_t>(at - first.loads.begin())] < second.amps[i]) return false;
    }
    return true;
}

}  // namespace

AmpsRule amps_rule(const Situation& s, const Judgement& judgement, const TogetherAnswer& answer) {
    AmpsRule rule;
    for (const rules::Limit& limit : judgement.limits) {
        auto place = place_of(s, limit, answer.company);
        if (!place) continue;
        const bool known = std::any_of(rule.places.begin(), rule.places.end(),
                                       [&](const AmpsPlace& other) { return speaks_first(other, *place); });
        if (known) continue;
        std::erase_if(rule.places, [&](const AmpsPlace& other) { return speaks_first(*place, other); });
        rule.places.push_back(std::move(*place));
    }
    const ChosenSets &forbidden = answer.forbidden, &largest = answer.largest;
    for (std::size_t i = 0; i < forbidden.sets.size(); ++i)
        if (!breaks(rule.places, forbidden.sets[i].running)) rule.besides.push_back(i);
    if (forbidden.more || forbidden.stopped || largest.more || largest.stopped) return rule;
    const bool all_kept = std::none_of(largest.sets.begin(), largest.sets.end(), [&](const ChosenSet& set) {
        return breaks(rule.places, set.running);
    });
    rule.proof = all_kept ? AmpsRule::Proof::equal : AmpsRule::Proof::stricter;
    return rule;
}

}  // namespace benchfeed::advice
