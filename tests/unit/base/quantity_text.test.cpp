#include <doctest/doctest.h>

#include <benchfeed/base/quantity_text.hpp>
#include "support/prints_as.hpp"

using namespace benchfeed;

namespace {
template <class Q>
Q good(std::string_view text) {
    auto read = read_quantity<Q>(text, "field");
    if (const auto* fault = std::get_if<QuantityFault>(&read))
        FAIL(std::string(text) << ": " << fault->message);
    return std::get<Q>(read);
}
template <class Q>
QuantityFault bad(std::string_view text) {
    auto read = read_quantity<Q>(text, "length");
    REQUIRE_MESSAGE(std::holds_alternative<QuantityFault>(read), std::string(text) << " was read");
    return std::get<QuantityFault>(read);
}
bool same(double a, double b) {
    return std::abs(a - b) <= 1e-12 * std::abs(b);
}
}  // namespace

TEST_CASE("every unit of the plan format is read, SI and US") {
    CHECK(same(in(unit::metre, good<Length>("3 m")), 3));
    CHECK(same(in(unit::metre, good<Length>("3m")), 3));
    CHECK(same(in(unit::metre, good<Length>("50 ft")), 15.24));
    CHECK(same(in(unit::metre, good<Length>("6 in")), 0.1524));
    CHECK(same(in(unit::mm2, good<Section>("1.5 mm2").area), 1.5));
    CHECK(same(in(unit::mm2, good<Section>("1.5 mm²").area), 1.5));
    CHECK(good<Section>("14 AWG").gauge == Awg{14});
    CHECK(good<Section>("1/0 AWG").gauge == Awg{0});
    CHECK(good<Section>("4/0 AWG").gauge == Awg{-3});
    CHECK(same(in(unit::ampere, good<Current>("16 A")), 16));
    CHECK(same(in(unit::ampere, good<Current>("30 mA")), 0.03));
    CHECK(same(in(unit::ampere, good<Current>("6 kA")), 6000));
    CHECK(same(in(unit::volt, good<Voltage>("230 V")), 230));
    CHECK(same(in(unit::watt, good<Power>("1.1 kW")), 1100));
    CHECK(same(in(unit::horsepower, good<Horsepower>("1/2 hp").power), 0.5));
    CHECK(same(in(unit::horsepower, good<Horsepower>("1 1/2 hp").power), 1.5));
    CHECK(same(in(unit::horsepower, good<Horsepower>("1-1/2 hp").power), 1.5));
    CHECK(same(in(unit::ohm, good<Impedance>("80 mohm")), 0.08));
    CHECK(same(in(unit::ohm, good<Impedance>("0.8 Ω")), 0.8));
    CHECK(same(in_celsius(good<Temperature>("95 degF")), 35));
    CHECK(same(in_celsius(good<Temperature>("-5 °C")), -5));
    CHECK(same(in(unit::cm3, good<Volume>("8 in3")), 8 * 16.387064));
    CHECK(same(in(unit::hertz, good<Frequency>("50 Hz")), 50));
    CHECK(same(in(unit::percent, good<Ratio>("3 %")), 3));
    CHECK(same(in(unit::volt, good<VoltageRange>("220-240 V").high), 240));
    CHECK(std::holds_alternative<Power>(good<CurrentOrPower>("1800 W")));
    CHECK(std::holds_alternative<Horsepower>(good<MotorRating>("2 hp")));
}

TEST_CASE("the plate of a generator is read in W or in VA, and stays what it says") {
    CHECK(same(in(unit::watt, std::get<Power>(good<SourcePower>("2.8 kW"))), 2800));
    CHECK(same(in(unit::watt, std::get<ApparentPower>(good<SourcePower>("3 kVA")).size), 3000));
    CHECK(same(in(unit::watt, std::get<ApparentPower>(good<SourcePower>("950 VA")).size), 950));
    CHECK(to_text(ApparentPower{3000.0 * unit::watt}) == "3000 VA");
    CHECK(bad<SourcePower>("3 A").message == "length is a power or an apparent power; \"3 A\" is a current");
    CHECK(bad<SourcePower>("3").message == "length needs a unit: \"3\" could be W, kW, VA or kVA");
    CHECK(bad<SourcePower>("3 kva").help == "\"3 kVA\"");
    // VA of a tool's plate are not its W: the power factor lies between them.
    CHECK(bad<Power>("900 VA").message == "length is in W or kW; \"900 VA\" is volts times amps");
    CHECK(std::holds_alternative<QuantityFault>(read_quantity<CurrentOrPower>("900 VA", "limit")));
}

TEST_CASE("what is not the quantity is told in words, with what to write") {
    CHECK(bad<Length>("3 A").message == "length is a length; \"3 A\" is a current");
    CHECK(bad<Length>("3 A").help == "such as \"3 m\"");
    CHECK(bad<Length>("3").message == "length needs a unit: \"3\" could be m, ft or in");
    CHECK(bad<Length>("3,5 m").help == "\"3.5 m\", with a point");
    CHECK(bad<Current>("16 a").help == "\"16 A\"");
    CHECK(bad<Current>("30 MA").help == "\"30 mA\"");
    CHECK(bad<Section>("14 awg").help == "\"14 AWG\"");
    CHECK(bad<Section>("AWG 14").help == "\"14 AWG\"");
    CHECK(bad<Power>("2 hp").message == "length is in W or kW; \"2 hp\" belongs in horsepower");
    CHECK(bad<Voltage>("220-240 V").message == "length is one voltage, not a range");
    CHECK(bad<CurrentOrPower>("3 m").message == "length is a current or a power; \"3 m\" is a length");
}

TEST_CASE("impossible and hostile numbers are refused, never read as something else") {
    for (const char* text : {"", " ", "m", "-3 m", "+3 m", "1e3 m", "nan m", "inf m", "0x10 m", "1.2.3 m",
                             "..3 m", "3. m", "99999999 m", "3 m m", "1/2 m", "3 \xff", "١ m"})
        CHECK_MESSAGE(std::holds_alternative<QuantityFault>(read_quantity<Length>(text, "length")), text);
    for (const char* text : {"41 AWG", "1.5 AWG", "5/0 AWG", "1.5/0 AWG", "0/0 AWG", "-2 AWG"})
        CHECK_MESSAGE(std::holds_alternative<QuantityFault>(read_quantity<Section>(text, "section")), text);
    CHECK(std::holds_alternative<QuantityFault>(read_quantity<Section>("0 mm2", "section")));
    CHECK(std::holds_alternative<QuantityFault>(read_quantity<VoltageRange>("240-220 V", "voltage")));
}

TEST_CASE("what is printed reads back as the same, within its digits") {
    for (double x = 0.0123; x < 90000; x *= 1.37) {
        CAPTURE(x);
        const Current amps = x * unit::ampere;
        CHECK(test::agrees(in(unit::ampere, good<Current>(to_text(amps, 6))), x, 1e-5));
        CHECK(test::agrees(in(unit::metre, good<Length>(to_text((x / 10) * unit::metre, 6))), x / 10, 1e-5));
    }
    CHECK(digits(9.996, 3) == "10.0");
    CHECK(digits(0.00099996, 3) == "0.00100");
    CHECK(digits(1600, 3) == "1600");
    CHECK(digits(-2.345, 2) == "-2.3");
    CHECK(to_text(16.0 * unit::ampere) == "16 A");
    CHECK(to_text(0.03 * unit::ampere) == "30 mA");
}
