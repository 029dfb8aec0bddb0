#pragma once
// What may run together as a rule that is worked in the head: the amps of each tool, and the most that they
// may add up to at each place.
#include <vector>

#include <benchfeed/advice/together.hpp>

namespace benchfeed::advice {

/// A place at which amps are added up.
struct AmpsPlace {
    rules::At at;
    rules::Part part = rules::Part::whole;
    Current most{};             ///< what they may add up to, less what runs there besides the plan
    std::vector<Index> loads;   ///< whose amps count there
    std::vector<Current> amps;  ///< of each of them, as the limit counts them
};

/// Every place that some choice of loads is too much for, and what that rule is worth.
struct AmpsRule {
    std::vector<AmpsPlace> places;
    /// What complete lists of sets say of it.
    enum class Proof : std::uint8_t {
        equal,     ///< it forbids exactly what the limits of all rules forbid
        stricter,  ///< it forbids all of that, and more
        open       ///< the lists of sets did not end: nothing is proven
    } proof = Proof::open;
    /// Positions in TogetherAnswer::forbidden of sets that break a limit and that adding amps does not show.
    std::vector<std::size_t> besides;
};

/// The rule, held against the sets that were found.
///
/// Method   a limit on amps through a place holds where the plain sum of what its loads draw is at most its
///          edge; of two such places the one that always speaks first is kept. Complete lists prove it:
///          every smallest forbidden set breaks it, every largest allowed set keeps it.
/// Assumes  plain sums: two lines or unlike power factors make it stricter than the limits are.
[[nodiscard]] AmpsRule amps_rule(const rules::Situation& situation, const rules::Judgement& judgement,
                                 const TogetherAnswer& answer);

}  // namespace benchfeed::advice
