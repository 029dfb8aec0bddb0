#pragma once
// Large plans of many like benches, and of many motors in sets of a hundred.
#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace benchfeed::bench {

/// A supply that can feed them all, and one cable.
inline const std::string one_supply =
    "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
    "earthing = \"TN-S\"\nloop_impedance = \"0.006 ohm\"\nline_impedance = \"0.005 ohm\"\n"
    "fault_current = \"50 kA\"\n[stock.run]\ntype = \"H05VV-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";

/// Loads in sets of so many, one after another.
inline std::string in_sets(int loads, int in_a_set) {
    std::string plan;
    for (int first = 0; first < loads; first += in_a_set) {
        std::string names;
        for (int i = first; i < std::min(first + in_a_set, loads); ++i)
            names += fmt::format("  \"l{}\",\n", i);
        plan += fmt::format("[[together]]\nname = \"set{}\"\nloads = [\n{}]\n", first, names);
    }
    return plan;
}

/// Benches of five elements on one supply.
inline std::string plan_of(int benches) {
    std::string plan = one_supply;
    for (int i = 0; i < benches; ++i)
        plan += fmt::format(
            "[device.d{0}]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 "
            "A\"\n"
            "residual = {{ trip = \"30 mA\", wave = \"A\" }}\n[outlet.wall{0}]\nfrom = \"device.d{0}\"\n"
            "pattern = \"CEE 7/3\"\nearth = \"tested\"\n[box.b{0}]\nfrom = \"outlet.wall{0}\"\n"
            "plug = \"CEE 7/7\"\ncable = {{ stock = \"run\", length = \"3 m\" }}\n[outlet.o{0}]\n"
            "from = \"box.b{0}\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.l{0}]\nfrom = "
            "\"outlet.o{0}\"\n"
            "motor = \"none\"\nlatched = false\nplate = {{ current = \"4 A\", voltage = \"230 V\" }}\n",
            i);
    constexpr int most_loads = 200;  // of a set, at every size: the drop of each depends on all
    return plan + in_sets(benches, most_loads);
}

/// Motors on one box, each in one of many sets.
inline std::string motors_in_sets(int motors, int in_a_set) {
    std::string plan =
        one_supply +
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 A\"\n"
        "residual = { trip = \"30 mA\", wave = \"A\" }\n[outlet.wall]\nfrom = \"device.d\"\n"
        "pattern = \"CEE 7/3\"\nearth = \"tested\"\n[box.j]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n"
        "cable = { stock = \"run\", length = \"3 m\" }\n";
    for (int i = 0; i < motors; ++i)
        plan += fmt::format(
            "[outlet.o{0}]\nfrom = \"box.j\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.l{0}]\nfrom = "
            "\"outlet.o{0}\"\nmotor = \"universal\"\nlatched = false\nplate = {{ current = \"0.04 A\", "
            "voltage = "
            "\"230 V\" }}\n",
            i);
    return plan + in_sets(motors, in_a_set);
}

}  // namespace benchfeed::bench
