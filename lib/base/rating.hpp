#pragma once
// Marks that are printed in one of several units, kept as printed.
#include <variant>

#include "base/quantity.hpp"

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

using CurrentOrPower = std::variant<Current, Power>;
using MotorRating = std::variant<Current, Horsepower>;

}  // namespace benchfeed
