#include "advice/family.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace benchfeed::advice {

namespace {

/// Conditions that are tried as the reason why another one can never be broken.
constexpr std::size_t most_reasons = 16;

double sum_of(const std::vector<double>& numbers) {
    return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

/// The most that a sum can reach while another one stays within 1: loads taken by what they add to the one
/// for what they take of the other, the last one in part.
double most_while(double base, const std::vector<double>& gains, double taken,
                  const std::vector<double>& costs) {
    struct Item {
        double gain, cost;
    };
    std::vector<Item> items;
    double sum = base;
    for (std::size_t i = 0; i < gains.size(); ++i) {
        if (gains[i] <= 0) continue;
        if (costs[i] > 0)
            items.push_back({gains[i], costs[i]});
        else
            sum += gains[i];
    }
    std::sort(items.begin(), items.end(),
              [](const Item& a, const Item& b) { return a.gain * b.cost > b.gain * a.cost; });
    double room = 1 - taken;
    for (const Item& item : items) {
        if (room <= 0) break;
        const double part = std::min(1.0, room / item.cost);
        sum += part * item.gain;
        room -= part * item.cost;
    }
    return sum;
}

/// The same law over some of the loads of another one, and over more room: it holds whenever that holds.
bool part_of(const Condition& part, const Condition& whole) {
    if (part.law == 0 || part.law != whole.law || part.least.size() != whole.least.size() ||
        part.least.empty() || part.base > whole.base || !whole.needs.empty())
        return false;
    double scale = -1;
    for (std::size_t i = 0; i < part.most.size(); ++i) {
        if (part.most[i] == 0) continue;
        if (whole.most[i] == 0) return false;
        const double here = part.most[i] / whole.most[i];
        if (here > 1 + 1e-12 || (scale >= 0 && std::abs(here - scale) > 1e-12)) return false;
        scale = here;
        for (std::size_t row = 0; row < part.least.size(); ++row)
            if (std::abs(part.least[row][i] - scale * whole.least[row][i]) > 1e-12) return false;
    }
    return true;
}

/// What `other` asks for is granted by `reason`: its loads cannot come to more while that holds.
bool follows(const Condition& other, const Condition& reason) {
    if (part_of(other, reason)) return true;
    return std::any_of(reason.least.begin(), reason.least.end(), [&](const std::vector<double>& costs) {
        return most_while(other.base, other.most, reason.base, costs) <= 1;
    });
}

double tightness(const Condition& c) {
    double most = 0;
    for (const auto& row : c.least) most = std::max(most, c.base + sum_of(row));
    return most;
}

}  // namespace

/// The loads that run at one point of a search, and how much of each condition they use.
class Search {
public:
    explicit Search(const Family& family)
        : family_(family), running_(family.loads_.company.size(), 0), sums_(family.base_) {
        for (const std::size_t load : family.loads_.always) add(load);
    }

    void add(std::size_t load) {
        for (const std::size_t one : family_.loads_.company[load])
            if (running_[one]++ == 0) count(one, 1);
    }
    void remove(std::size_t load) {
        for (const std::size_t one : family_.loads_.company[load])
            if (--running_[one] == 0) count(one, -1);
    }
    [[nodiscard]] bool runs(std::size_t load) const { return running_[load] > 0; }
    /// Sum of `most` of a condition; of a row of its `least`.
    [[nodiscard]] double used(std::size_t condition) const { return sums_[family_.first_sum_[condition]]; }
    [[nodiscard]] double used(std::size_t condition, std::size_t row) const {
        return sums_[family_.first_sum_[condition] + 1 + row];
    }

    [[nodiscard]] bool broken(std::size_t index) const {
        const Condition& c = family_.conditions_[index];
        if (used(index) <= 1) return false;
        for (const std::size_t needed : c.needs)
            if (running_[needed] == 0) return false;
        if (c.exact) return true;
        double row = 0;
        for (std::size_t i = 0; i < c.least.size(); ++i) row = std::max(row, used(index, i));
        if (row > 1) return true;
        if (c.surely > 0 && row <= c.surely) return false;
        return !c.holds(list());
    }
    /// Turns first: what cannot run at all forbids nothing.
    [[nodiscard]] Family::Answer answer() const {
        auto answer = Family::Answer::allowed;
        for (std::size_t i = 0; i < family_.conditions_.size(); ++i) {
            if (answer == Family::Answer::forbidden && !family_.conditions_[i].turns) continue;
            if (!broken(i)) continue;
            if (family_.conditions_[i].turns) return Family::Answer::turns;
            answer = Family::Answer::forbidden;
        }
        return answer;
    }
    [[nodiscard]] std::vector<std::size_t> list() const {
        std::vector<std::size_t> loads;
        for (std::size_t i = 0; i < running_.size(); ++i)
            if (running_[i] > 0) loads.push_back(i);
        return loads;
    }

private:
    void count(std::size_t load, int sign) {
        const auto& shares = family_.shares_[load];
        for (std::size_t i = 0; i < shares.size(); ++i) sums_[i] += sign * shares[i];
    }

    const Family& family_;
    std::vector<int> running_;
    std::vector<double> sums_;
};

namespace {

/// What the entries from a place on can add to a condition, or in amps, in so many loads.
class Outlook {
public:
    /// Beyond so many loads all that is left counts.
    static std::size_t deepest(std::size_t entries) { return entries > 200 ? 12 : 64; }

    Outlook() = default;
    Outlook(const std::vector<Entry>& entries, const std::function<double(std::size_t)>& of_load) {
        sums_.resize(entries.size() + 1);
        std::vector<double> sorted;
        sums_[entries.size()] = {0};
        for (std::size_t at = entries.size(); at-- > 0;) {
            for (const std::size_t load : entries[at].loads) {
                const double gain = std::max(0.0, of_load(load));
                sorted.insert(std::upper_bound(sorted.begin(), sorted.end(), gain, std::greater<>()), gain);
            }
            auto& sums = sums_[at];
            sums.push_back(0);
            const std::size_t most = std::min(sorted.size(), deepest(entries.size()));
            for (std::size_t k = 0; k < most; ++k) sums.push_back(sums.back() + sorted[k]);
            if (sorted.size() > most) sums.push_back(sum_of(sorted));
        }
    }
    [[nodiscard]] double most(std::size_t from, std::size_t loads) const {
        const auto& sums = sums_[from];
        return sums[std::min(loads, sums.size() - 1)];
    }

private:
    std::vector<std::vector<double>> sums_;
};

}  // namespace

// ---- enumeration --------------------------------------------------------------------------------------

/// Depth first over the entries; sets of one size at a time, the best kept.
class Enumeration {
public:
    Enumeration(const Family& family, std::size_t want, std::size_t most_steps, std::vector<bool> left_out)
        : family_(family),
          want_(want),
          steps_left_(most_steps),
          left_out_(std::move(left_out)),
          search_(family) {
        const auto& entries = family.entries();
        // A load brings its company: all of it counts in what is still to come.
        for (const Condition& c : conditions()) {
            outlooks_.emplace_back(entries, [&](std::size_t load) { return gain(c.most, load); });
            auto& rows = row_outlooks_.emplace_back();
            if (c.surely > 0)
                for (const auto& row : c.least)
                    rows.emplace_back(entries, [&](std::size_t load) { return gain(row, load); });
        }
        amps_ = Outlook(entries, [&](std::size_t load) { return amps_of(load); });
    }

    SetList run(bool forbidden) {
        SetList list;
        std::size_t total = 0;
        for (const Entry& entry : family_.entries()) total += usable(entry) ? entry.loads.size() : 0;
        for (std::size_t size = 1; size <= total && found_.size() <= want_ && !stopped_; ++size) {
            level_.clear();
            keep_ = want_ + 1 - found_.size();
            chosen_.clear();
            amount_ = 0;
            if (forbidden)
                find_forbidden(0, size);
            else
                find_largest(0, size);
            found_.insert(found_.end(), level_.begin(), level_.end());
        }
        list.more = found_.size() > want_;
        list.stopped = stopped_;
        if (list.more) found_.resize(want_);
        for (Found& one : found_) list.sets.push_back(std::move(one.set));
        return list;
    }

private:
    struct Found {
        std::int64_t amps;  ///< in millionths: equal sums stay equal whatever the order of adding
        std::vector<std::size_t> names;
        EntrySet set;
    };
    struct Better {
        bool operator()(const Found& a, const Found& b) const {
            if (a.amps != b.amps) return a.amps > b.amps;
            return a.names < b.names;
        }
    };

    [[nodiscard]] const std::vector<Condition>& conditions() const { return family_.conditions(); }
    [[nodiscard]] const Loads& loads() const { return family_.loads(); }
    [[nodiscard]] bool usable(const Entry& entry) const {
        return left_out_.empty() || std::none_of(entry.loads.begin(), entry.loads.end(),
                                                 [&](std::size_t load) { return left_out_[load]; });
    }
    [[nodiscard]] double gain(const std::vector<double>& shares, std::size_t load) const {
        double sum = 0;
        for (const std::size_t one : loads().company[load]) sum += std::max(0.0, shares[one]);
        return sum;
    }
    [[nodiscard]] double amps_of(std::size_t load) const { return in(unit::ampere, loads().amps[load]); }

    [[nodiscard]] std::size_t taken(std::size_t entry) const {
        return static_cast<std::size_t>(std::count(chosen_.begin(), chosen_.end(), entry));
    }
    [[nodiscard]] std::size_t next_load(std::size_t entry) const {
        return family_.entries()[entry].loads[taken(entry)];
    }
    void take(std::size_t entry) {
        const std::size_t load = next_load(entry);
        search_.add(load);
        amount_ += amps_of(load);
        chosen_.push_back(entry);
    }
    void give_back() {
        const std::size_t entry = chosen_.back();
        chosen_.pop_back();
        const std::size_t load = next_load(entry);
        search_.remove(load);
        amount_ -= amps_of(load);
    }

    bool step() {
        if (steps_left_ == 0) stopped_ = true;
        if (stopped_) return false;
        --steps_left_;
        return true;
    }
    /// Nothing from here on can displace what is kept already.
    [[nodiscard]] bool too_few_amps(std::size_t from, std::size_t left) const {
        return level_.size() == keep_ &&
               std::llround((amount_ + amps_.most(from, left)) * 1e6) < level_.rbegin()->amps;
    }
    void keep() {
        Found found{std::llround(amount_ * 1e6), {}, chosen_};
        for (const std::size_t load : family_.loads_of(chosen_))
            found.names.push_back(loads().name_rank[load]);
        std::sort(found.names.begin(), found.names.end());
        level_.insert(std::move(found));
        if (level_.size() > keep_) level_.erase(std::prev(level_.end()));
    }

    /// A load of the entry cannot join what runs now.
    bool shut_out(std::size_t entry) {
        const std::size_t load = next_load(entry);
        search_.add(load);
        const bool refused = search_.answer() != Family::Answer::allowed;
        search_.remove(load);
        return refused;
    }
    /// Loads that are still to come: so many, of the entries from a place on.
    struct Ahead {
        std::size_t from, left;
    };
    /// They, beside one that is given, may break a condition.
    [[nodiscard]] bool may_break(std::size_t c, Ahead ahead, const std::size_t* beside) const {
        const Condition& condition = conditions()[c];
        const auto more = [&](const std::vector<double>& shares) {
            return beside ? gain(shares, *beside) : 0.0;
        };
        if (search_.used(c) + more(condition.most) + outlooks_[c].most(ahead.from, ahead.left) <= 1)
            return false;
        for (std::size_t row = 0; row < row_outlooks_[c].size(); ++row)
            if (search_.used(c, row) + more(condition.least[row]) +
                    row_outlooks_[c][row].most(ahead.from, ahead.left) >
                condition.surely)
                return true;
        return row_outlooks_[c].empty();
    }
    /// They may still come to shut an entry out.
    [[nodiscard]] bool may_be_shut_out(std::size_t entry, Ahead ahead) const {
        const std::size_t load = next_load(entry);
        for (std::size_t c = 0; c < outlooks_.size(); ++c)
            if (may_break(c, ahead, &load)) return true;
        return false;
    }
    [[nodiscard]] bool may_break_any(Ahead ahead) const {
        for (std::size_t c = 0; c < outlooks_.size(); ++c)
            if (!conditions()[c].turns && may_break(c, ahead, nullptr)) return true;
        return false;
    }

    void find_largest(std::size_t from, std::size_t left) {
        if (!step()) return;
        const auto& entries = family_.entries();
        if (left == 0) {
            for (std::size_t e = 0; e < entries.size(); ++e)
                if (usable(entries[e]) && taken(e) < entries[e].loads.size() && !shut_out(e)) return;
            keep();
            return;
        }
        if (from == entries.size() || too_few_amps(from, left)) return;
        for (std::size_t e = 0; e < from; ++e)
            if (usable(entries[e]) && taken(e) < entries[e].loads.size() && !may_be_shut_out(e, {from, left}))
                return;
        if (!usable(entries[from])) return find_largest(from + 1, left);
        std::size_t took = 0;
        while (took < std::min(left, entries[from].loads.size())) {
            take(from);
            ++took;
            if (search_.answer() != Family::Answer::allowed) {
                give_back();
                --took;
                break;
            }
        }
        for (;; --took) {
            find_largest(from + 1, left - took);
            if (took == 0 || stopped_) break;
            give_back();
        }
        for (; took > 0; --took) give_back();
    }

    /// Without any one of its loads the rest is allowed.
    bool least_forbidden() {
        for (std::size_t i = 0; i < chosen_.size(); ++i) {
            if (i > 0 && chosen_[i] == chosen_[i - 1]) continue;  // the same entry: as good as its first
            const std::size_t load = family_.entries()[chosen_[i]].loads[taken(chosen_[i]) - 1];
            search_.remove(load);
            const auto rest = search_.answer();
            search_.add(load);
            if (rest != Family::Answer::allowed) return false;
        }
        return true;
    }

    void find_forbidden(std::size_t from, std::size_t left) {
        if (!step() || !may_break_any({from, left}) || too_few_amps(from, left)) return;
        const auto& entries = family_.entries();
        for (std::size_t e = from; e < entries.size() && !stopped_; ++e) {
            if (!usable(entries[e]) || taken(e) == entries[e].loads.size()) continue;
            take(e);
            const auto answer = search_.answer();
            if (left > 1 && answer == Family::Answer::allowed) find_forbidden(e, left - 1);
            if (left == 1 && answer == Family::Answer::forbidden && least_forbidden()) keep();
            give_back();
        }
    }

    const Family& family_;
    std::size_t want_, steps_left_;
    std::vector<bool> left_out_;
    Search search_;
    std::vector<Outlook> outlooks_;
    std::vector<std::vector<Outlook>> row_outlooks_;
    Outlook amps_;
    std::vector<Found> found_;
    std::multiset<Found, Better> level_;  ///< of the size at hand, no more than are still wanted
    std::size_t keep_ = 0;
    EntrySet chosen_;
    double amount_ = 0;
    bool stopped_ = false;
};

// ---- the family ---------------------------------------------------------------------------------------

Family::Family(Loads loads, std::vector<Condition> conditions)
    : loads_(std::move(loads)), conditions_(std::move(conditions)) {
    drop_idle_conditions();
    make_entries();
    shares_.resize(loads_.company.size());
    for (const Condition& c : conditions_) {
        first_sum_.push_back(base_.size());
        base_.insert(base_.end(), 1 + c.least.size(), c.base);
        for (std::size_t load = 0; load < shares_.size(); ++load) {
            shares_[load].push_back(c.most[load]);
            for (const auto& row : c.least) shares_[load].push_back(row[load]);
        }
    }
}

/// A condition that holds whatever runs, or whenever another one holds, decides nothing.
void Family::drop_idle_conditions() {
    std::erase_if(conditions_, [](const Condition& c) { return c.base + sum_of(c.most) <= 1; });
    std::vector<std::size_t> reasons;  // the tightest first; a reason must say what loads add at least
    for (std::size_t i = 0; i < conditions_.size(); ++i)
        if (conditions_[i].needs.empty() && !conditions_[i].turns && !conditions_[i].least.empty())
            reasons.push_back(i);
    std::vector<double> tight;
    for (const Condition& c : conditions_) tight.push_back(tightness(c));
    std::stable_sort(reasons.begin(), reasons.end(),
                     [&](std::size_t a, std::size_t b) { return tight[a] > tight[b] * (1 + 1e-9); });
    std::vector<bool> idle(conditions_.size(), false);
    std::size_t tried = 0;
    for (const std::size_t reason : reasons) {
        if (idle[reason]) continue;
        if (tried++ == most_reasons) break;
        for (std::size_t i = 0; i < conditions_.size(); ++i)
            if (i != reason && !idle[i] && !conditions_[i].turns &&
                follows(conditions_[i], conditions_[reason]))
                idle[i] = true;
    }
    std::size_t kept = 0;
    for (std::size_t i = 0; i < conditions_.size(); ++i) {
        if (idle[i]) continue;
        if (kept != i) conditions_[kept] = std::move(conditions_[i]);
        ++kept;
    }
    conditions_.resize(kept);
}

/// Changing the one for the other changes nothing: in conditions that need neither both add the same, and
/// what needs the one has a twin that needs the other.
bool Family::interchangeable(std::size_t a, std::size_t b) const {
    if (loads_.kind[a] != loads_.kind[b]) return false;
    const auto same = [](double x, double y) {
        return std::abs(x - y) <= 1e-12 * (std::abs(x) + std::abs(y));
    };
    const auto needs = [](const Condition& c, std::size_t load) {
        return std::find(c.needs.begin(), c.needs.end(), load) != c.needs.end();
    };
    const auto twin = [&](const Condition& c, const Condition& d) {  // c with a in the place of b is d
        if (d.needs.size() != c.needs.size() || !same(c.base, d.base) || c.exact != d.exact) return false;
        for (const std::size_t needed : c.needs)
            if (!needs(d, needed == a ? b : needed)) return false;
        for (std::size_t i = 0; i < c.most.size(); ++i)
            if (!same(c.most[i], d.most[i == a ? b : i == b ? a : i])) return false;
        return true;
    };
    for (const Condition& c : conditions_) {
        const bool of_a = needs(c, a), of_b = needs(c, b);
        if (of_a && of_b) return false;
        if (!of_a && !of_b) {
            if (!same(c.most[a], c.most[b])) return false;
            continue;
        }
        const auto mirrored = [&](const Condition& d) { return of_a ? twin(c, d) : twin(d, c); };
        if (std::none_of(conditions_.begin(), conditions_.end(), mirrored)) return false;
    }
    return true;
}

void Family::make_entries() {
    std::vector<std::size_t> order;
    const std::set<std::size_t> always(loads_.always.begin(), loads_.always.end());
    for (std::size_t i = 0; i < loads_.company.size(); ++i)
        if (!always.contains(i)) order.push_back(i);
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        if (loads_.amps[a] != loads_.amps[b]) return loads_.amps[a] > loads_.amps[b];
        return loads_.name_rank[a] < loads_.name_rank[b];
    });
    for (const std::size_t load : order) {
        const auto there = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) {
            return interchangeable(entry.loads.front(), load);
        });
        if (there == entries_.end())
            entries_.push_back({{load}});
        else
            there->loads.push_back(load);
    }
}

std::vector<std::size_t> Family::running(std::span<const std::size_t> chosen) const {
    Search search(*this);
    for (const std::size_t load : chosen) search.add(load);
    return search.list();
}

Family::Answer Family::ask(std::span<const std::size_t> chosen) const {
    Search search(*this);
    for (const std::size_t load : chosen) search.add(load);
    return search.answer();
}

std::vector<std::size_t> Family::broken_marks(std::span<const std::size_t> chosen) const {
    Search search(*this);
    for (const std::size_t load : chosen) search.add(load);
    std::vector<std::size_t> marks;
    for (std::size_t i = 0; i < conditions_.size(); ++i)
        if (!conditions_[i].turns && search.broken(i)) marks.push_back(conditions_[i].mark);
    return marks;
}

std::vector<std::size_t> Family::loads_of(const EntrySet& set) const {
    std::vector<std::size_t> loads;
    std::size_t again = 0;
    for (std::size_t i = 0; i < set.size(); ++i) {
        again = i > 0 && set[i] == set[i - 1] ? again + 1 : 0;
        loads.push_back(entries_[set[i]].loads[again]);
    }
    return loads;
}

SetList Family::largest(std::size_t want, std::size_t most_steps, const std::vector<bool>& left_out) const {
    return Enumeration(*this, want, most_steps, left_out).run(false);
}

SetList Family::smallest_forbidden(std::size_t want, std::size_t most_steps) const {
    return Enumeration(*this, want, most_steps, {}).run(true);
}

}  // namespace benchfeed::advice
