#include <benchfeed/rules/causes.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <tuple>

#include <benchfeed/rules/drop.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::rules {

namespace {

enum class CauseKind : std::uint8_t { overload, drop };

/// Outcomes with equal keys have one cause: the loads of an overload, or the cable of a drop.
using CauseKey = std::tuple<CauseKind, Index, std::vector<Index>>;

std::optional<CauseKey> key_of(const Situation& s, const Judgement& judgement, const Outcome& o) {
    if (o.limit == plan::nowhere || (o.verdict != Verdict::fail && o.verdict != Verdict::caution))
        return std::nullopt;
    const Limit& limit = judgement.limits[o.limit];
    const auto loads = [&] { return evaluate(s, limit, set_of(s.plan, o.set).loads).loads; };
    switch (limit.reach.kind) {
        case Reach::Kind::through:
        case Reach::Kind::largest_way:
            // A limit for motors alone, or for hours, is a fault of that part and not of the sum.
            if (limit.weight.motors_only || limit.weight.hours_only) return std::nullopt;
            return CauseKey{CauseKind::overload, o.set, loads()};
        case Reach::Kind::lost_to:
        case Reach::Kind::left_at:
            return CauseKey{CauseKind::drop, o.set, {worst_cable(s, o.at.index)}};
        default:
            return std::nullopt;
    }
}

/// Equals in the order of the rules, then by name: never in that of a file.
bool named_before(const Situation& s, const Outcome& a, const Outcome& b) {
    if (a.rule != b.rule) return a.rule < b.rule;
    const std::string name_a = path_of(s.plan, a.at), name_b = path_of(s.plan, b.at);
    if (name_a != name_b) return name_a < name_b;
    return a.part != b.part ? a.part < b.part : set_name(s.plan, a.set) < set_name(s.plan, b.set);
}

/// The more of its limit, the earlier; a drop by what is lost.
double size_of(const Outcome& o) {
    return o.bound == Bound::at_least ? -number(o.value) : o.share().value_or(number(o.value));
}

/// The fails of a rule, by the element at which they stand.
std::map<Index, Index> fails_of(const Judgement& judgement, const Rule& rule) {
    std::map<Index, Index> found;
    for (Index i = 0; i < judgement.outcomes.size(); ++i) {
        const Outcome& o = judgement.outcomes[i];
        if (o.verdict == Verdict::fail && o.at.kind == At::Kind::element && registry()[o.rule].id == rule.id)
            found.emplace(o.at.index, i);
    }
    return found;
}

/// Questions that the cure of a fail on their way answers.
void find_waiting(const Situation& s, const Judgement& judgement, std::vector<Index>& lead) {
    std::map<Index, std::map<Index, Index>> fails;  // by the rule that waits for their cure
    for (Index i = 0; i < judgement.outcomes.size(); ++i) {
        const Outcome& o = judgement.outcomes[i];
        const Rule& rule = registry()[o.rule];
        if (o.verdict != Verdict::cannot_judge || o.accepted != plan::nowhere || !rule.waits.for_cure_of ||
            o.at.kind != At::Kind::element || !rule.waits.answers(s, o))
            continue;
        const auto [known, fresh] = fails.try_emplace(o.rule);
        if (fresh) known->second = fails_of(judgement, *rule.waits.for_cure_of);
        for (Index up = o.at.index; up != plan::nowhere && lead[i] == plan::nowhere; up = s.plan[up].parent)
            if (const auto fail = known->second.find(up); fail != known->second.end()) lead[i] = fail->second;
    }
}

}  // namespace

std::vector<Index> causes(const Situation& s, const Judgement& judgement) {
    const std::vector<Outcome>& outcomes = judgement.outcomes;
    std::vector<Index> lead(outcomes.size(), plan::nowhere);
    std::map<CauseKey, std::vector<Index>> families;
    for (Index i = 0; i < outcomes.size(); ++i)
        if (auto key = key_of(s, judgement, outcomes[i])) families[std::move(*key)].push_back(i);
    for (auto& [key, members] : families) {
        std::stable_sort(members.begin(), members.end(), [&](Index a, Index b) {
            if (outcomes[a].verdict != outcomes[b].verdict) return outcomes[a].verdict > outcomes[b].verdict;
            const double size_a = size_of(outcomes[a]), size_b = size_of(outcomes[b]);
            if (std::abs(size_a - size_b) > 1e-9) return size_a > size_b;
            return named_before(s, outcomes[a], outcomes[b]);
        });
        for (std::size_t k = 1; k < members.size(); ++k) lead[members[k]] = members.front();
    }
    find_waiting(s, judgement, lead);
    return lead;
}

}  // namespace benchfeed::rules
