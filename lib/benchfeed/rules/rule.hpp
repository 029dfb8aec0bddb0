#pragma once
// What a rule is, what it yields and how it explains itself.
//
// A rule does not return verdicts about sets: it yields limits. A limit says "the current through this
// plug stays at or below 16 A"; check asks it for every set, together and headroom optimise over it,
// size asks again with other sections. What does not depend on who runs, a rule judges at once.
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/measure.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/at_best.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/tables/missing.hpp>

namespace benchfeed::rules {

using plan::Index;

enum class Verdict : std::uint8_t { ok, caution, cannot_judge, fail };  ///< rising: the worst wins
[[nodiscard]] std::string_view words(Verdict verdict);
enum class Part : std::uint8_t { whole, plug, fuse, inlet, cable };
[[nodiscard]] std::string_view words(Part part);  ///< "" for the whole
enum class Bound : std::uint8_t { at_most, at_least };
enum class Basis : std::uint8_t { standard, recommendation, marking, physics, practice, local };
[[nodiscard]] std::string_view words(Basis basis);
enum class Harm : std::uint8_t { heat, volts, trip, shock, restart, plan };
[[nodiscard]] std::string_view words(Harm harm);

/// Everything a rule may look at. Immutable, built once per plan.
struct Situation {
    const plan::Plan& plan;
    const network::Network& network;
    const tables::Catalogue& tables;
    /// The same bench with what nobody gave at the end that hurts least; nullptr: everything is given, or
    /// only the end that hurts most is asked for.
    const Situation* best = nullptr;
    /// The practice of the plan's region.
    [[nodiscard]] const network::Practice& practice() const { return network.practice; }
    /// True where the NEC is followed, false for IEC.
    [[nodiscard]] bool nec() const { return network.practice.family == network::Family::nec; }
};

/// Where an outcome stands.
struct At {
    /// What the index counts.
    enum class Kind : std::uint8_t { plan, element, together, stock, metal } kind = Kind::plan;
    Index index = plan::nowhere;
    friend bool operator==(const At&, const At&) = default;
};
[[nodiscard]] inline At at_element(Index index) {
    return {At::Kind::element, index};
}

inline constexpr Index no_set = plan::nowhere;       ///< an outcome that does not depend on who runs
inline constexpr Index everything_set = no_set - 1;  ///< Plan::everything

/// How much of a load's current counts for a limit.
struct Weight {
    bool motors_only = false;              ///< loads without a motor count nothing
    bool hours_only = false;               ///< loads that run for minutes count nothing
    Ratio hours_factor = 1.0 * unit::one;  ///< loads that run for hours count this much (NEC: 1.25)
    /// How much of the load's current counts.
    [[nodiscard]] Ratio of(const network::LoadPoint& load) const {
        if ((motors_only && !load.motor) || (hours_only && !load.hours)) return 0.0 * unit::one;
        return load.hours ? hours_factor : 1.0 * unit::one;
    }
};

/// What the loads of a set amount to.
struct Reach {
    /// What is added up, and in which unit.
    enum class Kind : std::uint8_t {
        through,           ///< current through the feed of an element, largest of its conductors [A]
        largest_way,       ///< current through one way of an outlet: the largest of what is plugged in [A]
        lost_to,           ///< share of the nominal volts that a load does not get [1]
        left_at,           ///< voltage that is left at a load [V]
        neutral,           ///< current through the neutral of an element's feed, third harmonics included [A]
        through_at_start,  ///< largest current of a line while `starter` starts [A]
        left_at_start,     ///< voltage at a load, or at the coil of a switch, while `starter` starts [V]
        left_at_pick_up,   ///< voltage at the coil of a switch, what it feeds not running yet [V]
    } kind = Kind::through;
    Index element = plan::nowhere;
    Index starter = plan::nowhere;         ///< load that starts; the limit concerns the sets that hold it
    bool high_start = true;                ///< the high end of its start current, or the low one
    std::optional<Impedance> source = {};  ///< what lies before the panel, for volts at a start
    std::optional<Impedance> weakest_source = {};  ///< nobody knows the source: the most that it may have
};

/// How well the figures behind an edge stand.
struct Ground {
    tables::Grade grade = tables::Grade::two_sources;  ///< lowest grade on which an ok would rest
    bool substituted = false;                          ///< its table ends before: the last row is a bound
    /// False: the figure may warn or fail, and never says ok.
    [[nodiscard]] bool carries_ok() const { return grade != tables::Grade::memory && !substituted; }
};

/// The reach stays on the right side of `edge`. Between `caution` and `edge` the outcome is a caution.
struct Limit {
    At at;
    Part part = Part::whole;
    Reach reach;
    Weight weight;
    Bound bound = Bound::at_most;
    Current base{};   ///< runs always, besides the loads of the plan
    Measure edge;     ///< monostate: no value is a fail
    Measure caution;  ///< monostate: no caution band
    Measure doubt;    ///< beyond it, short of a fail, nothing can be said unless the far end of an unknown
                      ///< source says the same; monostate: none
    Basis basis = Basis::marking;  ///< of the edge
    Basis caution_basis = Basis::practice;
    Ground ground;
    bool weakest = true;        ///< counts when the weakest element of a set is looked for
    bool once_per_set = false;  ///< a caution is told only at the weakest contact of a set
    std::uint8_t variant = 0;   ///< the rule's own mark, for explain()
    Index rule = 0;             ///< position in the registry; set by judge()
};

/// The verdicts at both ends of what nobody gave, where they are not the same.
struct Open {
    Verdict at_worst = Verdict::ok, at_best = Verdict::ok;
    plan::Facts decides;  ///< kinds of fact on which it depends
};

/// What a rule says of one place.
struct Outcome {
    Index rule = 0;  ///< position in the registry; set by judge()
    At at;
    Part part = Part::whole;
    Index set = no_set;
    Verdict verdict = Verdict::ok;
    Basis basis = Basis::marking;
    Bound bound = Bound::at_most;
    Measure value, edge, caution;
    Measure least;  ///< the value with what nobody gave at its best; monostate: it is the same
    std::optional<Open> open;
    Ground ground;
    std::uint8_t variant = 0;  ///< the rule's own mark, for explain()
    Index limit = plan::nowhere;
    /// Outcomes of a rule that share a fold are one finding: judge() keeps the worst of them, then the
    /// largest, then the first by name. nowhere: it stands for itself.
    Index fold = plan::nowhere;
    Index accepted = plan::nowhere;  ///< the [[accept]] that covers it; set by judge()
    /// Which of the Yield's missing rows keeps it from being judged; after judge(), of the Judgement's. The
    /// rule is not asked for words then. nowhere: none.
    Index missing = plan::nowhere;
    [[nodiscard]] std::optional<double> share() const;  ///< value / edge, for at_most limits in A
};

/// What look() finds.
struct Yield {
    std::vector<Limit> limits;
    std::vector<Outcome> outcomes;
    std::vector<tables::Missing> missing;  ///< rows for want of which an outcome is cannot judge
    /// cannot judge: a table has no such row. Says which, whatever the rule.
    void cannot_judge(At at, Part part, tables::Missing row);
};

enum class Cost : std::uint8_t { free, cheap, moderate, electrician };
[[nodiscard]] std::string_view words(Cost cost);

/// A change of the plan, as --set takes it: "switch.saw.poles", "2". Without a value, of a section or a
/// length: the least change that cures, whatever that is.
struct Change {
    std::string path, value;
};

/// What may be done about an outcome.
struct Remedy {
    Cost cost = Cost::free;
    std::string text;
    std::vector<Change> changes = {};  ///< what it does to the plan; empty: nothing that a plan describes
    std::string fragment = {};         ///< elements to add to the plan beside the changes, as it writes them
};

/// A missing fact, and where a person finds it.
struct Question {
    std::string path;  ///< "device.b16.curve"
    std::string ask;
    std::string look;
};

/// Words and worked steps of one outcome, made only when a writer asks for them.
struct Explanation {
    std::string headline;  ///< stands alone, with both figures
    std::string
        short_words;  ///< for the first line of a report: "the saw restarts by itself after a power cut"
    std::string consequence;  ///< what would happen
    std::vector<Step> steps;
    std::vector<tables::Citation> sources;
    std::vector<Remedy> remedies;  ///< cheapest first
    Label place;                   ///< where the carets go
    std::vector<Label> related;
    std::vector<Question> questions;
};

struct Judgement;

/// On which cables' sections the outcome of a rule depends: none; its own; its own and those that leave the
/// element; those on the way to it; any.
enum class Depends : std::uint8_t { nothing, own, here, way, all };
/// What more section does to a fault; `either`: it may bring it and may take it away.
enum class More : std::uint8_t { helps, hurts, either };
/// What a search over sections may take for granted. A rule that says nothing may depend on every cable in
/// every way: that costs time and nothing else.
struct Sections {
    Depends on = Depends::all;
    More more = More::either;
};

struct Rule;

/// Questions of a rule that the cure of another one's fail answers, whatever the answer would be: they are
/// told under that fail, and nobody is sent to look.
struct Waits {
    const Rule* for_cure_of = nullptr;  ///< the rule whose fail it is; nullptr: no question waits
    /// Whether the cure answers this one; nullptr with no rule.
    bool (*answers)(const Situation&, const Outcome&) = nullptr;
};

/// A rule, as data.
struct Rule {
    std::string_view id;
    std::string_view title;
    Harm harm;
    bool essential;
    std::string_view families;  ///< "iec nec"
    std::string_view since;     ///< version of benchfeed
    Sections sections = {};     ///< what `size` may take for granted
    Waits waits = {};           ///< which of its questions another rule's fail answers
    Yield (*look)(const Situation&);
    /// The limit is the one of the outcome; nullptr for an outcome that the rule judged at once.
    Explanation (*explain)(const Situation&, const Outcome&, const Limit*);
    /// For a rule about the outcomes of all others; they stand instead of look() and explain(), which are
    /// null.
    Yield (*review)(const Situation&, const Judgement&) = nullptr;
    Explanation (*explain_review)(const Situation&, const Judgement&, const Outcome&) = nullptr;
};

/// Every rule, in the order in which reports list equals.
[[nodiscard]] BENCHFEED_API std::span<const Rule> registry();
[[nodiscard]] BENCHFEED_API const Rule* find_rule(std::string_view id);
/// The rule's page, Markdown; empty for an unknown id.
[[nodiscard]] std::string_view page(std::string_view rule_id);

}  // namespace benchfeed::rules
