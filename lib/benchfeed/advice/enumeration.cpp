// Depth first through the sets of a family.
//
// Steps are counted, not seconds: the answer is the same on every machine. Many steps are taken by many loads
// of nearly the same but not equal amps, where the first forbidden sets are large, and by three lines with
// many electronic loads, whose neutral has wide bounds. Pairs, sets of the plan and headroom need no search.
#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include <benchfeed/advice/family_search.hpp>

namespace benchfeed::advice {

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

}  // namespace

SetList enumerate(const Family& family, std::size_t want, std::size_t most_steps, std::vector<bool> left_out,
                  bool forbidden) {
    return Enumeration(family, want, most_steps, std::move(left_out)).run(forbidden);
}

}  // namespace benchfeed::advice
