#include <benchfeed/network/ambient.hpp>

#include <cmath>

namespace benchfeed::network {

Ratio ambient_law(Temperature insulation, Temperature reference, Temperature ambient) {
    const double room = in_celsius(insulation) - in_celsius(ambient);
    return std::sqrt(room / (in_celsius(insulation) - in_celsius(reference))) * unit::one;
}

}  // namespace benchfeed::network
