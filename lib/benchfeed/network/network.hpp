#pragma once
// Plan + tables -> branches with conductors, load points with their currents, and who hangs below whom.
// Single-phase or not, every live conductor has its own current; the protective conductor is kept too.
#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/network/practice.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using plan::Index;

inline constexpr std::size_t live_conductors = 4;  ///< L1, L2, L3, N: indices of plan::Conductor

/// Lengths that nobody knows lie in a stated range; near_end takes the least of it.
enum class Extent : std::uint8_t { near_end, far_end };

/// Power factors and efficiencies that no plate prints lie in a range: at the end that draws most, or least.
enum class PlateEnd : std::uint8_t { most, least };

/// Where the running current of a load was taken from, best first.
enum class CurrentFrom : std::uint8_t {
    plate_current,
    power_in,
    power_out,
    horsepower_table,
    horsepower,
    unknown
};

/// What a motor draws while it starts: rms over the run-up, before any cable weakens it.
struct Start {
    /// What the start current follows from.
    enum class From : std::uint8_t { plate, code_letter, motor_kind } from = From::motor_kind;
    Current low{}, high{};     ///< both ends of what is known; equal where a plate prints it
    Ratio low_power_factor{};  ///< goes with `low`; `high` is taken in phase with the drop, which is worst
    bool longer_than_a_second = false;  ///< heavy masses: induction motors and what they turn
};

/// A load as the network sees it.
struct LoadPoint {
    Index element = plan::nowhere;
    CurrentFrom from = CurrentFrom::unknown;
    Current current{};     ///< magnitude while running; zero when unknown
    Ratio power_factor{};  ///< 1 where it is assumed and the sum is arithmetic
    bool power_factor_known = false;
    bool ranged = false;         ///< `current` is one end of a range: the plate leaves its factors open
    Ratio least_power_factor{};  ///< the same where it is known, else the low end of what its kind has
    bool motor = false;          ///< has a motor, or nobody knows that it has none
    bool hours = false;          ///< runs for hours at a time
    bool electronic = false;     ///< draws third harmonics, or nobody knows that it does not
    std::optional<Start> start;  ///< nothing: it draws no more than while it runs, or nobody knows
    /// What it draws from each live conductor, at the angles of the nominal voltages.
    std::array<CurrentPhasor, live_conductors> draw{};
    plan::Conductors conductors;
    /// False: nothing in the plan tells a current.
    [[nodiscard]] bool known() const { return from != CurrentFrom::unknown; }
};

/// Resistance of one core per length, at both ends of what it warms to.
struct Core {
    ImpedancePerLength cold{};   ///< at 20 degC, the most that the standard allows
    ImpedancePerLength hot{};    ///< at the temperature at which the cable is rated
    ImpedancePerLength least{};  ///< at 20 degC, strands plain where nobody knows their coating
};

/// The cable that feeds an element, as its conductors. No cable: all impedances are zero.
struct Branch {
    bool cable = false;
    bool no_resistance = false;  ///< no table gives the resistance: any drop through it is too small
    bool measured = false;       ///< a reading at the outlet stands for everything from the panel to it
    bool known =
        true;  ///< false: the length is not known; `impedance` takes the least, `far_end` the greatest
    plan::Conductors conductors;
    std::optional<tables::Figure<ImpedancePerLength>> table_resistance;  ///< as printed, at table_temperature
    bool substituted = false;  ///< the section is not in the table: next smaller printed row
    Temperature table_temperature = celsius(20);
    Temperature conductor_temperature = celsius(70);
    ImpedancePerLength resistance{};  ///< of one conductor at conductor_temperature
    ImpedancePerLength reactance{};
    Core line;                       ///< of one live conductor
    std::optional<Core> protective;  ///< of the protective core; nothing: there is none, or it is not known
    Ratio protective_passes{};       ///< how often the protective conductor runs the length: 1, ring 1/4, 0
    Length length{};                 ///< one way; zero without a cable; the least where nobody knows it
    Length length_most{};            ///< the greatest where nobody knows it
    std::array<Ratio, live_conductors>
        passes{};  ///< how often each live conductor runs that length (0, 1, 2; ring 1/4)
    std::array<ComplexImpedance, live_conductors> impedance{};
    std::array<ComplexImpedance, live_conductors>
        far_end{};  ///< with the greatest length of the range; else the same
};

/// A plan with what follows from it and from tables: branches, load points, practice of its region.
struct Network {
    Practice practice;                    ///< figures of the region
    PlateEnd plate_end = PlateEnd::most;  ///< the end at which what plates leave open was taken
    std::vector<Branch> branches;         ///< by element index
    std::vector<LoadPoint> loads;
    std::vector<Index> load_of;  ///< by element index: position in `loads`, or nowhere
    std::vector<bool> house;     ///< by element index: as found, from the panel to the wall outlet
    /// Plugs in outlets of the house, those of loads left out: one is "the bench plug".
    Index bench_plugs = 0;
    std::vector<Index> order;         ///< every element, parents before children
    std::vector<Index> enter, leave;  ///< preorder interval of each element's subtree
    /// By element index: impedances of all cables from its supply down to it, at both ends of what is known.
    std::vector<std::array<ComplexImpedance, live_conductors>> down_to, down_to_far_end;

    /// True when `below` is `above` or hangs below it.
    [[nodiscard]] bool hangs_below(Index below, Index above) const {
        return enter[above] <= enter[below] && enter[below] < leave[above];
    }
};

[[nodiscard]] BENCHFEED_API Network build(const plan::Plan& plan, const tables::Catalogue& tables,
                                          PlateEnd end = PlateEnd::most);

/// Nominal phasor of a live conductor against earth, from the system and the voltage of the supply.
[[nodiscard]] BENCHFEED_API VoltagePhasor nominal_voltage(const plan::Supply& supply,
                                                          plan::Conductor conductor);
/// Nominal voltage between the conductors that an element uses.
[[nodiscard]] BENCHFEED_API Voltage nominal_between(const plan::Supply& supply, plan::Conductors conductors);
/// The two conductors between which a single-phase load hangs: two lines if it has them, whose neutral then
/// carries nothing. Three-phase loads have three lines, so none.
struct Pair {
    plan::Conductor from, to;
};
[[nodiscard]] std::optional<Pair> pair_of(plan::Conductors conductors);
/// That pair, or of three lines the three between them.
struct Pairs {
    std::array<Pair, 3> all{};
    std::size_t count = 0;
    /// @{ The pairs that there are.
    [[nodiscard]] const Pair* begin() const { return all.data(); }
    [[nodiscard]] const Pair* end() const { return all.data() + count; }
    /// @}
};
[[nodiscard]] Pairs pairs_of(plan::Conductors conductors);

/// A plug in an outlet of the house that is not a load's own.
[[nodiscard]] bool is_bench_plug(const plan::Plan& plan, const Network& network, Index element);
/// The last element that the feeds of both have in common; nowhere if they hang on two supplies.
[[nodiscard]] Index last_in_common(const plan::Plan& plan, const Network& network, Index a, Index b);
/// Sum of the impedances that two elements' feeds have in common, per live conductor.
[[nodiscard]] std::array<ComplexImpedance, live_conductors> common_impedance(
    const plan::Plan& plan, const Network& network, Index a, Index b, Extent extent = Extent::near_end);
/// The same from the supply to one element.
[[nodiscard]] std::array<ComplexImpedance, live_conductors> impedance_to(const plan::Plan& plan,
                                                                         const Network& network,
                                                                         Index element,
                                                                         Extent extent = Extent::near_end);
/// True when the length of a part of its feed is not known.
[[nodiscard]] bool feed_is_unknown(const plan::Plan& plan, const Network& network, Index element);
/// Parts of the feed of an element, house side first, whose impedance is not known.
[[nodiscard]] std::vector<Index> unknown_branches(const plan::Plan& plan, const Network& network,
                                                  Index element);

}  // namespace benchfeed::network
