#pragma once
// The units in which tables print quantities. For table.cpp and typed.cpp alone.
#include <string_view>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed::tables {

/// A unit as a table writes it, and its size in the unit that make() takes.
struct UnitOf {
    std::string_view word;  ///< "kA"
    double scale;           ///< 1000
};
/// The units in which a column may hold a quantity.
template <class Q>
struct Units;

/// @cond

template <>
struct Units<Current> {
    static constexpr UnitOf list[] = {{"A", 1}, {"mA", 1e-3}, {"kA", 1e3}};
    static Current make(double si) { return si * unit::ampere; }
};
template <>
struct Units<Ratio> {
    static constexpr UnitOf list[] = {{"1", 1}, {"%", 1e-2}};
    static Ratio make(double si) { return si * unit::one; }
};
template <>
struct Units<ImpedancePerLength> {
    static constexpr UnitOf list[] = {
        {"ohm/km", 1e-3}, {"ohm/kft", 1 / 304.8}, {"mV/A/m", 1e-3}, {"ohm/m", 1}};
    static ImpedancePerLength make(double si) { return si * unit::ohm_per_metre; }
};
template <>
struct Units<Volume> {
    static constexpr UnitOf list[] = {{"in3", in(unit::cm3, unit::in3)}, {"cm3", 1}};
    static Volume make(double cm3) { return cm3 * unit::cm3; }
};
template <>
struct Units<Length> {
    static constexpr UnitOf list[] = {{"m", 1}, {"ft", 0.3048}, {"in", 0.0254}, {"mm", 1e-3}};
    static Length make(double si) { return si * unit::metre; }
};
template <>
struct Units<Duration> {
    static constexpr UnitOf list[] = {{"s", 1}, {"min", 60}, {"h", 3600}};
    static Duration make(double si) { return si * unit::second; }
};
template <>
struct Units<Voltage> {
    static constexpr UnitOf list[] = {{"V", 1}};
    static Voltage make(double si) { return si * unit::volt; }
};
template <>
struct Units<Impedance> {
    static constexpr UnitOf list[] = {{"ohm", 1}, {"Mohm", 1e6}};
    static Impedance make(double si) { return si * unit::ohm; }
};
template <>
struct Units<Power> {
    static constexpr UnitOf list[] = {{"W", 1}, {"kW", 1e3}, {"hp", in(unit::watt, unit::horsepower)}};
    static Power make(double si) { return si * unit::watt; }
};
template <>
struct Units<Frequency> {
    static constexpr UnitOf list[] = {{"Hz", 1}};
    static Frequency make(double si) { return si * unit::hertz; }
};
template <>
struct Units<JouleIntegral> {
    static constexpr UnitOf list[] = {{"A2s", 1}};
    static JouleIntegral make(double si) { return si * unit::ampere2_second; }
};
template <>
struct Units<PerKelvin> {
    static constexpr UnitOf list[] = {{"1/K", 1}};
    static PerKelvin make(double si) { return si * unit::per_kelvin; }
};
template <>
struct Units<AdiabaticFactor> {
    static constexpr UnitOf list[] = {{"A*s^0.5/mm2", 1}};
    static AdiabaticFactor make(double printed) { return printed * unit::ampere_root_second_per_mm2; }
};
template <>
struct Units<Resistivity> {
    static constexpr UnitOf list[] = {{"ohm*mm2/m", 1e-6}};
    static Resistivity make(double si) { return si * unit::ohm_metre; }
};
template <>
struct Units<Temperature> {
    static constexpr UnitOf list[] = {{"degC", 1}};
    static Temperature make(double degrees) { return celsius(degrees); }
};
/// @endcond

}  // namespace benchfeed::tables
