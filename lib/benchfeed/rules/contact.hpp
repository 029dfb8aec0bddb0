#pragma once
// Plugs, inlets and outlets: the limits that their contacts set, shared by the rules about them.
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

/// Appends the limits of a contact: its rating with the attention band, and the current of loads that run
/// for hours where contacts of the pattern are known to get hot.
void add_contact_limits(const Situation& s, Yield& yield, Index element, Part part, Reach reach,
                        const ContactRating& rating, const std::string& pattern);

/// What cord-and-plug loads may draw in all from a receptacle on a circuit that has several: of an outlet its
/// own, of a plug the one it goes into. Nothing for inlets, single receptacles and outside the NEC.
///
/// Source  NEC Table 210.21(B)(2); 210.23 says the same of one load.
[[nodiscard]] std::optional<tables::Figure<Current>> receptacle_load(const Situation& s, Index element,
                                                                     Part part);

/// The largest device behind which the region permits an outlet of this rating, where this one is no larger;
/// nothing if it does not. Table permitted-outlet-pairs.
[[nodiscard]] std::optional<tables::Figure<Current>> permitted_pair(const Situation& s, Current outlet,
                                                                    Current device);

/// cannot judge: the rating is not known.
[[nodiscard]] Outcome undecided(At at, Part part, std::uint8_t variant = 0);

/// Outcome::fold of what is told once for each `what`, one of the rule's own marks below 32, and each thing
/// that it is about.
[[nodiscard]] inline Index fold_of(std::uint8_t what, Index about = 0) {
    return about * 32 + what;
}

/// Appends an outcome; of two at one place and part the worse stays, so that one place is one finding. Pre:
/// those of one place are added one behind the other.
void add_worse(std::vector<Outcome>& outcomes, const Outcome& added);

}  // namespace benchfeed::rules
