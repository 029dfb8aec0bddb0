#pragma once
// What stands between the supply and an element, as the rules about shock and restart look at it: residual
// current devices, releases, and what starts by itself.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// A fact that holds, does not, or that nobody told.
enum class Known : std::uint8_t { no, yes, open };

/// The device has a residual part: the plan gives one, or its standard always has one (table
/// device-functions).
[[nodiscard]] Known residual_part(const Situation& s, const plan::Device& device);

/// Devices with a residual part above an element, nearest first; the element itself counts.
[[nodiscard]] std::vector<Index> residual_devices_above(const Situation& s, Index element);

/// What a region asks of residual protection, from table residual-practice.
struct ResidualPractice {
    tables::Figure<Current> trip;  ///< the greatest trip current that protects a person; a local one is lower
    std::optional<tables::Figure<Current>> outlets;  ///< the largest outlet that is asked for; nothing: any
    bool by_room = false;  ///< asked for in the rooms that table nec-210-8-rooms lists
};
[[nodiscard]] tables::Found<ResidualPractice> residual_practice(const Situation& s);

/// Whether an element is protected by a device that trips quickly at no more than the region's figure.
struct Protected {
    Known by = Known::no;
    Index device = plan::nowhere;  ///< the one that does, that may, or that trips too high
    /// Why it is not protected, or nobody can say.
    enum class Why : std::uint8_t {
        none,       ///< no residual current device at all
        too_much,   ///< it trips at more
        delayed,    ///< it waits
        trip,       ///< nobody knows at how much
        delay,      ///< nobody knows whether it waits
        part,       ///< nobody knows whether the device has a residual part
        no_device,  ///< the plan has no device there
    } why = Why::none;
};
[[nodiscard]] Protected residual_protection(const Situation& s, Index element,
                                            const ResidualPractice& practice);

/// A switch that drops out when the supply fails or that somebody closes for the whole bench: what hangs
/// below it is off until then.
[[nodiscard]] bool is_release(const plan::Switch& sw);

/// The conductors that a switch or a device opens: as stated, else the first `poles` of what arrives, lines
/// before the neutral. Nothing where nobody told.
[[nodiscard]] std::optional<plan::Conductors> opened_by(const plan::Switch& sw, plan::Conductors arriving);
[[nodiscard]] std::optional<plan::Conductors> opened_by(const plan::Device& device,
                                                        plan::Conductors arriving);

/// Whether line and neutral may change places.
enum class Polarity : std::uint8_t { fixed, reversible, open };
/// A plug on the way to an element and what it makes of the polarity.
struct Mating {
    Polarity polarity = Polarity::fixed;
    Index at = plan::nowhere;  ///< the element whose plug makes it so
};
/// Where on the way from the supply a plug may be turned over, or nobody knows.
[[nodiscard]] Mating polarity_at(const Situation& s, Index element);

/// A switch with no-volt release strictly between an element and a load, or in the load itself.
[[nodiscard]] bool released_below(const Situation& s, Index above, Index load);

/// It stays on by itself and can cut or catch: yes, no, or nobody told one of both.
[[nodiscard]] Known starts_and_cuts(const plan::Load& load);

/// Loads at or below an element, in the order of the tree.
[[nodiscard]] std::vector<Index> loads_below(const Situation& s, Index element);

/// A load with something that turns, or nobody knows that it has none.
[[nodiscard]] bool turns(const plan::Load& load);

/// Distinct elements that are fed from the house through a plug of their own, in plan order: what has to be
/// pulled out to make the bench dead. Loads do not count.
[[nodiscard]] std::vector<Index> bench_plugs(const Situation& s);

/// A plug stands between the supply and this element, its own included.
[[nodiscard]] bool behind_a_plug(const Situation& s, Index element);

/// What a thing is called in the plan's region, from a column of table region-words; "" where it has none.
[[nodiscard]] std::string region_word(const Situation& s, std::string_view column);

/// Row of a stock's construction in table cable-constructions.
[[nodiscard]] std::optional<std::size_t> construction_row(const Situation& s, const plan::Stock& stock);
/// The stock of the cable that feeds an element, or nullptr.
[[nodiscard]] const plan::Stock* stock_of(const Situation& s, Index element);
[[nodiscard]] bool is_cord(const Situation& s, const plan::Stock& stock);

}  // namespace benchfeed::rules
