#pragma once
// Every physical quantity of the project, in SI base units inside, named by what it is.
// A raw number enters as `1.5 * unit::mm2` and leaves only by `in(unit::mm2, area)`; nothing else in
// the project calls .value(), because for scaled units Boost's .value() ignores the scale.
#include <boost/units/absolute.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/area.hpp>
#include <boost/units/systems/si/current.hpp>
#include <boost/units/systems/si/dimensionless.hpp>
#include <boost/units/systems/si/electric_potential.hpp>
#include <boost/units/systems/si/frequency.hpp>
#include <boost/units/systems/si/length.hpp>
#include <boost/units/systems/si/power.hpp>
#include <boost/units/systems/si/resistance.hpp>
#include <boost/units/systems/si/resistivity.hpp>
#include <boost/units/systems/si/temperature.hpp>
#include <boost/units/systems/si/time.hpp>
#include <boost/units/systems/si/volume.hpp>

#include <cmath>
#include <complex>

namespace benchfeed {

namespace bu = boost::units;

using Ratio = bu::quantity<bu::si::dimensionless>;
using Length = bu::quantity<bu::si::length>;
using Area = bu::quantity<bu::si::area>;
using Volume = bu::quantity<bu::si::volume>;
using Duration = bu::quantity<bu::si::time>;
using Frequency = bu::quantity<bu::si::frequency>;
using Current = bu::quantity<bu::si::current>;
using Voltage = bu::quantity<bu::si::electric_potential>;
using Power = bu::quantity<bu::si::power>;  ///< W; apparent power in VA is named so where it occurs
using Impedance = bu::quantity<bu::si::resistance>;
using Resistivity = bu::quantity<bu::si::resistivity>;
using TemperatureRise = bu::quantity<bu::si::temperature>;
/// A point on the thermometer. A difference of two is a TemperatureRise, another type.
using Temperature = bu::quantity<bu::absolute<bu::si::temperature>>;
using ImpedancePerLength = bu::quantity<bu::divide_typeof_helper<bu::si::resistance, bu::si::length>::type>;
using PerKelvin = bu::quantity<bu::divide_typeof_helper<bu::si::dimensionless, bu::si::temperature>::type>;
/// Let-through of a device, or what a conductor withstands: current squared times time [A^2 s].
using JouleIntegral = bu::quantity<bu::multiply_typeof_helper<
    bu::multiply_typeof_helper<bu::si::current, bu::si::current>::type, bu::si::time>::type>;

/// What a conductor's metal and insulation stand of a short fault, per section [A s^0.5 / mm2 in print].
using AdiabaticFactor = bu::quantity<bu::divide_typeof_helper<
    bu::multiply_typeof_helper<bu::si::current,
                               bu::root_typeof_helper<bu::si::time, bu::static_rational<2>>::type>::type,
    bu::si::area>::type>;

using CurrentPhasor = bu::quantity<bu::si::current, std::complex<double>>;
using VoltagePhasor = bu::quantity<bu::si::electric_potential, std::complex<double>>;
using ComplexImpedance = bu::quantity<bu::si::resistance, std::complex<double>>;
using ComplexPower = bu::quantity<bu::si::power, std::complex<double>>;  ///< P + jQ [W, var]

/// Units to multiply a number with and to hand to in(). Each is a quantity of size one.
namespace unit {
inline constexpr auto metre = Length::from_value(1.0);
inline constexpr auto millimetre = Length::from_value(1e-3);
inline constexpr auto centimetre = Length::from_value(1e-2);
inline constexpr auto kilometre = Length::from_value(1e3);
inline constexpr auto foot = Length::from_value(0.3048);
inline constexpr auto kilofoot = Length::from_value(304.8);
inline constexpr auto inch = Length::from_value(0.0254);
inline constexpr auto mm2 = Area::from_value(1e-6);
inline constexpr auto circular_mil = Area::from_value(5.067074790974977e-10);  // pi/4 * (0.0254 mm)^2
inline constexpr auto cm3 = Volume::from_value(1e-6);
inline constexpr auto in3 = Volume::from_value(0.0254 * 0.0254 * 0.0254);
inline constexpr auto second = Duration::from_value(1.0);
inline constexpr auto millisecond = Duration::from_value(1e-3);
inline constexpr auto hour = Duration::from_value(3600.0);
inline constexpr auto hertz = Frequency::from_value(1.0);
inline constexpr auto ampere = Current::from_value(1.0);
inline constexpr auto milliampere = Current::from_value(1e-3);
inline constexpr auto kiloampere = Current::from_value(1e3);
inline constexpr auto volt = Voltage::from_value(1.0);
inline constexpr auto millivolt = Voltage::from_value(1e-3);
inline constexpr auto watt = Power::from_value(1.0);
inline constexpr auto kilowatt = Power::from_value(1e3);
/// 746 W, the round figure that NEC practice and plates use (550 ft lbf/s is 745.70 W).
inline constexpr auto horsepower = Power::from_value(746.0);
inline constexpr auto ohm = Impedance::from_value(1.0);
inline constexpr auto milliohm = Impedance::from_value(1e-3);
inline constexpr auto ohm_metre = Resistivity::from_value(1.0);
inline constexpr auto ohm_per_metre = ImpedancePerLength::from_value(1.0);
inline constexpr auto ohm_per_kilometre = ImpedancePerLength::from_value(1e-3);
inline constexpr auto ohm_per_kilofoot = ImpedancePerLength::from_value(1.0 / 304.8);
inline constexpr auto per_kelvin = PerKelvin::from_value(1.0);
inline constexpr auto kelvin = TemperatureRise::from_value(1.0);
inline constexpr auto ampere2_second = JouleIntegral::from_value(1.0);
inline constexpr auto ampere_root_second_per_mm2 = AdiabaticFactor::from_value(1e6);
inline constexpr Ratio one = Ratio::from_value(1.0);
inline constexpr Ratio percent = Ratio::from_value(0.01);
}  // namespace unit

/// The number of `unit_of_it` in `quantity`: in(unit::mm2, area). The dimensions must agree.
template <class Unit>
[[nodiscard]] constexpr double in(const bu::quantity<Unit>& unit_of_it, const bu::quantity<Unit>& quantity) {
    return quantity.value() / unit_of_it.value();
}

inline constexpr double kelvin_at_0_celsius = 273.15;

/// Temperature from degrees Celsius.
[[nodiscard]] constexpr Temperature celsius(double degrees) {
    return Temperature::from_value(degrees + kelvin_at_0_celsius);
}
/// Degrees Celsius of a temperature.
[[nodiscard]] constexpr double in_celsius(const Temperature& t) {
    return t.value() - kelvin_at_0_celsius;
}

/// Temperature from degrees Fahrenheit.
[[nodiscard]] constexpr Temperature fahrenheit(double degrees) {
    return celsius((degrees - 32.0) / 1.8);
}
/// Degrees Fahrenheit of a temperature.
[[nodiscard]] constexpr double in_fahrenheit(const Temperature& t) {
    return in_celsius(t) * 1.8 + 32.0;
}

/// Length of a phasor. Boost's abs() of a complex quantity stays complex, hence this one; std::abs() guards
/// against squares beyond 1e308, which nothing here comes near, and takes longer.
template <class Unit>
[[nodiscard]] bu::quantity<Unit> magnitude(const bu::quantity<Unit, std::complex<double>>& phasor) {
    return bu::quantity<Unit>::from_value(std::sqrt(std::norm(phasor.value())));
}
template <class Unit>
[[nodiscard]] bu::quantity<Unit> real_part(const bu::quantity<Unit, std::complex<double>>& phasor) {
    return bu::quantity<Unit>::from_value(phasor.value().real());
}
template <class Unit>
[[nodiscard]] bu::quantity<Unit> imag_part(const bu::quantity<Unit, std::complex<double>>& phasor) {
    return bu::quantity<Unit>::from_value(phasor.value().imag());
}
template <class Unit>
[[nodiscard]] bu::quantity<Unit, std::complex<double>> conjugate(
    const bu::quantity<Unit, std::complex<double>>& phasor) {
    return bu::quantity<Unit, std::complex<double>>::from_value(std::conj(phasor.value()));
}
/// Phasor from its two parts.
template <class Unit>
[[nodiscard]] bu::quantity<Unit, std::complex<double>> rectangular(const bu::quantity<Unit>& real,
                                                                   const bu::quantity<Unit>& imaginary) {
    return bu::quantity<Unit, std::complex<double>>::from_value({real.value(), imaginary.value()});
}
/// A phasor of the given length whose angle has this cosine and sine.
template <class Unit>
[[nodiscard]] bu::quantity<Unit, std::complex<double>> turned(const bu::quantity<Unit>& length, Ratio cosine,
                                                              Ratio sine) {
    return rectangular(bu::quantity<Unit>(length * cosine), bu::quantity<Unit>(length * sine));
}

}  // namespace benchfeed
