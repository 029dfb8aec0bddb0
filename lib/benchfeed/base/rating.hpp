#pragma once
// Marks that are printed in one of several units, kept as printed.
#include <variant>

#include <benchfeed/base/quantity.hpp>

namespace benchfeed {

/// Mechanical power printed in hp. 1 hp counts as 746 W.
struct Horsepower {
    Power power{};
    friend bool operator==(const Horsepower&, const Horsepower&) = default;
};

/// "230 V" (both ends alike) or "220-240 V".
struct VoltageRange {
    Voltage low{}, high{};
    friend bool operator==(const VoltageRange&, const VoltageRange&) = default;
};

/// Volts times amps, printed in VA. A type of its own, so that no VA is taken for the W of a load.
struct ApparentPower {
    Power size{};  ///< in W, as volts times amps are
    friend bool operator==(const ApparentPower&, const ApparentPower&) = default;
};

using CurrentOrPower = std::variant<Current, Power>;
using MotorRating = std::variant<Current, Horsepower>;
/// What a generator or an inverter gives, as its plate prints it.
using SourcePower = std::variant<Power, ApparentPower>;

}  // namespace benchfeed
