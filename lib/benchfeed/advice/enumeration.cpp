// Depth first through the sets of a family.
//
// What is looked at is counted, not seconds: the answer is the same on every machine. Much is looked at with
// many loads of nearly the same but not equal amps, where the first forbidden sets are large, and with three
// lines and many electronic loads, whose neutral has wide bounds. Pairs, sets of the plan and headroom need
// no search.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <set>

#include <benchfeed/advice/family_search.hpp>

namespace benchfeed::advice {

namespace {

/// What is looked at for one step of the bound, in conditions: a place in a bench of usual size.
constexpr std::size_t conditions_a_step = 50;

/// What the entries from a place on can add to a condition, or in amps, in so many loads.
class Outlook {
public:
    Outlook() = default;
    Outlook(const std::vector<Entry>& entries, const std::function<double(std::size_t)>& of_load)
        : deepest_(entries.size() > 200 ? 2 : 64), width_(deepest_ + 2) {
        sums_.resize((entries.size() + 1) * width_, 0.0);
        std::vector<double> largest;  // the largest so far, falling
        double all = 0;
        for (std::size_t at = entries.size(); at-- > 0;) {
            for (const std::size_t load : entries[at].loads) {
                const double gain = std::max(0.0, of_load(load));
                all += gain;
                largest.insert(std::upper_bound(largest.begin(), largest.end(), gain, std::greater<>()),
                               gain);
                if (largest.size() > deepest_) largest.pop_back();
            }
            double* sums = &sums_[at * width_];
            for (std::size_t k = 0; k < deepest_; ++k)
                sums[k + 1] = sums[k] + (k < largest.size() ? largest[k] : 0);
            sums[deepest_ + 1] = all;
        }
    }
    [[nodiscard]] double most(std::size_t from, std::size_t loads) const {
        const double* sums = &sums_[from * width_];
        if (loads <= deepest_) return sums[loads];
        // Each load beyond adds no more than the smallest that was kept.
        const double least_kept = sums[deepest_] - sums[deepest_ - 1];
        return std::min(sums[deepest_ + 1],
                        sums[deepest_] + static_cast<double>(loads - deepest_) * least_kept);
    }

private:
    std::size_t deepest_ = 0, width_ = 0;
    std::vector<double> sums_;  ///< of each place: of none, one, two ... loads, then of all
};

/// Depth first over the entries; sets of one size at a time, the best kept.
class Enumeration {
public:
    Enumeration(const Family& family, std::size_t want, std::size_t most_steps, std::vector<bool> left_out)
        : family_(family),
          want_(want),
          most_work_(most_steps * conditions_a_step),
          left_out_(std::move(left_out)),
          taken_(family.entries().size(), 0),
          search_(family) {
        const auto& entries = family.entries();
        // A load brings its company: all of it counts in what is still to come.
        for (const Condition& c : conditions()) {
            outlooks_.emplace_back(entries, [&](std::size_t load) { return gain(c.most, load); });
            add_rows(c, entries);
            unsure_.push_back(c.unsure.empty() ? Outlook() : Outlook(entries, [&](std::size_t load) {
                return brings_unsure(c, load) ? 1.0 : 0.0;
            }));
        }
        amps_ = Outlook(entries, [&](std::size_t load) { return amps_of(load); });
        for (std::size_t e = 0; e < entries.size(); ++e) usable_.push_back(usable(entries[e]));
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
        if (stopped_) fill_up(forbidden);
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
    /// What is still to come along each row of a condition that is not exact, and of its harmonics.
    void add_rows(const Condition& c, const std::vector<Entry>& entries) {
        auto& rows = row_outlooks_.emplace_back();
        auto& harmonics = harmonic_outlooks_.emplace_back();
        if (c.exact) return;
        const std::size_t index = row_outlooks_.size() - 1;
        const std::size_t count = !c.spread.empty() ? directions : c.step > 0 ? c.least.size() : 0;
        for (std::size_t row = 0; row < count; ++row)
            rows.emplace_back(entries, [&](std::size_t load) { return search_.gives(index, row, load); });
        for (std::size_t l = 0; c.triplen > 0 && l < c.harmonics.size(); ++l)
            harmonics.emplace_back(entries, [&](std::size_t load) { return gain(c.harmonics[l], load); });
    }
    [[nodiscard]] bool brings_unsure(const Condition& c, std::size_t load) const {
        const auto& with = loads().company[load];
        return std::any_of(with.begin(), with.end(), [&](std::size_t one) { return c.unsure[one]; });
    }
    [[nodiscard]] double gain(const std::vector<double>& shares, std::size_t load) const {
        double sum = 0;
        for (const std::size_t one : loads().company[load]) sum += std::max(0.0, shares[one]);
        return sum;
    }
    [[nodiscard]] double amps_of(std::size_t load) const { return in(unit::ampere, loads().amps[load]); }

    [[nodiscard]] std::size_t next_load(std::size_t entry) const {
        return family_.entries()[entry].loads[taken_[entry]];
    }
    /// One load more of it may be chosen.
    [[nodiscard]] bool is_left(std::size_t entry) const {
        return usable_[entry] && taken_[entry] < family_.entries()[entry].loads.size();
    }
    void take(std::size_t entry) {
        const std::size_t load = next_load(entry);
        search_.add(load);
        amount_ += amps_of(load);
        ++taken_[entry];
        chosen_.push_back(entry);
    }
    void give_back() {
        const std::size_t entry = chosen_.back();
        chosen_.pop_back();
        --taken_[entry];
        const std::size_t load = next_load(entry);
        search_.remove(load);
        amount_ -= amps_of(load);
    }

    bool step() {
        search_.worked(1);
        if (search_.work() > most_work_) stopped_ = true;
        return !stopped_;
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
        if (search_.used(c) + more(condition.most) + outlooks_[c].most(ahead.from, ahead.left) <= nearly)
            return false;
        if (!condition.unsure.empty() &&
            (search_.unsure(c) || (beside && brings_unsure(condition, *beside)) ||
             unsure_[c].most(ahead.from, ahead.left) > 0))
            return true;
        if (row_outlooks_[c].empty()) return true;
        return rows_may_exceed(c, ahead, beside);
    }
    /// What is given towards any direction may exceed what harmonics leave.
    [[nodiscard]] bool rows_may_exceed(std::size_t c, Ahead ahead, const std::size_t* beside) const {
        const Condition& condition = conditions()[c];
        const std::size_t count = row_outlooks_[c].size();
        const bool all_round = !condition.spread.empty();
        search_.worked(count);
        std::array<double, 3> lines{};
        for (std::size_t l = 0; l < harmonic_outlooks_[c].size(); ++l)
            lines[l] = search_.harmonics(c, l) + (beside ? gain(condition.harmonics[l], *beside) : 0.0) +
                       harmonic_outlooks_[c][l].most(ahead.from, ahead.left);
        const double room = nearly - harmonics_of(condition.triplen, lines[0], lines[1], lines[2]);
        const double step = condition.step;
        const auto towards = [&](std::size_t row) {
            return search_.used(c, row) + (beside ? search_.gives(c, row, *beside) : 0.0) +
                   row_outlooks_[c][row].most(ahead.from, ahead.left);
        };
        const double first = towards(0);
        if (first > room) return true;
        double there = first;
        for (std::size_t row = 1; row < count + (all_round ? 1 : 0); ++row) {
            const double here = row < count ? towards(row) : first;
            if (here > room || most_between(there, here, step) > room) return true;
            there = here;
        }
        return false;
    }
    /// Conditions that what is still to come could break beside one load more, whichever it is.
    [[nodiscard]] std::vector<std::size_t> near(Ahead ahead) const {
        std::vector<std::size_t> found;
        search_.worked(outlooks_.size());
        for (std::size_t c = 0; c < outlooks_.size(); ++c)
            if (search_.used(c) + outlooks_[c].most(0, 1) + outlooks_[c].most(ahead.from, ahead.left) >
                nearly)
                found.push_back(c);
        return found;
    }
    /// They may still come to shut an entry out, by one of these conditions.
    [[nodiscard]] bool may_be_shut_out(std::size_t entry, Ahead ahead,
                                       const std::vector<std::size_t>& by) const {
        const std::size_t load = next_load(entry);
        search_.worked(by.size());
        return std::any_of(by.begin(), by.end(), [&](std::size_t c) { return may_break(c, ahead, &load); });
    }
    /// A load of the entry cannot join what runs now. `by`: conditions that one load more can break.
    bool shut_out(std::size_t entry, const std::vector<std::size_t>& by) {
        if (!may_be_shut_out(entry, {family_.entries().size(), 0}, by)) return false;
        const std::size_t load = next_load(entry);
        search_.add(load);
        const bool refused =
            std::any_of(by.begin(), by.end(), [&](std::size_t c) { return search_.broken(c); });
        search_.remove(load);
        return refused;
    }
    [[nodiscard]] bool anything_can_join() {
        const auto by = near({family_.entries().size(), 0});
        for (std::size_t e = 0; e < family_.entries().size(); ++e)
            if (is_left(e) && !shut_out(e, by)) return true;
        return false;
    }
    [[nodiscard]] bool may_break_any(Ahead ahead) const {
        search_.worked(outlooks_.size());
        for (std::size_t c = 0; c < outlooks_.size(); ++c)
            if (!conditions()[c].turns && may_break(c, ahead, nullptr)) return true;
        return false;
    }

    void find_largest(std::size_t from, std::size_t left) {
        if (!step()) return;
        const auto& entries = family_.entries();
        if (left == 0) {
            if (!anything_can_join()) keep();
            return;
        }
        if (from == entries.size() || too_few_amps(from, left)) return;
        const auto by = near({from, left});
        for (std::size_t e = 0; e < from; ++e)
            if (is_left(e) && !may_be_shut_out(e, {from, left}, by)) return;
        if (!usable_[from]) return find_largest(from + 1, left);
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
            const std::size_t load = family_.entries()[chosen_[i]].loads[taken_[chosen_[i]] - 1];
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
            if (!is_left(e)) continue;
            take(e);
            const auto answer = search_.answer();
            if (left > 1 && answer == Family::Answer::allowed) find_forbidden(e, left - 1);
            if (left == 1 && answer == Family::Answer::forbidden && least_forbidden()) keep();
            give_back();
        }
    }

    /// Sets beside those that the search found before its bound: begun with each entry, filled up from the
    /// most amps down, and forbidden ones made as small as they get. What joins or leaves is asked for, so
    /// they are right.
    void fill_up(bool forbidden) {
        const std::size_t most = search_.work() + most_work_ / 4;
        std::set<EntrySet> known;
        for (const Found& one : found_) known.insert(one.set);
        for (std::size_t e = 0; e < family_.entries().size(); ++e) {
            if (found_.size() > want_ || (e > 0 && search_.work() > most)) break;
            if (!filled(e, forbidden) || !known.insert(chosen_).second) continue;
            level_.clear();
            keep_ = 1;
            keep();
            found_.push_back(*level_.begin());
        }
        std::stable_sort(found_.begin(), found_.end(), [](const Found& a, const Found& b) {
            return a.set.size() != b.set.size() ? a.set.size() < b.set.size() : Better()(a, b);
        });
    }
    /// Chosen are then the loads of a largest set, or of a smallest forbidden one; false: none of those
    /// begins so.
    bool filled(std::size_t first, bool forbidden) {
        while (!chosen_.empty()) give_back();
        auto answer = joined(first);
        if (answer == Family::Answer::turns) return false;
        for (std::size_t e = 0; e < family_.entries().size() && answer != Family::Answer::forbidden; ++e)
            while (is_left(e) && answer == Family::Answer::allowed) {
                answer = joined(e);
                if (answer == Family::Answer::allowed || (forbidden && answer == Family::Answer::forbidden))
                    continue;
                give_back();
                answer = Family::Answer::allowed;
                break;
            }
        if (chosen_.empty() || (answer == Family::Answer::forbidden) != forbidden) return false;
        EntrySet all = chosen_;
        std::sort(all.begin(), all.end());
        for (std::size_t i = all.size(); forbidden && i-- > 0;) {
            EntrySet rest = all;
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
            take_only(rest);
            if (search_.answer() == Family::Answer::forbidden) all = std::move(rest);
        }
        take_only(all);
        return true;
    }
    Family::Answer joined(std::size_t entry) {
        if (!is_left(entry)) return Family::Answer::turns;
        take(entry);
        return search_.answer();
    }
    void take_only(const EntrySet& entries) {
        while (!chosen_.empty()) give_back();
        for (const std::size_t entry : entries) take(entry);
    }

    /// Sums of the same shares in another order.
    static constexpr double nearly = 1 - 1e-12;
    const Family& family_;
    std::size_t want_, most_work_;
    std::vector<bool> left_out_, usable_;
    std::vector<std::size_t> taken_;  ///< loads that are chosen of each entry
    Search search_;
    std::vector<Outlook> outlooks_;
    std::vector<std::vector<Outlook>> row_outlooks_;
    std::vector<std::vector<Outlook>> harmonic_outlooks_;
    std::vector<Outlook> unsure_;
    Outlook amps_;
    std::vector<Found> found_;
    std::multiset<Found, Better> level_;  ///< of the size at hand, no more than are still wanted
    std::size_t keep_ = 0;
    EntrySet chosen_;
    double amount_ = 0;
    bool stopped_ = false;
};

}  // namespace

SetList enumerate(const Family& family, std::size_t want, std::size_t most_steps, std::vector<bool> left_out,
                  bool forbidden) {
    return Enumeration(family, want, most_steps, std::move(left_out)).run(forbidden);
}

}  // namespace benchfeed::advice
