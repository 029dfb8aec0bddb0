#pragma once
// A set of many loads, added up once for all limits.
#include <complex>
#include <optional>
#include <span>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// What evaluate() says of limits and one set, in a time that does not grow with the set where its loads can
/// be added up: volts and starts of one line. For other limits, and for small sets, it is evaluate() itself.
///
/// Method  volts that are lost at an element are the sum, over the feeds on the way to it, of their ohms
/// times what
///         the set draws through them. While all currents lag alike enough that each lies against what is
///         left, the whole set is the worst of its subsets; where a start is weakened by what runs beside it,
///         loads that hang at one place count or do not, together. Where angles leave a doubt the subsets are
///         searched as usual.
/// Omits   `loads` names a load of the set that counts, not all of them.
/// Check   equal to evaluate() in tests/unit/rules.
class SetSums {
public:
    /// Sums over the loads of one set.
    SetSums(const Situation& situation, std::span<const Index> loads);
    /// What evaluate() says of the limit and this set.
    [[nodiscard]] Evaluated evaluated(const Limit& limit) const;

private:
    using Plane = std::complex<double>;
    /// Loads that share so many ohms with an element and with the starter.
    struct Share {
        Plane ohms, drawn;
    };
    [[nodiscard]] Evaluated through_at_start(const Limit& limit) const;
    [[nodiscard]] bool at_hand(const Limit& limit) const;
    [[nodiscard]] Plane drawn(Index element) const { return drawn_[place_[element]]; }
    [[nodiscard]] Plane ohms(Index element, network::Extent extent) const;
    [[nodiscard]] std::optional<double> left(Plane sent, const std::vector<Share>& shares) const;
    [[nodiscard]] std::optional<double> left_running(const Limit& limit, network::Extent extent) const;
    [[nodiscard]] std::optional<double> left_at_start(const Limit& limit,
                                                      const std::optional<Impedance>& source,
                                                      network::Extent extent) const;

    const Situation s_;
    std::span<const Index> loads_;
    bool one_line_ = false;
    bool ordered_ = false;  ///< a start order: then some do not run yet
    Index supply_ = plan::nowhere;
    double latest_ = 0, earliest_ = 0;  ///< between these angles lie all currents [rad]
    std::vector<Index> place_;          ///< of each element among `drawn_`; nowhere: nothing runs behind it
    std::vector<Plane> drawn_;          ///< through the feed of an element, from its line [A]
    std::vector<double> plain_;         ///< the same without angles
};

}  // namespace benchfeed::rules
