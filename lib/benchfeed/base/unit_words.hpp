#pragma once
// The units that a plan may write, and what people write instead. For the reader of quantities alone.
#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed {

enum class Dimension : std::uint8_t {
    length,
    section,
    current,
    voltage,
    power,
    horsepower,
    impedance,
    temperature,
    volume,
    frequency,
    ratio,
    apparent_power
};

inline std::string_view name(Dimension dimension) {
    constexpr std::array<std::string_view, 12> names{
        "a length",     "a section",     "a current", "a voltage",   "a power",      "a horsepower",
        "an impedance", "a temperature", "a volume",  "a frequency", "a percentage", "an apparent power"};
    return names[static_cast<std::size_t>(dimension)];
}

/// Every unit that a plan may write. `scale` leads to SI base units; temperatures have an offset and AWG a
/// formula of their own.
struct UnitName {
    std::string_view word;
    Dimension dimension;
    double scale;
    bool listed;  ///< named in messages; the other spellings read the same
};
inline constexpr std::array unit_names{
    UnitName{"m", Dimension::length, 1, true},
    UnitName{"ft", Dimension::length, in(unit::metre, unit::foot), true},
    UnitName{"in", Dimension::length, in(unit::metre, unit::inch), true},
    UnitName{"cm", Dimension::length, 1e-2, false},
    UnitName{"mm", Dimension::length, 1e-3, false},
    UnitName{"mm2", Dimension::section, 1e-6, true},
    UnitName{"mm²", Dimension::section, 1e-6, false},
    UnitName{"AWG", Dimension::section, 0, true},
    UnitName{"A", Dimension::current, 1, true},
    UnitName{"mA", Dimension::current, 1e-3, true},
    UnitName{"kA", Dimension::current, 1e3, true},
    UnitName{"V", Dimension::voltage, 1, true},
    UnitName{"W", Dimension::power, 1, true},
    UnitName{"kW", Dimension::power, 1e3, true},
    UnitName{"VA", Dimension::apparent_power, 1, true},
    UnitName{"kVA", Dimension::apparent_power, 1e3, true},
    UnitName{"hp", Dimension::horsepower, in(unit::watt, unit::horsepower), true},
    UnitName{"ohm", Dimension::impedance, 1, true},
    UnitName{"mohm", Dimension::impedance, 1e-3, true},
    UnitName{"Ω", Dimension::impedance, 1, false},
    UnitName{"mΩ", Dimension::impedance, 1e-3, false},
    UnitName{"degC", Dimension::temperature, 1, true},
    UnitName{"degF", Dimension::temperature, 1, true},
    UnitName{"°C", Dimension::temperature, 1, false},
    UnitName{"°F", Dimension::temperature, 1, false},
    UnitName{"cm3", Dimension::volume, 1e-6, true},
    UnitName{"cm³", Dimension::volume, 1e-6, false},
    UnitName{"in3", Dimension::volume, in(unit::cm3, unit::in3) * 1e-6, true},
    UnitName{"in³", Dimension::volume, in(unit::cm3, unit::in3) * 1e-6, false},
    UnitName{"Hz", Dimension::frequency, 1, true},
    UnitName{"%", Dimension::ratio, 0.01, true},
};

/// What people write instead, and what it should be.
struct Slip {
    std::string_view written, meant;
};
inline constexpr std::array slips{
    Slip{"a", "A"},       Slip{"amp", "A"},    Slip{"amps", "A"},    Slip{"Amp", "A"},
    Slip{"ampere", "A"},  Slip{"ma", "mA"},    Slip{"MA", "mA"},     Slip{"Ma", "mA"},
    Slip{"ka", "kA"},     Slip{"KA", "kA"},    Slip{"v", "V"},       Slip{"volt", "V"},
    Slip{"volts", "V"},   Slip{"VAC", "V"},    Slip{"w", "W"},       Slip{"watt", "W"},
    Slip{"watts", "W"},   Slip{"kw", "kW"},    Slip{"KW", "kW"},     Slip{"Kw", "kW"},
    Slip{"HP", "hp"},     Slip{"Hp", "hp"},    Slip{"PS", "hp"},     Slip{"MM2", "mm2"},
    Slip{"m2", "mm2"},    Slip{"sqmm", "mm2"}, Slip{"qmm", "mm2"},   Slip{"mm^2", "mm2"},
    Slip{"sq mm", "mm2"}, Slip{"awg", "AWG"},  Slip{"ga", "AWG"},    Slip{"gauge", "AWG"},
    Slip{"M", "m"},       Slip{"meter", "m"},  Slip{"metre", "m"},   Slip{"meters", "m"},
    Slip{"metres", "m"},  Slip{"'", "ft"},     Slip{"feet", "ft"},   Slip{"foot", "ft"},
    Slip{"FT", "ft"},     Slip{"\"", "in"},    Slip{"inch", "in"},   Slip{"inches", "in"},
    Slip{"Ohm", "ohm"},   Slip{"ohms", "ohm"}, Slip{"OHM", "ohm"},   Slip{"mOhm", "mohm"},
    Slip{"C", "degC"},    Slip{"F", "degF"},   Slip{"hz", "Hz"},     Slip{"HZ", "Hz"},
    Slip{"cc", "cm3"},    Slip{"ccm", "cm3"},  Slip{"cu in", "in3"}, Slip{"percent", "%"},
    Slip{"va", "VA"},     Slip{"kva", "kVA"},  Slip{"KVA", "kVA"},
};

/// "m, ft or in": the units that messages name.
[[nodiscard]] std::string units_listed(std::span<const Dimension> dimensions);

}  // namespace benchfeed
