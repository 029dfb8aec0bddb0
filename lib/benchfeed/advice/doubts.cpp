// What forbids a set most, and of which loads nothing can be said.
#include <algorithm>

#include <benchfeed/advice/conditions.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Limit;
using rules::Situation;

namespace {

/// How far beyond its edge a value is, as a ratio above 1.
double excess(const Limit& limit, const Measure& value) {
    const double v = number(value), e = number(limit.edge);
    return limit.bound == rules::Bound::at_most ? v / e : e / std::max(v, 1e-9);
}

}  // namespace

std::optional<Broken> worst_broken(const Situation& s, const rules::Judgement& judgement,
                                   const std::vector<std::size_t>& limits, std::span<const Index> loads) {
    std::optional<Broken> worst;
    const auto harm = [&](Index limit) {
        return rules::danger(rules::registry()[judgement.limits[limit].rule]);
    };
    for (const std::size_t position : limits) {
        const auto i = static_cast<Index>(position);
        const Limit& limit = judgement.limits[i];
        if (std::holds_alternative<std::monostate>(limit.edge)) continue;
        auto evaluated = rules::evaluate(s, limit, loads);
        if (evaluated.loads.empty() || rules::verdict_at(limit, evaluated) != rules::Verdict::fail) continue;
        const bool worse =
            !worst || harm(i) < harm(worst->limit) ||
            (harm(i) == harm(worst->limit) &&
             excess(limit, evaluated.value) >
                 excess(judgement.limits[worst->limit], worst->evaluated.value) * (1 + rules::rounding));
        if (worse) worst = Broken{i, std::move(evaluated)};
    }
    return worst;
}

namespace {

/// The limit may ask for what this load draws or gets.
bool may_concern(const Situation& s, const Limit& limit, Index load) {
    using Kind = rules::Reach::Kind;
    switch (limit.reach.kind) {
        case Kind::through:
        case Kind::largest_way:
        case Kind::neutral:
            return s.network.hangs_below(load, limit.reach.element);
        case Kind::lost_to:
        case Kind::left_at:
            return load == limit.reach.element;
        case Kind::through_at_start:
        case Kind::left_at_start:
            return load == limit.reach.starter;
        case Kind::left_at_pick_up:
            break;
    }
    return true;
}

/// An essential limit on the way to a load beyond which, short of its edge, nothing can be said, and which
/// all loads at once overstep: the amps of an inlet that some are made for and others are not.
Index doubtful_limit(const Situation& s, const rules::Judgement& judgement, const Company& company,
                     Index load) {
    for (Index l = 0; l < judgement.limits.size(); ++l) {
        const Limit& limit = judgement.limits[l];
        if (!rules::registry()[limit.rule].essential || !std::holds_alternative<Current>(limit.doubt))
            continue;
        const std::vector<Index> alone{load};
        if (!may_concern(s, limit, load) || rules::evaluate(s, limit, alone).loads.empty()) continue;
        if (number(rules::evaluate(s, limit, company.loads).value) >
            number(limit.doubt) * (1 + rules::rounding))
            return l;
    }
    return plan::nowhere;
}

}  // namespace

std::vector<Doubt> doubts_of(const Situation& s, const rules::Judgement& judgement, const Company& company) {
    std::vector<Doubt> doubts(company.loads.size());
    const auto essential = [](Index rule) { return rules::registry()[rule].essential; };
    for (std::size_t i = 0; i < company.loads.size(); ++i) {
        const Index load = company.loads[i];
        if (!s.network.loads[s.network.load_of[load]].known()) doubts[i].open = true;
        // An element that nobody could rate yields no limit: what runs through it cannot be judged.
        for (Index o = 0; o < judgement.outcomes.size() && !doubts[i].open; ++o) {
            const rules::Outcome& outcome = judgement.outcomes[o];
            const bool asks = outcome.verdict == rules::Verdict::cannot_judge &&
                              outcome.set == rules::no_set && outcome.at.kind == rules::At::Kind::element &&
                              essential(outcome.rule) &&
                              rules::registry()[outcome.rule].harm == rules::Harm::heat;
            if (asks && s.network.hangs_below(load, outcome.at.index)) doubts[i] = {true, o, plan::nowhere};
        }
        const std::vector<Index> alone{load};
        if (const Index doubtful = doubtful_limit(s, judgement, company, load);
            !doubts[i].open && doubtful != plan::nowhere)
            doubts[i] = {true, plan::nowhere, doubtful};
        for (Index l = 0; l < judgement.limits.size() && !doubts[i].open; ++l) {
            const Limit& limit = judgement.limits[l];
            if (!essential(limit.rule) || limit.ground.carries_ok()) continue;
            if (may_concern(s, limit, load) && !rules::evaluate(s, limit, alone).loads.empty())
                doubts[i] = {true, plan::nowhere, l};
        }
    }
    return doubts;
}

}  // namespace benchfeed::advice
