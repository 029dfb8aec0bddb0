#pragma once
// What every formula here is handed besides its record.
#include <cmath>
#include <stdexcept>
#include <string>

#include <benchfeed/base/quantity.hpp>
#include <benchfeed/electrical/kinds.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::electrical {

/// Published figures, and the family of standards whose tables are asked.
struct Figures {
    const tables::Catalogue& tables;
    CodeFamily code = CodeFamily::iec;
};

/// A record that no plate and no cable can have: a number that is none, below zero, or zero where that has no
/// meaning. Says which of its members.
class Refused : public std::invalid_argument {
public:
    using std::invalid_argument::invalid_argument;
};

/// @{ Throws Refused, with the name of the member, where it is not finite, or is below zero (not above zero).
template <class Q>
void refuse_negative(const char* member, const Q& quantity) {
    if (!std::isfinite(in(Q::from_value(1.0), quantity)) || quantity < Q{})
        throw Refused(std::string(member) + ": a finite number, not below zero");
}
template <class Q>
void refuse_all_but_positive(const char* member, const Q& quantity) {
    if (!std::isfinite(in(Q::from_value(1.0), quantity)) || !(quantity > Q{}))
        throw Refused(std::string(member) + ": a finite number above zero");
}
/// @}

}  // namespace benchfeed::electrical
