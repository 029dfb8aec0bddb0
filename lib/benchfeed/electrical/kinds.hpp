#pragma once
// Kinds of things that figures depend on. Their order is that of the rows of the tables that tell them apart,
// which the sources beside this header ask of the compiler.
#include <cstdint>

namespace benchfeed::electrical {

/// The family of standards that is followed.
enum class CodeFamily : std::uint8_t { iec, nec };

/// Rows of table motor-kinds; `none`: a heater or a filament.
enum class Motor : std::uint8_t { universal, induction, electronic, none };

/// Rows of table device-functions.
enum class DeviceStandard : std::uint8_t {
    iec_60898,
    iec_61009,
    iec_61008,
    iec_60947_2,
    iec_60934,
    iec_60269_gg,
    bs_88_3,
    bs_1361,
    bs_1362,
    bs_3036,
    ul_489,
    ul_943,
    ul_1077,
    ul_248,
    iec_60269_am,
    iec_61540,
    bs_88_2
};

/// The letter of a circuit breaker: rows of table iec-60898-instantaneous.
enum class Curve : std::uint8_t { b, c, d };

/// How a fixed cable lies: the reference methods of IEC 60364-5-52, then the words of the NEC.
enum class Method : std::uint8_t { a1, a2, b1, b2, c, d1, d2, e, f, cable, conduit, free_air };

enum class Metal : std::uint8_t { copper, aluminium, copper_clad_aluminium };
enum class Strands : std::uint8_t { solid, stranded, fine };

}  // namespace benchfeed::electrical
