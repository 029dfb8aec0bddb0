#pragma once
// The least copper with which every rule holds.
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/section.hpp>
#include <benchfeed/rules/ends.hpp>

namespace benchfeed::advice {

using plan::Index;

/// What a metre of a cable costs.
struct Price {
    std::string type;
    Section section;
    double per_metre = 0;  ///< in the currency of the list, which nobody needs to know
};
/// What a metre of each type and section costs.
struct PriceList {
    std::string currency;
    std::vector<Price> prices;
    /// Price of a metre in the currency of the list; nothing where it has none.
    [[nodiscard]] std::optional<double> of(const std::string& type, const Section& section) const;
};

/// Stocks of one section: a stock and those that take its section over by `like`. Or their protective cores,
/// where the plan has those as a size of their own.
struct StockGroup {
    std::vector<Index> stocks;       ///< the first one has the section written
    std::vector<Index> cables;       ///< elements fed by a cable of these stocks
    std::vector<Section> choices;    ///< sizes that may be taken, rising; empty: it is kept as it is
    std::string kept;                ///< why it is kept; "" if it is not
    std::vector<std::string> notes;  ///< what bounded the choices, and what nobody could look up
    std::size_t own = 0;             ///< position of the plan's own among the choices
    bool protective = false;         ///< it is the protective cores that are chosen
    std::size_t lines = 0;           ///< of protective cores: position of the group of their lines
    bool silent = false;             ///< no table says in which sizes it is made, or what its ends go into
};

/// An outcome that does not hold: a fail, or a cannot judge of an essential rule.
struct Fault {
    Index rule = 0;
    rules::At at;
    rules::Part part = rules::Part::whole;
    Index set = rules::no_set;
    friend bool operator==(const Fault&, const Fault&) = default;
};

/// A stock of cable with the section that was chosen for it, and why no smaller one does.
struct SizedGroup {
    StockGroup group;
    Section before, after;
    /// What would do with the facts that nobody gave at the end that hurts least; nothing: no less would.
    std::optional<Section> at_best = {};
    /// Faults that come back with the next smaller size of this group, the others as sized.
    std::vector<Fault> binds;
    bool smallest = false;  ///< there is no smaller size to choose
};

/// A plan with its sections chosen, judged whole.
struct Sized {
    std::vector<SizedGroup> groups;
    std::shared_ptr<const plan::Plan> plan;
    std::shared_ptr<const network::Network> network;
    std::shared_ptr<const rules::BestEnd> best;  ///< nothing: no fact is open
    rules::Judgement judgement;
    std::vector<Fault> uncured;  ///< no size cures them
    /// Cautions that were left, and sections that would cure some of them as well, one for each group.
    struct Cautions {
        std::vector<Fault> left, cured;
        std::vector<Section> sections;
        Volume copper{};
        bool asked = false;  ///< the search for them came to its end
    };
    Cautions cautions;
    Volume copper_before{}, copper_after{};
    std::optional<double> cost_before, cost_after;  ///< with a price list
    std::vector<Index> without_length;  ///< cables that count nothing, since nobody knows how long
    std::size_t trials = 0;
    bool proven = true;     ///< false: the search ended at its bound; less might do
    bool conflict = false;  ///< no combination cures at once what one by one can be cured
    /// The plan with the chosen sections, as rules look at it. `tables`: those that it was sized with.
    [[nodiscard]] rules::Situation situation(const tables::Catalogue& tables) const {
        return {*plan, *network, tables, best ? &best->situation() : nullptr};
    }
};

/// What `size` looks for.
struct SizeOptions {
    const PriceList* prices = nullptr;  ///< least cost instead of least copper
    std::size_t most_trials = 1500;     ///< combinations looked at before the search gives up its proof
    bool cautions = false;              ///< cure what is only a caution as well
};

/// The combination of sizes with the least section times length times cores (or cost) that cures what sizes
/// can cure, and makes nothing worse.
///
/// Sizes   the rows of the tables that rate the cable, as far as they are standard (IEC 60228, even AWG), its
///         type is made in them, and plug, inlet and terminals take them; where no table says so, one size
///         beyond the plan's own, if that is enough for good. Stocks shared by several runs stay shared;
///         existing stocks and cables, house cables and cords of tools as sold are kept. A protective core
///         that the plan has as a size of its own is chosen by itself.
/// Open    facts that nobody gave are taken at the end that hurts most.
/// Cured   is what turns from a fail, or a cannot judge of an essential rule, to ok or caution; a fail that
///         turns to cannot judge is not. Where not everything can be cured at once, the worst harm comes
///         first. With `cautions` what is a caution has to become ok.
/// Worse   is a verdict that rises at any place, and a cable that is changed to the disadvantage of a fault
///         that stays. So sizes that were chosen are the ones that are chosen again.
/// Method  branch and bound from the smallest sizes up, cheapest combination first. A fault can only go away
///         when one of the cables that it depends on changes: its own, those on the way to it, or any.
/// Check   equal to exhaustive search in tests/reference.
[[nodiscard]] BENCHFEED_API Sized size(const rules::Situation& situation, const SizeOptions& options = {});

/// Faults of a plan as size counts them: fails, and questions that count as a fail does.
[[nodiscard]] BENCHFEED_API std::vector<Fault> faults_of(const rules::Judgement& judgement);

/// The longest that a cable may be with each of its sizes, all else as sized.
struct LongestCord {
    Section section;
    std::optional<Length> length;  ///< rounded down to a tenth of a metre; nothing: no length holds
    bool at_least = false;         ///< it holds up to the longest that was tried
};
[[nodiscard]] BENCHFEED_API std::vector<LongestCord> longest_cords(const Sized& sized,
                                                                   const tables::Catalogue& tables,
                                                                   Index element);
/// The cords between the wall and the bench.
[[nodiscard]] BENCHFEED_API std::vector<Index> bench_cords(const rules::Situation& situation);

/// Copper in all cores of the cable that feeds an element. Pre: it has a stock with a section.
[[nodiscard]] Volume copper_of(const plan::Plan& plan, const network::Network& network, Index element);

/// A value of the plan's text to be replaced.
struct Edit {
    Span span;
    std::string text;
};
/// Changes that write the chosen sections into a plan's own text. `written` is the plan as the text has it,
/// without overrides. A stock without a section of its own in the text is told in `missing`; one that stands
/// in a common file in `common`, since other plans use it.
struct Edits {
    std::vector<Edit> edits;
    std::vector<std::string> missing, common;
};
[[nodiscard]] BENCHFEED_API Edits edits_of(const Sized& sized, const plan::Plan& written);

}  // namespace benchfeed::advice
