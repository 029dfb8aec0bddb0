#pragma once
// A set of many loads, added up once for all limits.
#include <array>
#include <complex>
#include <span>
#include <vector>

#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// What evaluate() says of limits and one set, in a time that does not grow with the set where its loads can
/// be added up: volts and starts. For other limits, and for small sets, it is evaluate() itself.
///
/// Method  volts that are lost at an element are the sum, over the feeds on the way to it, of their ohms
///         times what the set draws through them. Loads that draw from the same conductors in the same
///         proportion are kept by angle with running sums, so those that take their volts in a direction,
///         within a right angle, are two look-ups for each feed. The worst subset is the point nearest to
///         what is sent of all that they can take, found by looking in some directions.
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
    using OfEach = std::array<Plane, network::live_conductors>;  ///< for each conductor
    /// Amperes of the loads whose angle is this one or comes before it.
    struct Running {
        double angle = 0;  ///< -pi < angle <= pi
        Plane sum;
    };
    /// What the set draws behind an element, by kind of load: amperes of the kind's first conductor.
    struct Feed {
        std::size_t loads = 0;
        std::vector<std::vector<Running>> of_kind;
        std::array<double, network::live_conductors> plain{};  ///< magnitudes, for each conductor
    };
    /// Loads that leave the ways at the same place. Their amperes times these ohms are what they take.
    struct Share {
        const Feed* at = nullptr;
        std::array<const Feed*, 2> beyond{};  ///< on along the ways: not of this share
        std::vector<Plane> ohms;              ///< of each kind
    };

    void add(Index load);
    [[nodiscard]] std::size_t kind_of(const OfEach& proportion);
    [[nodiscard]] const Feed* feed(Index element) const;
    [[nodiscard]] bool at_hand(const Limit& limit) const;
    [[nodiscard]] std::vector<Share> shares(const Reach& reach, network::Pair pair, const OfEach& answer,
                                            network::Extent extent) const;
    [[nodiscard]] double left(const Reach& reach, network::Extent extent) const;
    [[nodiscard]] Evaluated through_at_start(const Limit& limit) const;
    static Plane before(const std::vector<Running>& list, double angle);
    static Plane towards(const std::vector<Running>& list, double direction);
    static Plane taken(const std::vector<Share>& shares, double direction);

    const Situation s_;
    std::span<const Index> loads_;
    bool added_ = false;    ///< all of them are known and of one supply
    bool ordered_ = false;  ///< a start order: then some do not run yet
    Index supply_ = plan::nowhere;
    std::vector<OfEach> kinds_;  ///< what a kind draws from each conductor, of its first one
    std::vector<Index> place_;   ///< of each element among `feeds_`; nowhere: nothing runs behind it
    std::vector<Feed> feeds_;
};

}  // namespace benchfeed::rules
