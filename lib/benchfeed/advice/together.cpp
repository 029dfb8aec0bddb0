#include <benchfeed/advice/together.hpp>

#include <algorithm>
#include <map>
#include <numeric>

#include <benchfeed/rules/ends.hpp>

namespace benchfeed::advice {

using rules::Judgement;
using rules::Situation;
using rules::Verdict;

namespace {

std::size_t position_of(const Company& company, Index load) {
    return static_cast<std::size_t>(std::lower_bound(company.loads.begin(), company.loads.end(), load) -
                                    company.loads.begin());
}

const network::LoadPoint& point_of(const Situation& s, Index load) {
    return s.network.loads[s.network.load_of[load]];
}

bool draw_alike(const network::LoadPoint& a, const network::LoadPoint& b) {
    return a.current == b.current && a.draw == b.draw && a.power_factor_known == b.power_factor_known &&
           a.least_power_factor == b.least_power_factor && a.motor == b.motor && a.hours == b.hours &&
           a.electronic == b.electronic;
}

Loads loads_of(const Situation& s, const Company& company, const std::vector<Doubt>& doubts) {
    Loads loads;
    const std::size_t count = company.loads.size();
    std::vector<std::size_t> by_name(count);
    std::iota(by_name.begin(), by_name.end(), std::size_t{0});
    std::sort(by_name.begin(), by_name.end(), [&](std::size_t a, std::size_t b) {
        return s.plan[company.loads[a]].name < s.plan[company.loads[b]].name;
    });
    loads.name_rank.resize(count);
    for (std::size_t rank = 0; rank < count; ++rank) loads.name_rank[by_name[rank]] = rank;
    std::vector<int> joined_by(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
        std::vector<std::size_t> with;
        for (const Index load : company.joins[i]) {
            with.push_back(position_of(company, load));
            ++joined_by[with.back()];
        }
        loads.company.push_back(std::move(with));
        loads.amps.push_back(s.network.loads[s.network.load_of[company.loads[i]]].current);
    }
    // Who brings others along, or is brought along, or cannot be judged, is nobody's equal.
    for (std::size_t i = 0; i < count; ++i) {
        const bool alone = loads.company[i].size() == 1 && joined_by[i] == 1 && !doubts[i].open;
        std::size_t kind = i;
        for (std::size_t k = 0; alone && k < i; ++k)
            if (loads.kind[k] == k && loads.company[k].size() == 1 && joined_by[k] == 1 && !doubts[k].open &&
                draw_alike(point_of(s, company.loads[i]), point_of(s, company.loads[k]))) {
                kind = k;
                break;
            }
        loads.kind.push_back(kind);
    }
    for (const Index load : company.always) loads.always.push_back(position_of(company, load));
    return loads;
}

Together in_words(Family::Answer answer, bool open) {
    if (answer == Family::Answer::turns) return Together::turns;
    if (answer == Family::Answer::forbidden) return Together::no;
    return open ? Together::cannot_judge : Together::yes;
}

class Answering {
public:
    Answering(const Situation& s, const Judgement& judgement, const TogetherOptions& options)
        : s_(s),
          judgement_(judgement),
          options_(options),
          company_(company_of(s.plan)),
          doubts_(doubts_of(s, judgement, company_)),
          family_(loads_of(s, company_, doubts_), conditions_of(s, judgement, company_)) {
        // Few words of a plan move no limit.
        plan::Facts open = s.best ? rules::open_facts(s) : plan::Facts{};
        for (const auto word : {plan::Fact::latched, plan::Fact::protection_class, plan::Fact::overload})
            open = open.without(plan::Facts::only(word));
        if (!open.none())
            surely_.emplace(loads_of(*s.best, company_, doubts_),
                            conditions_of(*s.best, rules::judge(*s.best), company_));
    }

    TogetherAnswer answer() {
        TogetherAnswer answer;
        answer.pairs = pairs();
        for (const Entry& entry : family_.entries())
            if (entry.loads.size() > 1) answer.equals.push_back(elements(entry.loads));
        const bool always = family_.ask({}) == Family::Answer::forbidden;
        answer.always_perhaps = always && !surely_forbidden({});
        if (always && !answer.always_perhaps) {
            answer.always_broken = broken({});
        } else {
            if (!always && !always_open())
                answer.largest = in_elements(
                    family_, family_.largest(options_.most_sets, options_.most_steps, open_loads()), false);
            const Family& forbids = always ? *surely_ : family_;
            answer.forbidden = in_elements(
                forbids, forbids.smallest_forbidden(options_.most_sets, options_.most_steps), true);
        }
        for (Index set = 0; set < s_.plan.sets.size(); ++set) answer.sets.push_back(plan_set(set));
        for (const rules::Outcome& o : judgement_.outcomes)
            if (o.verdict == Verdict::fail && o.set == rules::no_set) ++answer.fails_whatever_runs;
        answer.company = std::move(company_);
        answer.doubts = std::move(doubts_);
        return answer;
    }

private:
    [[nodiscard]] std::vector<Index> elements(const std::vector<std::size_t>& positions) const {
        std::vector<Index> found;
        for (const std::size_t position : positions) found.push_back(company_.loads[position]);
        std::sort(found.begin(), found.end());
        return found;
    }
    [[nodiscard]] bool any_open(const std::vector<std::size_t>& positions) const {
        return std::any_of(positions.begin(), positions.end(),
                           [&](std::size_t position) { return doubts_[position].open; });
    }
    [[nodiscard]] bool always_open() const {
        return any_open(family_.running({})) || family_.ask({}) == Family::Answer::forbidden;
    }
    /// Too much at the best of what nobody gave as well.
    [[nodiscard]] bool surely_forbidden(const std::vector<std::size_t>& chosen) const {
        return !surely_ || surely_->ask(chosen) == Family::Answer::forbidden;
    }
    /// Loads that bring a doubt along.
    [[nodiscard]] std::vector<bool> open_loads() const {
        std::vector<bool> open;
        for (std::size_t i = 0; i < company_.loads.size(); ++i)
            open.push_back(any_open(family_.loads().company[i]));
        return open;
    }

    [[nodiscard]] std::vector<std::vector<Together>> pairs() const {
        const std::size_t count = company_.loads.size();
        const std::vector<bool> open = open_loads();
        const bool always = always_open();
        auto answers = family_.pairs();
        const auto surely = surely_ ? surely_->pairs() : answers;
        std::vector<std::vector<Together>> table(count, std::vector<Together>(count));
        for (std::size_t a = 0; a < count; ++a)
            for (std::size_t b = 0; b < count; ++b) {
                const bool perhaps =
                    answers[a][b] == Family::Answer::forbidden && surely[a][b] != Family::Answer::forbidden;
                table[a][b] =
                    perhaps ? Together::cannot_judge : in_words(answers[a][b], always || open[a] || open[b]);
            }
        return table;
    }

    [[nodiscard]] std::optional<Broken> broken(const std::vector<std::size_t>& chosen) const {
        const auto all = elements(family_.running(chosen));
        return worst_broken(s_, judgement_, family_.broken_marks(chosen), all);
    }

    /// Loads in turns that may start by themselves beside what is chosen, and would be too much or may be.
    [[nodiscard]] std::vector<Index> not_beside(const std::vector<std::size_t>& chosen) const {
        std::vector<Index> found;
        for (std::size_t i = 0; i < company_.loads.size(); ++i) {
            const Index load = company_.loads[i];
            const auto& starts = s_.plan[load].as<plan::Load>()->self_starting;
            if (!starts.is(true) && !starts.stated_unknown) continue;
            if (std::binary_search(company_.always.begin(), company_.always.end(), load)) continue;
            if (std::find(chosen.begin(), chosen.end(), i) != chosen.end()) continue;
            std::vector<std::size_t> with = chosen;
            with.push_back(i);
            const auto beside = family_.ask(with);
            if (beside == Family::Answer::forbidden ||
                (beside == Family::Answer::allowed && any_open(family_.running(with))))
                found.push_back(load);
        }
        return found;
    }

    [[nodiscard]] ChosenSets in_elements(const Family& family, const SetList& list, bool forbidden) const {
        ChosenSets sets;
        sets.more = list.more;
        sets.stopped = list.stopped;
        for (const EntrySet& set : list.sets) {
            ChosenSet chosen;
            const auto positions = family.loads_of(set);
            chosen.loads = elements(positions);
            chosen.running = elements(family.running(positions));
            std::map<std::size_t, std::size_t> count;
            for (const std::size_t entry : set) ++count[entry];
            for (const auto& [entry, times] : count)
                chosen.choices.push_back({elements(family.entries()[entry].loads), times});
            for (const std::size_t position : positions) chosen.amps += family.loads().amps[position];
            if (forbidden) {
                chosen.broken = broken(positions);
                chosen.certain = surely_forbidden(positions);
            }
            if (!forbidden) chosen.not_beside = not_beside(positions);
            sets.sets.push_back(std::move(chosen));
        }
        return sets;
    }

    /// The set as check judges it, whatever its loads would bring along by themselves.
    [[nodiscard]] PlanSet plan_set(Index set) const {
        PlanSet result;
        result.set = set;
        const auto& loads = s_.plan.sets[set].loads;
        std::vector<std::size_t> failing;
        for (const rules::Outcome& o : judgement_.outcomes) {
            if (o.set != set) continue;
            if (o.verdict == Verdict::fail) {
                result.answer = Together::no;
                if (o.limit != plan::nowhere) failing.push_back(o.limit);
            }
            if (rules::is_grave_question(o) && result.answer == Together::yes)
                result.answer = Together::cannot_judge;
        }
        for (const Index load : loads)
            if (doubts_[position_of(company_, load)].open && result.answer == Together::yes)
                result.answer = Together::cannot_judge;
        result.broken = worst_broken(s_, judgement_, failing, loads);
        result.weakest = judgement_.weakest[set];
        if (result.weakest.limit == plan::nowhere) return result;
        const rules::Limit& limit = judgement_.limits[result.weakest.limit];
        result.value = std::get<Current>(rules::evaluate(s_, limit, loads).value);
        result.left = Current(std::get<Current>(limit.edge) - *result.value);
        result.watts_left = Power(*result.left * volts_at(s_, limit.at.index));
        return result;
    }

    Situation s_;
    const Judgement& judgement_;
    TogetherOptions options_;
    Company company_;
    std::vector<Doubt> doubts_;
    Family family_;
    std::optional<Family> surely_;  ///< with what nobody gave at its best; nothing: the same
};

}  // namespace

Voltage volts_at(const Situation& s, Index element) {
    const plan::Supply& supply = s.plan.supply_of(element);
    const auto conductors = s.plan[element].conductors.value_or(plan::Conductors{});
    if (conductors.has(plan::Conductor::n))
        return magnitude(network::nominal_voltage(supply, plan::Conductor::l1));
    return network::nominal_between(supply, conductors);
}

bool TogetherAnswer::declared_sets_fit() const {
    return std::all_of(sets.begin(), sets.end(),
                       [](const PlanSet& set) { return set.answer == Together::yes; });
}

TogetherAnswer together(const Situation& situation, const Judgement& judgement,
                        const TogetherOptions& options) {
    return Answering(situation, judgement, options).answer();
}

}  // namespace benchfeed::advice
