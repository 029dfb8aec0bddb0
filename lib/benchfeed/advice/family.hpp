#pragma once
// Which sets of loads hold every limit. Pure combinatorics: loads are positions, limits are conditions on the
// loads that run, and every subset of an allowed set is allowed.
#include <array>
#include <complex>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed::advice {

/// A share whose angle is anything within half a width of its middle; 0 for one that is known.
struct Sway {
    double size = 0, middle = 0, half = 0;
    /// The most of it towards a direction; it may also not run.
    [[nodiscard]] double towards(double direction) const;
};
/// Directions in which shares are added up where their angles spread: the longest sum is seen by one of them
/// to within the cosine of half the step.
inline constexpr std::size_t directions = 24;

/// A limit as a condition on the loads that run. Its figures are shares of what the limit leaves room for, so
/// they have no unit: 1 is all of it. Sums that decide most sets at once, and a question for the rest.
///
/// Pre  A load that joins never mends a broken condition, and no sum of `most` ever falls when a load joins.
struct Condition {
    double base = 0;           ///< used as soon as the condition counts
    std::vector<double> most;  ///< what each load adds at most: base + their sum <= 1 means that it holds
    /// Rows of what each load adds at least: broken when base + the sum of a row is above 1.
    std::vector<std::vector<double>> least;
    double step = 0;     ///< angle between the directions of neighbouring rows; 0: they are no directions
    bool exact = false;  ///< the sum of `most` is the value itself
    std::vector<std::size_t> needs;  ///< it counts only while all of these run
    bool turns = false;  ///< broken says that these loads cannot run at the same time, not that they must not
    /// Shares as phasors where their sum decides. Amps, `sent` = 0: the value is |sum|. Volts: |sent - sum|
    /// are left, and at least sent - 1 must be; so as long as what is left turns by at most `turn` [rad].
    std::vector<std::complex<double>> phasors;
    double sent = 0, turn = 0;
    /// Shares that relieve each other as far as their angles are sure: the value is their longest sum, and
    /// what harmonics add to it: `triplen` times the largest of three plain sums, at most all three.
    std::vector<Sway> spread;
    std::array<std::vector<double>, 3> harmonics;
    double triplen = 0;
    std::vector<bool> unsure;  ///< while one of these runs, the sum of `most` is the value; empty: none does
    std::function<bool(std::span<const std::size_t> running)> holds;  ///< asked where the sums do not decide
    std::size_t cost = 1;  ///< of that question, in conditions looked at
    int law = 0;           ///< conditions of one law with the same rows are the same; 0: like no other
    std::size_t mark = 0;  ///< the caller's own
};

/// Loads that may stand for each other: any so many of them. Counted as one entry.
struct Entry {
    std::vector<std::size_t> loads;
};

/// A set of entries, each as often as loads of it are meant; rising positions in Family::entries().
using EntrySet = std::vector<std::size_t>;

/// Sets that were found, and whether the search came to its end.
struct SetList {
    std::vector<EntrySet> sets;  ///< fewest loads first, then most amps, then by name
    bool more = false;           ///< there are further sets
    bool stopped = false;        ///< the search ended at its bound: sets may be missing, those here are right
};

/// What joins by itself and how sets are ordered.
struct Loads {
    std::vector<std::vector<std::size_t>> company;  ///< for each load: it and those that then run as well
    std::vector<std::size_t> always;                ///< run whatever is chosen
    std::vector<Current> amps;
    std::vector<std::size_t> name_rank;  ///< position in the order of names
    /// Loads of one kind draw the same of the same conductors; only they may be counted as one entry.
    std::vector<std::size_t> kind;
};

/// All sets of the loads of a plan: which are allowed, by conditions that are monotone in the set.
class Family {
public:
    /// Pre: every condition names loads of `loads` alone.
    Family(Loads loads, std::vector<Condition> conditions);

    /// turns: forbidden since loads take turns or stand in two positions of one switch.
    enum class Answer : std::uint8_t { allowed, forbidden, turns };
    /// What holds when these loads run with their company and with what always runs.
    [[nodiscard]] Answer ask(std::span<const std::size_t> chosen) const;
    /// The same of every two loads, and on the diagonal of every load, without a search for each.
    [[nodiscard]] std::vector<std::vector<Answer>> pairs() const;
    /// Marks of the broken conditions then, turns left out.
    [[nodiscard]] std::vector<std::size_t> broken_marks(std::span<const std::size_t> chosen) const;
    /// All loads that then run, rising.
    [[nodiscard]] std::vector<std::size_t> running(std::span<const std::size_t> chosen) const;

    /// Loads as the search sees them: equal ones are one entry.
    [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }
    /// One load for each mention of an entry: the first ones of it.
    [[nodiscard]] std::vector<std::size_t> loads_of(const EntrySet& set) const;
    /// Conditions that can decide anything: the others hold whenever these do.
    [[nodiscard]] const std::vector<Condition>& conditions() const { return conditions_; }
    /// The loads that the entries stand for.
    [[nodiscard]] const Loads& loads() const { return loads_; }

    /// Largest allowed sets: no other load can join. Entries with a load in `left_out` are not used.
    ///
    /// Method  by number of loads, depth first, loads with most amps first. A branch ends where a load that
    ///         was passed over can no longer be kept out by the loads that are still to come. A search that
    ///         ends at its bound before it found any gives one that was filled up from the most amps down.
    [[nodiscard]] SetList largest(std::size_t want, std::size_t most_steps,
                                  const std::vector<bool>& left_out) const;
    /// Smallest forbidden sets: without any one of its loads the rest is allowed.
    ///
    /// Method  the same; a branch ends where no condition can be broken by the loads that are still to come.
    [[nodiscard]] SetList smallest_forbidden(std::size_t want, std::size_t most_steps) const;

private:
    friend class Search;
    void drop_idle_conditions();
    void find_needs();
    void make_entries();
    void lay_out_sums();
    [[nodiscard]] bool interchangeable(std::size_t a, std::size_t b) const;

    /// Where the sums of a condition lie: that of `most`, those of its rows, real and imaginary part of its
    /// phasors, how many unsure loads run, three sums of harmonics. Of shares that spread the rows are what
    /// they give towards each direction. Rows of an exact condition are not added up: `most` says it all.
    struct Sums {
        std::size_t most, rows, row_count, phasor, unsure, harmonics;
    };

    Loads loads_;
    std::vector<Condition> conditions_;
    std::vector<std::vector<std::size_t>> needing_;  ///< for each load the conditions that need it
    std::vector<Entry> entries_;                     ///< most amps first
    std::vector<Sums> sums_;
    std::vector<double> base_;
    std::vector<std::vector<double>> shares_;  ///< of each load to those sums
};

}  // namespace benchfeed::advice
