#pragma once
// What a person knows of a bench before there is a plan. Each answer is in the words of plates and shops;
// what is not in it stays open.
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::advice {

/// The answers, as they are given: one for each option of `new`.
struct Answers {
    std::string region;                   ///< "EU"
    std::string supply;                   ///< "230/400 V TN-S 3 kA"
    std::string device;                   ///< "B16 30 mA type A 6 kA"
    std::string outlet, plug;             ///< "CEE 7/3"; "BS 1363 13 A", its fuse included
    std::string lead;                     ///< "3 m H07RN-F 3G1.5"
    std::vector<std::string> tools;       ///< "saw 1600 W 7.0 A universal"
    std::vector<std::string> extractors;  ///< "1200 W starts with saw"
    std::vector<std::string> loads;       ///< "lamp 20 W light"
    std::vector<std::string> switches;    ///< "2 poles 16(10) A no-volt": one for all tools, or one for each
};

/// Words of a plan: "" is what nobody said.
struct Outline {
    /// The supply at the panel.
    struct Supply {
        std::string system, earthing, circuit, loop_impedance, line_impedance, fault_current;
    };
    /// The device before the outlet in the wall.
    struct Device {
        std::string kind, standard, curve, rating, breaking, trip, wave, poles;
        bool residual = true;  ///< false: there is none, as somebody said
    };
    /// The cord of the bench.
    struct Cord {
        std::string length, type, section, cores;
        std::string protective;  ///< "true", "false"
    };
    /// A switch before a tool.
    struct Switch {
        std::string kind, standard, poles, rating, motor_rating, coil;
        bool no_volt = false;
    };
    /// What is plugged in.
    struct Load {
        std::string name, label, kind;  ///< "table-saw", "the table saw", "tool"
        std::string current, power_in, power_out, horsepower, voltage, motor, starts_with;
        bool soft_start = false, no_volt = false;
        bool three_phase = false;  ///< as its plate says in words
    };
    std::string region;
    Supply supply;
    Device device;
    std::string outlet, plug, fuse;
    Cord lead;
    std::vector<Load> loads;       ///< tools, then extractors, then others
    std::vector<Switch> switches;  ///< none, one for all tools and extractors, or one for each
};

/// What is known, in the words of a plan; or every word that is not understood, with what could stand there.
/// A diagnostic's path is the option: "--tool".
[[nodiscard]] BENCHFEED_API std::variant<Outline, Diagnostics> read_outline(const Answers& answers,
                                                                            const tables::Catalogue& tables);

}  // namespace benchfeed::advice
