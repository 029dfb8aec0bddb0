#include <benchfeed/rules/limits_at.hpp>

#include <algorithm>
#include <numeric>

namespace benchfeed::rules {

LimitsAt::LimitsAt(const plan::Plan& plan, const std::vector<Limit>& limits)
    : plan_(plan), all_(limits), begin_(plan.elements.size() + 1), limits_(limits.size()) {
    for (const Limit& limit : limits) ++begin_[kept_at(limit) + 1];
    std::partial_sum(begin_.begin(), begin_.end(), begin_.begin());
    std::vector<Index> next(begin_.begin(), begin_.end() - 1);
    for (Index i = 0; i < limits.size(); ++i) limits_[next[kept_at(limits[i])]++] = i;
}

std::vector<Index> LimitsAt::on_the_way_to(std::span<const Index> loads) const {
    std::vector<Index> found;
    std::vector<bool> seen(plan_.elements.size());
    for (const Index load : loads)
        for (Index up = load; up != plan::nowhere && !seen[up]; up = plan_[up].parent) {
            seen[up] = true;
            found.insert(found.end(), limits_.begin() + begin_[up], limits_.begin() + begin_[up + 1]);
        }
    std::erase_if(found, [&](Index limit) { return !seen[all_[limit].reach.element]; });
    std::sort(found.begin(), found.end());
    return found;
}

LoadsBelow::LoadsBelow(const network::Network& network, std::span<const Index> loads)
    : network_(network), all_(loads), by_enter_(loads.begin(), loads.end()) {
    std::sort(by_enter_.begin(), by_enter_.end(), [&](Index a, Index b) { return enter(a) < enter(b); });
}

std::span<const Index> LoadsBelow::that_count_for(const Limit& limit) {
    using Kind = Reach::Kind;
    const Kind kind = limit.reach.kind;
    const bool only_below = kind == Kind::through || kind == Kind::largest_way || kind == Kind::neutral;
    if (!only_below || all_.size() < 64) return all_;
    const Index element = limit.reach.element;
    auto at = std::lower_bound(by_enter_.begin(), by_enter_.end(), enter(element),
                               [&](Index load, Index wanted) { return enter(load) < wanted; });
    found_.clear();
    for (; at != by_enter_.end() && network_.hangs_below(*at, element); ++at) found_.push_back(*at);
    std::sort(found_.begin(), found_.end());
    return found_;
}

}  // namespace benchfeed::rules
