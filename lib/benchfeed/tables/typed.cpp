#include <benchfeed/tables/typed.hpp>

#include <benchfeed/tables/column_units.hpp>

namespace benchfeed::tables {

template <class Q>
Q quantity(const Cell& cell, std::string_view unit) {
    const auto* known = std::find_if(std::begin(Units<Q>::list), std::end(Units<Q>::list) - 1,
                                     [&](const UnitOf& one) { return one.word == unit; });
    return Units<Q>::make(std::get<double>(cell) * known->scale);
}

template <>
Section quantity<Section>(const Cell& cell, std::string_view) {
    if (const auto* gauge = std::get_if<Awg>(&cell)) return section_of(*gauge);
    return section_of(std::get<double>(cell) * unit::mm2);
}

template Ratio quantity<Ratio>(const Cell&, std::string_view);
template Length quantity<Length>(const Cell&, std::string_view);
template Volume quantity<Volume>(const Cell&, std::string_view);
template Duration quantity<Duration>(const Cell&, std::string_view);
template Frequency quantity<Frequency>(const Cell&, std::string_view);
template Current quantity<Current>(const Cell&, std::string_view);
template Voltage quantity<Voltage>(const Cell&, std::string_view);
template Power quantity<Power>(const Cell&, std::string_view);
template Impedance quantity<Impedance>(const Cell&, std::string_view);
template Resistivity quantity<Resistivity>(const Cell&, std::string_view);
template Temperature quantity<Temperature>(const Cell&, std::string_view);
template ImpedancePerLength quantity<ImpedancePerLength>(const Cell&, std::string_view);
template PerKelvin quantity<PerKelvin>(const Cell&, std::string_view);
template JouleIntegral quantity<JouleIntegral>(const Cell&, std::string_view);
template AdiabaticFactor quantity<AdiabaticFactor>(const Cell&, std::string_view);

}  // namespace benchfeed::tables
