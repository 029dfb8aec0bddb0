#include <benchfeed/advice/family.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include <benchfeed/advice/family_search.hpp>

namespace benchfeed::advice {

namespace {

/// Conditions that are tried as the reason why another one can never be broken, and what that may take, in
/// shares looked at: many loads are searched sooner than compared.
constexpr std::size_t most_reasons = 16, most_compared = 20'000'000;

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
    for (std::size_t i = 0; i < part.unsure.size(); ++i)
        if (part.unsure[i] && !(i < whole.unsure.size() && whole.unsure[i])) return false;
    if (part.law == 0 || part.law != whole.law || part.base > whole.base || !whole.needs.empty())
        return false;
    const bool phasors = !part.phasors.empty() && !whole.phasors.empty();
    if (!phasors && (part.least.size() != whole.least.size() || part.least.empty())) return false;
    double scale = -1;
    for (std::size_t i = 0; i < part.most.size(); ++i) {
        if (part.most[i] == 0) continue;
        if (whole.most[i] == 0) return false;
        const double here = part.most[i] / whole.most[i];
        if (here > 1 + 1e-12 || (scale >= 0 && std::abs(here - scale) > 1e-12)) return false;
        scale = here;
        if (phasors && std::abs(part.phasors[i] - scale * whole.phasors[i]) > 1e-12) return false;
        for (std::size_t row = 0; !phasors && row < part.least.size(); ++row)
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

double Sway::towards(double direction) const {
    if (size == 0) return 0;
    const double beyond = std::abs(std::remainder(direction - middle, 2 * std::numbers::pi)) - half;
    return beyond <= 0 ? size : size * std::max(0.0, std::cos(std::min(beyond, std::numbers::pi)));
}

Family::Family(Loads loads, std::vector<Condition> conditions)
    : loads_(std::move(loads)), conditions_(std::move(conditions)) {
    drop_idle_conditions();
    find_needs();
    make_entries();
    lay_out_sums();
}

void Family::lay_out_sums() {
    for (const Condition& c : conditions_) {
        const std::size_t rows = c.exact ? 0 : !c.spread.empty() ? directions : c.least.size();
        Sums at{base_.size(), base_.size() + 1, rows, no_sum, no_sum, no_sum};
        base_.insert(base_.end(), 1 + at.row_count, c.base);
        if (!c.phasors.empty()) {
            at.phasor = base_.size();
            base_.insert(base_.end(), 2, 0.0);
        }
        if (!c.unsure.empty()) {
            at.unsure = base_.size();
            base_.push_back(0);
        }
        if (c.triplen > 0) {
            at.harmonics = base_.size();
            base_.insert(base_.end(), c.harmonics.size(), 0.0);
        }
        sums_.push_back(at);
    }
    shares_.assign(loads_.company.size(), std::vector<double>(base_.size(), 0.0));
    for (std::size_t i = 0; i < conditions_.size(); ++i) {
        const Condition& c = conditions_[i];
        const Sums& at = sums_[i];
        for (std::size_t load = 0; load < shares_.size(); ++load) {
            auto& share = shares_[load];
            share[at.most] = c.most[load];
            for (std::size_t row = 0; row < at.row_count; ++row)
                share[at.rows + row] =
                    c.spread.empty() ? c.least[row][load] : c.spread[load].towards(direction_of(row));
            for (std::size_t l = 0; at.harmonics != no_sum && l < c.harmonics.size(); ++l)
                share[at.harmonics + l] = c.harmonics[l][load];
            if (at.phasor != no_sum) {
                share[at.phasor] = c.phasors[load].real();
                share[at.phasor + 1] = c.phasors[load].imag();
            }
            if (at.unsure != no_sum) share[at.unsure] = c.unsure[load] ? 1 : 0;
        }
    }
}

void Family::find_needs() {
    needing_.resize(loads_.company.size());
    for (std::size_t i = 0; i < conditions_.size(); ++i)
        for (const std::size_t load : conditions_[i].needs) needing_[load].push_back(i);
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
    std::size_t tried = 0, compared = 0;
    for (const std::size_t reason : reasons) {
        if (idle[reason]) continue;
        const auto& rows = conditions_[reason].least;
        compared += conditions_.size() * rows.size() * rows.front().size();
        if (tried++ == most_reasons || (tried > 1 && compared > most_compared)) break;
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

namespace {

bool same(double x, double y) {
    return std::abs(x - y) <= 1e-12 * (std::abs(x) + std::abs(y));
}
bool same(const std::complex<double>& x, const std::complex<double>& y) {
    return std::abs(x - y) <= 1e-12 * (std::abs(x) + std::abs(y));
}
bool needs(const Condition& c, std::size_t load) {
    return std::find(c.needs.begin(), c.needs.end(), load) != c.needs.end();
}

/// Loads a and b add the same to it.
bool alike_in(const Condition& c, std::size_t a, std::size_t b) {
    return same(c.most[a], c.most[b]) && (c.phasors.empty() || same(c.phasors[a], c.phasors[b])) &&
           (c.unsure.empty() || c.unsure[a] == c.unsure[b]);
}

/// With a in the place of b and b in that of a the one condition is the other.
bool mirrored(const Condition& c, const Condition& d, std::size_t a, std::size_t b) {
    const auto other = [&](std::size_t load) { return load == a ? b : load == b ? a : load; };
    if (d.needs.size() != c.needs.size() || !same(c.base, d.base) || c.exact != d.exact ||
        !same(c.sent, d.sent) || c.phasors.size() != d.phasors.size())
        return false;
    for (const std::size_t needed : c.needs)
        if (!needs(d, other(needed))) return false;
    for (std::size_t i = 0; i < c.most.size(); ++i)
        if (!same(c.most[i], d.most[other(i)]) ||
            (!c.phasors.empty() && !same(c.phasors[i], d.phasors[other(i)])))
            return false;
    return true;
}

}  // namespace

/// Changing the one for the other changes nothing: in conditions that need neither both add the same, and
/// what needs the one has a twin that needs the other.
bool Family::interchangeable(std::size_t a, std::size_t b) const {
    if (loads_.kind[a] != loads_.kind[b] || needing_[a].size() != needing_[b].size()) return false;
    const auto has_twin = [&](std::size_t c, const std::vector<std::size_t>& among) {
        return std::any_of(among.begin(), among.end(),
                           [&](std::size_t d) { return mirrored(conditions_[c], conditions_[d], a, b); });
    };
    for (const std::size_t c : needing_[a])
        if (needs(conditions_[c], b) || !has_twin(c, needing_[b])) return false;
    for (const std::size_t c : needing_[b])
        if (!has_twin(c, needing_[a])) return false;
    for (const Condition& c : conditions_)
        if (!needs(c, a) && !needs(c, b) && !alike_in(c, a, b)) return false;
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

std::vector<std::vector<Family::Answer>> Family::pairs() const {
    constexpr double nearly = 1 - 1e-12;  // sums of the same shares in another order
    const std::size_t count = loads_.company.size();
    std::vector<std::vector<Answer>> table(count, std::vector<Answer>(count, Answer::allowed));
    const auto gain = [&](std::size_t c, std::size_t load) {
        double sum = 0;
        for (const std::size_t one : loads_.company[load]) sum += std::max(0.0, conditions_[c].most[one]);
        return sum;
    };
    std::vector<double> most_gain(conditions_.size(), 0.0);
    for (std::size_t c = 0; c < conditions_.size(); ++c)
        for (std::size_t load = 0; load < count; ++load) most_gain[c] = std::max(most_gain[c], gain(c, load));
    Search search(*this);
    for (std::size_t a = 0; a < count; ++a) {
        search.add(a);
        table[a][a] = search.answer();
        std::vector<std::size_t> near;  // what counts already, and one load more could break
        for (std::size_t c = 0; c < conditions_.size(); ++c) {
            const auto& needed = conditions_[c].needs;
            const auto runs = [&](std::size_t load) { return search.runs(load); };
            if (search.used(c) + most_gain[c] > nearly && std::all_of(needed.begin(), needed.end(), runs))
                near.push_back(c);
        }
        const auto may_break = [&](std::size_t b) {
            const auto breaks = [&](std::size_t c) { return search.used(c) + gain(c, b) > nearly; };
            if (std::any_of(near.begin(), near.end(), breaks)) return true;
            return std::any_of(loads_.company[b].begin(), loads_.company[b].end(), [&](std::size_t one) {
                return std::any_of(needing_[one].begin(), needing_[one].end(), breaks);
            });
        };
        for (std::size_t b = 0; b < a; ++b) {
            if (!may_break(b)) continue;
            search.add(b);
            table[a][b] = table[b][a] = search.answer();
            search.remove(b);
        }
        search.remove(a);
    }
    return table;
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
