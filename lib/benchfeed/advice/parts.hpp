#pragma once
// The shopping list of a plan: what has to be bought, how much of it, and what the plan leaves to be chosen.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/allowances.hpp>
#include <benchfeed/advice/cutting.hpp>
#include <benchfeed/advice/sold_lengths.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::advice {

using plan::Index;

/// In the order of the list.
enum class PartGroup : std::uint8_t {
    cable,
    plugs,
    outlets,
    switches,
    devices,
    boxes,
    terminals,
    ends,
    entries,
    fixing,
    labels
};
[[nodiscard]] std::string_view words(PartGroup group);  ///< "plugs and inlets"

/// What a part is for, with a figure of its own: "7 A, motors 7 A".
struct PlaceOfPart {
    Index element = plan::nowhere;
    std::string detail;
    rules::Part part = rules::Part::whole;  ///< cable: it is for the run to the element
};

/// A line of the list. What the plan does not tell stands in `choose` with what decides, and is never filled
/// in.
struct PartLine {
    PartGroup group = PartGroup::plugs;
    std::string what;          ///< "plug CEE 7/7, 16 A"
    std::optional<int> count;  ///< nothing: how many is to be chosen as well
    std::vector<PlaceOfPart> places;
    std::vector<std::string> choose;  ///< "motor rating: at least 7 A of motors pass through it"
    std::vector<std::string> notes;
    std::vector<Step> steps;  ///< of the count
};

/// A run and what is cut for it.
struct Cut {
    Index element = plan::nowhere;  ///< that the run feeds
    std::optional<Length> length;   ///< of the plan, one way; nothing: nobody knows
    std::optional<Length>
        cut;  ///< to be cut: with all allowances, rounded up to a centimetre or a tenth of a foot
    std::vector<Step> steps;
};

/// Cable of one stock. Single cores are a line for each conductor, since each has its colour.
struct CableLine {
    Index stock = plan::nowhere;
    std::string core;  ///< of single cores: "L", "N", "protective"; else ""
    int cores = 0;     ///< in one cable
    Section section;
    std::vector<Cut> cuts;
    Length total{};                   ///< of the cuts that are known
    std::size_t unmeasured = 0;       ///< runs whose length nobody knows
    std::vector<Length> sold;         ///< lengths in which it is sold; empty: by the metre
    std::optional<Cutting> packs;     ///< pieces are positions in `pieces`
    std::vector<std::size_t> pieces;  ///< cuts with a known length, as positions in `cuts`
};

/// What to buy.
struct ShoppingList {
    Allowances allowances;
    std::vector<CableLine> cables;
    std::vector<PartLine> parts;
    std::vector<Index> there_already;  ///< elements that the plan calls existing, and what the house has
    std::vector<Index> stocks_there;   ///< stocks that are there already
    std::size_t fails = 0, essential_questions = 0;
    /// Nothing may be bought by this list before the plan is cured: it fails, or an essential rule is
    /// undecided.
    std::string warning;  ///< "" where nothing speaks against buying
    std::vector<tables::Citation> sources;
};

/// What somebody sets instead of the usual.
struct PartsOptions {
    std::vector<std::string> allowances = {};  ///< "free-end=0.3 m"; pre: allow() takes each
    const SoldLengths* sold = nullptr;
};

/// What has to be bought for the bench: everything below the wall outlet that is neither `existing` nor a
/// tool with its own cord as sold.
///
/// Cut     (plan length + 2 free ends + bends [+ service loop]) * (1 + waste), for each run.
/// Counts  terminals: wires of each potential as heat.box-overfilled counts them, and spare ways; ferrules:
/// two for
///         each core that lands in a terminal that wants one, and a share.
/// Omits   what a plan does not describe stands as "choose", with what decides.
[[nodiscard]] BENCHFEED_API ShoppingList shopping_list(const rules::Situation& s,
                                                       const rules::Judgement& judgement,
                                                       const PartsOptions& options = {});

}  // namespace benchfeed::advice
