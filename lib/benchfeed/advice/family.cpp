#include <benchfeed/advice/family.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include <benchfeed/advice/family_search.hpp>

namespace benchfeed::advice {

namespace {

/// Conditions that are tried as the reason why another one can never be broken.
constexpr std::size_t most_reasons = 16;

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
    return enumerate(*this, want, most_steps, left_out, false);
}

SetList Family::smallest_forbidden(std::size_t want, std::size_t most_steps) const {
    return enumerate(*this, want, most_steps, {}, true);
}

}  // namespace benchfeed::advice
