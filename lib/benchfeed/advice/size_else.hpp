#pragma once
// What else than a size would cure: a shorter run, another cable made thicker, a larger box beside a thicker
// cord.
#include <string>
#include <vector>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/base/api.hpp>

namespace benchfeed::advice {

/// Changes of a plan that cure one fault and make nothing worse, with what they do to its figure.
struct OtherCure {
    Fault fault;
    std::string text;                    ///< "25 m -> 20.3 m for the bench cord"
    std::vector<rules::Change> changes;  ///< as --set takes them
    Measure before, after;               ///< of the fault; monostate: it has no figure
    bool thicker = false;                ///< of a cable; false: a shorter one
};

/// What was found, and whether everything was tried.
struct OtherCures {
    std::vector<OtherCure> cures;
    bool whole = true;  ///< false: the plan is so large that some were not tried
};

/// Single changes that cure these faults, in the order of the faults, a thicker cable first.
///
/// Each cable on the way of a fault is tried by itself: in the next larger sections that tables rate, also
/// where it is there already or as sold, or where plug and terminals end its sizes; and as short as it takes,
/// no less than half, to a tenth of a metre. Where a box is then too full, with the least volume that is not,
/// in steps of half a cubic inch. Every line is a whole look at the changed plan by all rules that depend on
/// sections: the fault is gone and no verdict has risen. Omits   changes of two cables at once; faults of
/// rules that no section moves; faults beyond `most_faults`.
[[nodiscard]] BENCHFEED_API OtherCures other_cures(const rules::Situation& situation,
                                                   const std::vector<Fault>& faults,
                                                   std::size_t most_faults = 6);

}  // namespace benchfeed::advice
