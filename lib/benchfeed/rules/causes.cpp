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
    return lead;
}

}  // namespace benchfeed::rules
