#include <benchfeed/advice/size.hpp>

#include <algorithm>

#include <benchfeed/advice/size_search.hpp>
#include <benchfeed/advice/sizes.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using plan::Plan;
using rules::Judgement;
using rules::Situation;

namespace {

void add_once(std::vector<Fault>& faults, const Fault& fault) {
    if (std::find(faults.begin(), faults.end(), fault) == faults.end()) faults.push_back(fault);
}

std::vector<StockGroup> with_cores(const Situation& s, const PriceList* prices, bool steps) {
    auto groups = groups_of(s, prices, steps);
    add_cores(s, groups);
    return groups;
}

class Sizing {
public:
    Sizing(const Situation& s, const SizeOptions& options, bool steps = true)
        : s_(s),
          options_(options),
          all_(s, with_cores(s, options.prices, steps), options.prices, options.most_trials) {}

    Sized run() {
        Sized sized;
        const std::vector<Goal> faults = goals(false), cautions = goals(true);
        std::vector<Goal> wanted = faults;
        if (options_.cautions) wanted.insert(wanted.end(), cautions.begin(), cautions.end());
        std::vector<Goal> met;
        const Sizes sizes = solve(wanted, sized, met);
        for (std::size_t g = 0; g < all_.groups().size(); ++g)
            sized.groups.push_back(sized_group(g, sizes, met));
        if (!options_.cautions) tell_cautions(sized, sizes, met, cautions);
        finish(sized, sizes);
        return sized;
    }

private:
    /// What does not hold in the plan as it is, the worst harm first.
    std::vector<Goal> goals(bool cautions) {
        std::vector<Goal> found;
        for (const auto& [fault, seen] : all_.found(all_.own()))
            if (cautions || bad(seen, fault.rule)) found.push_back({fault, cautions});
        std::stable_sort(found.begin(), found.end(), [](const Goal& a, const Goal& b) {
            const auto harm = [](const Goal& goal) {
                return rules::danger(rules::registry()[goal.fault.rule]);
            };
            return harm(a) < harm(b);
        });
        return found;
    }

    /// As many goals as can be met at once, the first ones first: each is given up only if the search proves
    /// that it cannot be met beside those before it.
    Sizes solve(const std::vector<Goal>& wanted, Sized& sized, std::vector<Goal>& met) {
        auto end = Combinations::End::whole;
        std::vector<Goal> possible = wanted;
        std::erase_if(possible, [&](const Goal& goal) { return all_.never(goal); });
        met = possible;
        if (auto all = all_.least(met, end)) return *all;
        met.clear();
        auto best = end == Combinations::End::whole ? all_.least(met, end) : std::nullopt;
        for (const Goal& goal : possible) {
            if (!best) break;
            if (!Combinations::cured(all_.found(*best), goal)) {
                std::vector<Goal> more = met;
                more.push_back(goal);
                // What is possible by itself and not beside those before it is a conflict.
                const bool alone = met.empty() || all_.least({goal}, end).has_value();
                if (!alone && end == Combinations::End::whole) continue;
                auto with = alone ? all_.least(more, end) : std::nullopt;
                if (!with && end == Combinations::End::whole) {
                    sized.conflict = sized.conflict || !met.empty();
                    continue;
                }
                best = std::move(with);
                if (!best) break;
            }
            met.push_back(goal);
        }
        if (best) return *best;
        sized.proven = false;
        sized.conflict = false;
        met = wanted;
        Sizes sizes = all_.improved(wanted);
        std::erase_if(met, [&](const Goal& goal) { return !Combinations::cured(all_.found(sizes), goal); });
        return sizes;
    }

    SizedGroup sized_group(std::size_t g, const Sizes& sizes, const std::vector<Goal>& met) {
        SizedGroup sized;
        sized.group = all_.groups()[g];
        const plan::Stock& stock = s_.plan.stocks[sized.group.stocks.front()];
        const auto& section = sized.group.protective ? stock.protective_section : stock.section;
        sized.before = sized.after = section.value_or(Section{});
        if (sized.group.choices.empty()) return sized;
        sized.after = sized.group.choices[sizes[g]];
        sized.smallest = sizes[g] == 0;
        if (sized.smallest) return sized;
        Sizes less = sizes;
        --less[g];
        for (const Fault& fault : all_.excess(less, met)) add_places(sized.binds, fault, all_.found(less));
        return sized;
    }
    /// A fault where it is; one that is counted at each of its places.
    static void add_places(std::vector<Fault>& to, Fault fault, const Found& found) {
        if (fault.rule >= rules::registry().size()) return;  // a cable that is not made so
        const auto seen = found.find(fault);
        if (fault.at.kind != rules::At::Kind::element || fault.at.index != plan::nowhere)
            return to.push_back(fault);
        if (seen == found.end()) return;
        for (const Index place : seen->second.places) {
            fault.at.index = place;
            to.push_back(fault);
        }
    }

    /// Cautions that stay, and what it would take to cure more of them.
    void tell_cautions(Sized& sized, const Sizes& sizes, const std::vector<Goal>& met,
                       const std::vector<Goal>& cautions) {
        std::vector<Goal> more;
        for (const Goal& goal : cautions) {
            const Found& found = all_.found(sizes);
            const auto seen = found.find(goal.fault);
            if (seen == found.end() || bad(seen->second, goal.fault.rule)) continue;
            if (seen->second.undecided > 0) continue;
            add_places(sized.cautions.left, goal.fault, found);
            more.push_back(goal);
        }
        if (more.empty() || !sized.proven) return;
        std::vector<Goal> wanted = met;
        wanted.insert(wanted.end(), more.begin(), more.end());
        Sized then;
        std::vector<Goal> also;
        const Sizes larger = solve(wanted, then, also);
        sized.cautions.asked = then.proven;
        if (!then.proven || larger == sizes) return;
        for (const Goal& goal : more)
            if (Combinations::cured(all_.found(larger), goal))
                add_places(sized.cautions.cured, goal.fault, all_.found(sizes));
        if (sized.cautions.cured.empty()) return;
        for (std::size_t g = 0; g < larger.size(); ++g) {
            const auto& group = all_.groups()[g];
            sized.cautions.sections.push_back(group.choices.empty() ? sized.groups[g].before
                                                                    : group.choices[larger[g]]);
        }
        all_.trials().take(larger);
        for (const Index i : counted_cables(nullptr))
            sized.cautions.copper += copper_of(all_.trials().plan(), s_.network, i);
    }

    /// Cables of the bench whose copper counts; those without a length into a list.
    std::vector<Index> counted_cables(std::vector<Index>* without_length) const {
        std::vector<Index> counted;
        for (Index i = 0; i < s_.plan.elements.size(); ++i) {
            if (!s_.plan[i].cable || s_.network.house[i] || rules::as_sold(s_, i)) continue;
            const Index stock = s_.plan[i].cable->stock_index;
            if (stock == plan::nowhere || !s_.plan.stocks[stock].section.known()) continue;
            if (s_.plan[i].cable->length.known())
                counted.push_back(i);
            else if (without_length)
                without_length->push_back(i);
        }
        return counted;
    }

    void finish(Sized& sized, const Sizes& sizes) {
        all_.trials().take(sizes);
        auto plan = std::make_shared<const Plan>(all_.trials().plan());
        auto network = std::make_shared<const network::Network>(all_.trials().network());
        for (const Index i : counted_cables(&sized.without_length)) {
            sized.copper_before += copper_of(s_.plan, s_.network, i);
            sized.copper_after += copper_of(*plan, *network, i);
        }
        if (options_.prices) {
            sized.cost_before = sized.cost_after = 0;
            for (const SizedGroup& group : sized.groups) {
                if (group.group.choices.empty() || group.group.protective) continue;
                *sized.cost_before += price_of(group.group, group.before);
                *sized.cost_after += price_of(group.group, group.after);
            }
        }
        sized.plan = std::move(plan);
        sized.network = std::move(network);
        sized.best = rules::best_end(sized.situation(s_.tables));
        sized.judgement = rules::judge(sized.situation(s_.tables));
        sized.uncured = faults_of(sized.judgement);
        sized.trials = all_.made();
    }
    [[nodiscard]] double price_of(const StockGroup& group, const Section& section) const {
        double cost = 0;
        for (const Index cable : group.cables)
            cost += in(unit::metre, s_.network.branches[cable].length) *
                    options_.prices->of(*s_.plan.stocks[s_.plan[cable].cable->stock_index].type, section)
                        .value_or(0);
        return cost;
    }

    Situation s_;
    SizeOptions options_;
    Combinations all_;
};

}  // namespace

namespace {

/// The greatest number up to `most` at which it holds; 0 if it does at none. It is looked for in growing
/// steps from a guess: far beyond what holds a bench collapses, which takes long to see.
template <class Holds>
int longest_that_holds(const Holds& holds, int guess, int most) {
    int good = 0, beyond = most + 1, at = std::clamp(guess, 1, most);
    for (double step = 1.25; good < at && at < beyond; step *= step) {
        if (holds(at)) {
            good = at;
            at = std::min(most, std::max(at + 1, static_cast<int>(std::min(1.0 * most, at * step))));
        } else {
            beyond = at;
            at = static_cast<int>(at / step);
        }
    }
    while (beyond - good > 1) {
        const int middle = (good + beyond) / 2;
        (holds(middle) ? good : beyond) = middle;
    }
    return good;
}

}  // namespace

std::vector<Fault> faults_of(const Judgement& judgement) {
    std::vector<Fault> faults;
    for (const rules::Outcome& o : judgement.outcomes)
        if (o.verdict == rules::Verdict::fail || rules::is_grave_question(o))
            add_once(faults, {o.rule, o.at, o.part, o.set});
    return faults;
}

namespace {

Sized size_at_worst(const Situation& situation, const SizeOptions& options) {
    Sized sized = Sizing(situation, options).run();
    const bool stepped = std::any_of(sized.groups.begin(), sized.groups.end(), [](const SizedGroup& g) {
        return g.group.silent && g.after.area > g.before.area;
    });
    if (!stepped) return sized;
    // A step into what no table knows is taken if it is the last one: else it would be taken again and again.
    const Sized next = Sizing(sized.situation(situation.tables), options).run();
    const bool last = sized.proven && next.proven &&
                      std::all_of(next.groups.begin(), next.groups.end(),
                                  [](const SizedGroup& g) { return g.before == g.after; });
    if (last) return sized;
    const bool known = sized.proven && next.proven;
    sized = Sizing(situation, options, false).run();
    sized.proven = sized.proven && known;
    return sized;
}

}  // namespace

Sized size(const Situation& situation, const SizeOptions& options) {
    Sized sized = size_at_worst(situation, options);
    const bool changed = std::any_of(sized.groups.begin(), sized.groups.end(),
                                     [](const SizedGroup& g) { return !(g.before == g.after); });
    if (!situation.best || !changed) return sized;
    const Sized best = size_at_worst(*situation.best, options);
    for (std::size_t g = 0; g < std::min(sized.groups.size(), best.groups.size()); ++g)
        if (best.groups[g].after.area < sized.groups[g].after.area)
            sized.groups[g].at_best = best.groups[g].after;
    return sized;
}

std::vector<LongestCord> longest_cords(const Sized& sized, const tables::Catalogue& tables, Index element) {
    constexpr int most = 1000;  // tenths of a metre: far beyond what plan.implausible asks about
    const auto group = std::find_if(sized.groups.begin(), sized.groups.end(), [&](const SizedGroup& g) {
        return !g.group.protective &&
               std::find(g.group.cables.begin(), g.group.cables.end(), element) != g.group.cables.end();
    });
    std::vector<LongestCord> found;
    if (group == sized.groups.end()) return found;
    StockGroup as_sized = group->group;
    Trials trials(sized.situation(tables), {as_sized});
    const Found given = trials.look();
    const auto set_length = [&](int tenths) {
        trials.plan().elements[element].cable->length.value = tenths * 0.1 * unit::metre;
    };
    // What a shorter cord would cure is no excuse: only what fails at the shortest one too.
    set_length(1);
    const Found shortest = trials.look();
    const auto excused = [](const Found& before, const Fault& fault) {
        const auto there = before.find(fault);
        return there == before.end() ? Seen{} : there->second;
    };
    int guess = static_cast<int>(in(unit::metre, sized.network->branches[element].length) * 10);
    for (std::size_t k = 0; k < group->group.choices.size(); ++k) {
        trials.take({k});
        const auto holds = [&](int tenths) {
            set_length(tenths);
            for (const auto& [fault, seen] : trials.look()) {
                if (!bad(seen, fault.rule)) continue;
                for (const Found* before : {&given, &shortest}) {
                    const Seen was = excused(*before, fault);
                    if (seen.fails > was.fails || seen.undecided > was.undecided) return false;
                }
            }
            return true;
        };
        const auto mm2 = [](const Section& section) { return in(unit::mm2, section.area); };
        const double wider = found.empty() ? 1 : mm2(group->group.choices[k]) / mm2(found.back().section);
        const int good = longest_that_holds(holds, static_cast<int>(guess * wider), most);
        LongestCord cord{group->group.choices[k], std::nullopt, good == most};
        if (good > 0) cord.length = good * 0.1 * unit::metre;
        guess = std::max(1, good);
        found.push_back(cord);
    }
    return found;
}

}  // namespace benchfeed::advice
