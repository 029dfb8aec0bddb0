#pragma once
// Conductor sections: square millimetres or AWG, kept as they were written.
#include <compare>
#include <optional>
#include <string>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>

namespace benchfeed {

/// American wire gauge number: 14 for 14 AWG, 0 for 1/0, -1 for 2/0, -3 for 4/0.
struct Awg {
    int number = 0;
    friend auto operator<=>(const Awg&, const Awg&) = default;
};

inline constexpr Awg thickest_awg{-3};
inline constexpr Awg thinnest_awg{36};

/// Diameter of a solid round conductor of that gauge.
///
///     d = 0.005 in * 92^((36 - n) / 39)
///
/// Units   length.   Source  ASTM B258 (definition of the gauge).   Pre  -3 <= n <= 36.
[[nodiscard]] BENCHFEED_API Length awg_diameter(Awg gauge);
/// Area of a solid round conductor of that gauge, pi/4 d^2.
[[nodiscard]] BENCHFEED_API Area awg_area(Awg gauge);
/// Gauge as written: "14 AWG", "2/0 AWG".
[[nodiscard]] BENCHFEED_API std::string awg_text(Awg gauge);

/// A conductor section as it was written. 1.5 mm2 and 16 AWG (1.31 mm2) are never the same.
struct Section {
    Area area{};
    std::optional<Awg> gauge;  ///< set when written in AWG
    /// The same section as printed: 2.5 mm2 is no 14 AWG, whatever its copper.
    friend bool operator==(const Section& a, const Section& b) {
        return a.gauge == b.gauge && a.area == b.area;
    }
};
[[nodiscard]] BENCHFEED_API Section section_of(Awg gauge);
[[nodiscard]] BENCHFEED_API Section section_of(Area area);

/// Smallest standard metric section (IEC 60228) at or above the area; nothing above the last one listed.
[[nodiscard]] BENCHFEED_API std::optional<Area> next_metric_size(Area at_least);
/// Thinnest standard AWG size (even numbers, 1 and the aught sizes) at or above the area.
[[nodiscard]] BENCHFEED_API std::optional<Awg> next_awg_size(Area at_least);
/// "1.5 mm2" or "14 AWG".
[[nodiscard]] BENCHFEED_API std::string section_text(const Section& section);
/// The other way of saying it, for a reader who buys by the other system:
/// "12 AWG = 3.31 mm2, next standard size 4 mm2"; "1.5 mm2 lies between 16 and 14 AWG (1.31 and 2.08 mm2)".
[[nodiscard]] BENCHFEED_API std::string section_equivalent(const Section& section);

}  // namespace benchfeed
