#pragma once
// Fault loops: from the source through a line conductor and back, and the current that flows in them.
#include <optional>

#include <benchfeed/base/api.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// The conductor through which a fault current comes back. `lines`: other lines, so that each line bears its
/// own run alone, as in a fault between all three.
enum class Return : std::uint8_t { neutral, protective, lines };

/// Which end of the possible is looked at.
///   most   conductors at 20 degC, strands plain where nobody knows their coating, shortest runs, the
///          strongest source that is known of
///   least  conductors at the temperature at which the cable is rated, longest runs, the weakest source
enum class Extreme : std::uint8_t { most, least };

/// How often the line that runs most, and the return, run the length of a cable: a looped switch is passed
/// twice, a ring by a quarter.
[[nodiscard]] Ratio line_passes(const Branch& branch);
[[nodiscard]] Ratio return_passes(const Branch& branch, Return back);
/// The cable of an element as a fault at `end` runs through it. That of a control circuit carries no load, so
/// it counts in no drop; a fault at its own end runs there and back once.
[[nodiscard]] Branch run_to(const Network& network, Index at, Index end);

/// An outlet whose earth contact leads to something, as far as the plan knows: it is not said to have none,
/// and its pattern has one.
[[nodiscard]] bool may_have_earth(const plan::Outlet& outlet, const tables::Catalogue& tables);

/// A loop up to the load end of an element's feed.
struct Loop {
    std::optional<Impedance> source;  ///< before the panel, or within a reading; nothing: not known
    Impedance read{};                 ///< a reading at an outlet, which stands for everything up to it
    Index read_at = plan::nowhere;
    Impedance resistance{}, reactance{};  ///< of the runs, both ways, after the reading
    Index missing = plan::nowhere;        ///< a run whose resistance no table gives
    Index uncertain = plan::nowhere;      ///< a run whose length lies in a stated range
    Index broken = plan::nowhere;         ///< a run without a protective core, an outlet without earth
    /// True when nothing is missing: source or reading, every resistance, every protective core.
    [[nodiscard]] bool known() const {
        return (source || read_at != plan::nowhere) && missing == plan::nowhere && broken == plan::nowhere;
    }
    bool reactive = false;  ///< the source, or the reading, counts as reactance
    /// Nobody states the angle of a source. It counts as resistance, in phase with the runs, as inspectors
    /// add it; for the most current beside a transformer (stated current above table thresholds,
    /// resistive_source) as reactance: sqrt(R^2 + (Z_source + X)^2), which is up to sqrt 2 less. Pre:
    /// known().
    [[nodiscard]] Impedance impedance() const;
};

/// The loop through an element.
///
///     Z = |Z_source + sum over the runs (R_line + R_return) + j X|     Z_source j-fold beside a transformer
///
/// Units   ohm.
/// Reading a measured loop or line impedance at an outlet replaces what is computed up to it; the meter found
///         it cold, so for `least` it is divided by the share that a cold loop may reach (table thresholds).
/// Omits   joints and contacts.
/// Source  IEC 60364-4-41 411.4.4; BS 7671 appendix 3 (conductors at operating temperature).
[[nodiscard]] BENCHFEED_API Loop fault_loop(const plan::Plan& plan, const tables::Catalogue& tables,
                                            const Network& network, Index element, Return back,
                                            Extreme extreme);

/// What lies before the panel, line and neutral: the stated line impedance; else the larger of the earth loop
/// (TN) and U0 / fault current; nothing when nobody knows. Never U0 / fault current alone: that is the
/// strongest source, and a dip asks for the weakest.
[[nodiscard]] std::optional<Impedance> line_source(const plan::Plan& plan, Index supply);

/// Highest prospective current at the supply end of an element's feed: where its cable starts.
///
///     I = U0 / |runs + j U0 / I_panel|  one line: back through the neutral; several: lines alone, which is
///                                       the three-phase fault, the largest there is
///
/// Source  the stated current at the panel, or U0 over a stated impedance there where that is more; without a
///         stated current U0 over the least impedance. That is of a line and its return, so for lines alone
///         half of it counts, and half of a reading (rule of thumb of inspectors: the current between lines
///         is twice that of one line).
[[nodiscard]] BENCHFEED_API std::optional<Current> most_fault_current(const plan::Plan& plan,
                                                                      const tables::Catalogue& tables,
                                                                      const Network& network, Index element);

/// Lowest prospective current at the load end: Cmin * U0 / Z. Where no neutral goes along, between two lines:
/// half of their volts over one of them. Nothing when the loop is not known.
[[nodiscard]] BENCHFEED_API std::optional<Current> least_fault_current(const plan::Plan& plan,
                                                                       const tables::Catalogue& tables,
                                                                       const Network& network, Index element,
                                                                       Return back);

/// Line to neutral, nominal or as measured.
[[nodiscard]] Voltage line_to_neutral(const plan::Plan& plan, Index element);

}  // namespace benchfeed::network
