#include <benchfeed/network/adiabatic.hpp>

#include <benchfeed/network/conductor.hpp>

namespace benchfeed::network {

std::optional<Withstand> withstand(const tables::Catalogue& tables, const plan::Stock& stock,
                                   bool protective_core) {
    const auto wire = wire_of(stock, protective_core);
    if (!wire) return std::nullopt;
    const auto found = electrical::withstand(*wire, tables);
    return found ? std::optional(*found) : std::nullopt;
}

}  // namespace benchfeed::network
