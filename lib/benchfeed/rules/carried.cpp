#include <benchfeed/rules/carried.hpp>

#include <algorithm>
#include <set>
#include <string>
#include <tuple>

#include <benchfeed/rules/summary.hpp>

namespace benchfeed::rules {

std::optional<Moved::Side> side_of(const JudgedSide& side, const Outcome* o) {
    if (!o) return std::nullopt;
    return Moved::Side{o->verdict, set_name(side.situation.plan, o->set), o->value, o->edge,
                       o->accepted != plan::nowhere};
}

namespace {

/// The findings of one plan that stand for many places, each place by itself.
class Folds {
public:
    explicit Folds(const JudgedSide& side) : side_(side), places_(judge_places(side.situation)) {}

    /// What is told instead of a place: the carrier of its fold; nullptr if the place is told itself.
    [[nodiscard]] const Outcome* carrier_for(Index rule, const std::string& at, Part part) const {
        for (const Outcome& place : places_) {
            if (place.fold == plan::nowhere || place.rule != rule || place.part != part || path(place) != at)
                continue;
            for (const Outcome& told : side_.judgement.outcomes)
                if (told.rule == rule && told.fold == place.fold && told.set == place.set &&
                    (path(told) != at || told.part != part))
                    return &told;
        }
        return nullptr;
    }
    [[nodiscard]] std::string path(const Outcome& o) const { return path_of(side_.situation.plan, o.at); }

private:
    const JudgedSide& side_;
    std::vector<Outcome> places_;
};

int rank_of(const std::optional<Moved::Side>& side) {
    return !side || side->accepted ? 0 : static_cast<int>(side->verdict);
}

void carry(Moved& m, const std::string& from, std::optional<Moved::Side> before) {
    m.before = std::move(before);
    m.carried_from = from;
    m.worse = rank_of(m.after) > rank_of(m.before);
}

Moved* at_place(std::vector<Moved>& list, Index rule, const std::string& at, Part part) {
    const auto it = std::find_if(list.begin(), list.end(), [&](const Moved& m) {
        return m.rule == rule && m.at == at && m.part == part;
    });
    return it == list.end() ? nullptr : &*it;
}

}  // namespace

void follow_folds(const JudgedSide& before, const JudgedSide& after, std::vector<Moved>& list) {
    if (list.empty()) return;
    const Folds old_folds(before), new_folds(after);
    std::set<std::tuple<Index, std::string, Part>> told_at_another;
    for (Moved& m : list) {
        if (!m.worse) continue;
        const Outcome* told = old_folds.carrier_for(m.rule, m.at, m.part);
        if (!told) continue;
        carry(m, old_folds.path(*told), side_of(before, told));
        told_at_another.emplace(m.rule, m.carried_from, told->part);
    }
    for (Moved& m : list) {
        if (m.worse || !m.carried_from.empty()) continue;
        const Outcome* told = new_folds.carrier_for(m.rule, m.at, m.part);
        if (!told) continue;
        Moved* there = at_place(list, m.rule, new_folds.path(*told), told->part);
        if (!there) {  // it joins a finding that was there before
            const std::string from = m.at;
            m.at = new_folds.path(*told);
            m.part = told->part;
            m.after = side_of(after, told);
            m.headline = explain(after.situation, after.judgement, *told).headline;
            carry(m, from, m.before);
        } else {
            if (there->carried_from.empty()) carry(*there, m.at, m.before);
            told_at_another.emplace(m.rule, m.at, m.part);
        }
    }
    std::erase_if(list, [&](const Moved& m) {
        return m.carried_from.empty() && !m.worse && rank_of(m.after) == 0 &&
               told_at_another.contains({m.rule, m.at, m.part});
    });
    std::stable_sort(list.begin(), list.end(),
                     [](const Moved& a, const Moved& b) { return a.worse > b.worse; });
}

Moved::Direction Moved::direction() const {
    if (worse) return Direction::worse;
    return !carried_from.empty() && rank_of(before) == rank_of(after) ? Direction::elsewhere
                                                                      : Direction::better;
}

}  // namespace benchfeed::rules
