#pragma once
// Two revisions of a plan: what differs, which verdicts moved and why, what has to be tested again.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// A plan that was judged.
struct JudgedSide {
    Situation situation;
    const Judgement& judgement;
};

/// One table of the plan: an element, its cable, a stock, a set, [plan] ...
struct Difference {
    /// What became of the table.
    enum class Kind : std::uint8_t { added, removed, changed } kind = Kind::changed;
    /// A field that was written, before and after.
    struct Field {
        std::string key, before, after;  ///< as a plan writes them; "" where it says nothing
        Span place = {};                 ///< of the value after; nowhere where it says nothing
    };
    std::string path;   ///< "box.junction.cable"
    std::string words;  ///< "the bench cord"
    std::vector<Field> fields;
    std::vector<std::string> unchanged;  ///< of a cable: what else tells which one it is, "1.5 mm2"
};

/// A finding that came, went or changed. Of its sets the worst speaks, before and after.
struct Moved {
    Index rule = 0;
    std::string at;  ///< "box.junction"
    Part part = Part::whole;
    /// The outcome in one of the two plans.
    struct Side {
        Verdict verdict = Verdict::ok;
        std::string set;
        Measure value, limit;
        bool accepted = false;
    };
    std::optional<Side> before, after;  ///< nothing: that revision has no such outcome
    std::string headline;               ///< of the side that has more to say
    std::vector<std::string> because;   ///< paths of the differences on its way; empty: none of them is
    bool worse = false;
    std::string carried_from = {};  ///< the place of the same finding that told it before; "": this one did
    /// What became of it; `elsewhere`: as bad as it was, and told at another of its places.
    enum class Direction : std::uint8_t { worse, better, elsewhere };
    /// By the two sides, and by the place that carried it.
    [[nodiscard]] Direction direction() const;
};

/// A test of the assembled bench that the differences make necessary again.
struct Retest {
    std::string test;                  ///< "protective conductor, end to end (dead)"
    std::vector<std::string> where;    ///< words of what is tested
    std::vector<std::string> because;  ///< paths of the differences
};

/// A reading that both plans have, of something that is no longer what it was.
struct StaleReading {
    plan::Test test{};
    std::string at, found, date;
    std::string where;                 ///< words of the place
    Measure before, after;             ///< what was and is expected, or the stop value where nothing is
    std::vector<std::string> because;  ///< paths of the differences on its way
    std::vector<std::string> changed;  ///< the same in words
};

/// Two plans held against each other.
struct BENCHFEED_API Comparison {
    std::vector<Difference> differences;  ///< in the order of the new plan, then what was removed
    std::vector<Moved> moved;             ///< worse ones first
    std::vector<Retest> tests;
    std::vector<StaleReading> stale = {};  ///< in the order of the new plan
    /// Number of outcomes that got worse.
    [[nodiscard]] std::size_t worse() const;
    /// Number of those that got better.
    [[nodiscard]] std::size_t better() const;
};

/// It got worse, and this outcome of the plan after is what it tells.
[[nodiscard]] BENCHFEED_API bool got_worse(const Moved& moved, const plan::Plan& plan,
                                           const Outcome& outcome);

/// What was written is compared, not what follows from it; a field taken over by `like` differs where it is
/// written. [[accept]] and [[change]] are left out. A finding about many places that another of them carries
/// now is the same finding. Tests to repeat are common practice, by kind of part.
[[nodiscard]] BENCHFEED_API Comparison compare(const JudgedSide& before, const JudgedSide& after);

}  // namespace benchfeed::rules
