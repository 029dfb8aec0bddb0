#include <benchfeed/network/conductor.hpp>

namespace benchfeed::network {

namespace {

std::optional<ConductorData> data_of(const tables::Catalogue& tables, Family family,
                                     const std::optional<electrical::Wire>& wire) {
    if (!wire) return std::nullopt;
    const auto found = electrical::conductor_data(*wire, {tables, family});
    return found ? std::optional(*found) : std::nullopt;
}

}  // namespace

std::optional<electrical::Wire> wire_of(const plan::Stock& stock, bool protective_core) {
    const auto& section = protective_core ? stock.protective_section : stock.section;
    if (!stock.type.known() || !section.known() || !stock.conductor.known() ||
        (protective_core && !stock.protective.is(true)))
        return std::nullopt;
    // Of strands that nobody knows: the figures of stranded cores, as of solid ones in the IEC tables.
    return electrical::Wire{*stock.type, *section, stock.conductor.get(),
                            stock.strands.get_or(plan::Strands::stranded)};
}

std::optional<ConductorData> conductor_data(const tables::Catalogue& tables, Family family,
                                            const plan::Stock& stock) {
    return data_of(tables, family, wire_of(stock));
}

std::optional<ConductorData> protective_data(const tables::Catalogue& tables, Family family,
                                             const plan::Stock& stock) {
    return data_of(tables, family, wire_of(stock, true));
}

}  // namespace benchfeed::network
