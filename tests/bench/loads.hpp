#pragma once
// Benches of many loads, so many as asked for: each kind is hard in its own way.
#include <fmt/format.h>

#include <chrono>
#include <functional>
#include <string>

#include "support/random_bench.hpp"

namespace benchfeed::bench {

inline std::string head(const char* system, const char* lines, const char* section, int metres, int rating) {
    return fmt::format(
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"{}\"\nearthing = "
        "\"TN-S\"\n"
        "loop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 ohm\"\n[device.d]\nfrom = \"supply.s\"\n"
        "kind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"{} A\"\nconductors = \"{}\"\n[stock.lead]\n"
        "type = \"H07RN-F\"\nsection = \"{}\"\ncores = 5\n[stock.run]\ntype = \"H05VV-F\"\nsection = \"1.5 "
        "mm2\"\n"
        "cores = 3\n[outlet.wall]\nfrom = \"device.d\"\npattern = \"{}\"\nconductors = \"{}\"\nexisting = "
        "true\n"
        "[box.j]\nfrom = \"outlet.wall\"\nplug = \"{}\"\nconductors = \"{}\"\ncable = {{ stock = \"lead\", "
        "length = \"{} m\" }}\n",
        system, rating, lines, section, lines == std::string("L1-N") ? "CEE 7/3" : "IEC 60309 16 A 3P+N+E",
        lines, lines == std::string("L1-N") ? "CEE 7/7" : "IEC 60309 16 A 3P+N+E", lines, metres);
}

inline std::string load(int i, const std::string& line, double amps, double metres, const char* motor,
                        bool factor) {
    return fmt::format(
        "[switch.w{0}]\nfrom = \"box.j\"\nconductors = \"{1}\"\ncable = {{ stock = \"run\", length = "
        "\"{3:.1f} m\" }}\n"
        "poles = 2\nrating = \"16 A\"\nmotor_rating = \"12 A\"\n[outlet.o{0}]\nfrom = "
        "\"switch.w{0}\"\nconductors = "
        "\"{1}\"\npattern = \"CEE 7/3\"\n[load.l{0}]\nfrom = \"outlet.o{0}\"\nconductors = \"{1}\"\nmotor = "
        "\"{4}\"\n"
        "plate = {{ current = \"{2:.2f} A\", voltage = \"230 V\"{5} }}\n",
        i, line, amps, metres, motor,
        factor ? fmt::format(", power_factor = {:.2f}", 0.6 + 0.4 * (i % 7) / 7) : "");
}

inline std::string unlike(int count, const char* section, int metres) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230 V", "L1-N", section, metres, 16);
    for (int i = 0; i < count; ++i) {
        const double amps = random.between(0.5, 9), run = random.between(1, 5);
        plan += load(i, "L1-N", amps, run, i % 3 == 0 ? "none" : "universal", false);
    }
    return plan;
}
inline std::string small(int count) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230 V", "L1-N", "2.5 mm2", 5, 16);
    for (int i = 0; i < count; ++i) {
        const double amps = random.between(0.2, 0.8);
        plan += load(i, "L1-N", amps, 2, "none", false);
    }
    return plan;
}
inline std::string phasors(int count) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230 V", "L1-N", "2.5 mm2", 5, 16);
    for (int i = 0; i < count; ++i) {
        const double amps = random.between(0.5, 9);
        plan += load(i, "L1-N", amps, 2, "universal", true);
    }
    return plan;
}
inline std::string mixed_factors(int count) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230 V", "L1-N", "2.5 mm2", 5, 16);
    for (int i = 0; i < count; ++i) {
        const double amps = random.between(0.2, 0.8);
        plan += load(i, "L1-N", amps, 2, "universal", i % 2 == 0);
    }
    return plan;
}
/// Four tools that nearly fill the plug, and small loads with a lag of which any few are too many.
inline std::string nearly_full(int count) {
    std::string plan = head("230 V", "L1-N", "2.5 mm2", 5, 16);
    const double tools[] = {7, 6.1, 5.2, 2.8};
    for (int i = 0; i < count; ++i)
        plan += load(i, "L1-N", i < 4 ? tools[i] : 0.012 + 0.01 * (i % 97) / 97, 2, "universal", i >= 4);
    return plan;
}
inline std::string three_lines(int count) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230/400 V", "L1-L2-L3-N", "2.5 mm2", 10, 16);
    const char* lines[] = {"L1-N", "L2-N", "L3-N"};
    for (int i = 0; i < count; ++i) {
        const double amps = random.between(0.5, 9);
        plan += load(i, lines[i % 3], amps, 2, "universal", i % 2 == 0);
    }
    return plan;
}

/// The slowest kind that a search over systems, cords, amps, factors and boxes met: three lines, eight boxes
/// in a chain, a third of the factors printed, everything of nearly the same size.
inline std::string slowest_found(int count) {
    test::BenchDice random(static_cast<unsigned>(count));
    std::string plan = head("230/400 V", "L1-L2-L3-N", "1.5 mm2", 10, 32);
    for (int k = 1; k < 8; ++k)
        plan += fmt::format(
            "[box.j{}]\nfrom = \"box.j{}\"\nconductors = \"L1-L2-L3-N\"\n"
            "cable = {{ stock = \"lead\", length = \"2 m\" }}\n",
            k, k == 1 ? std::string() : std::to_string(k - 1));
    const char* lines[] = {"L1-N", "L2-N", "L3-N"};
    for (int i = 0; i < count; ++i) {
        const int box = random.from(0, 7);
        const double amps = random.between(1, 2);
        const auto motor = random.one_of<std::string>({"universal", "none", "induction", "electronic"});
        const bool factor = random.chance(0.3);
        plan += fmt::format(
            "[load.l{}]\nfrom = \"box.j{}\"\nconductors = \"{}\"\nmotor = \"{}\"\n"
            "plate = {{ current = \"{:.3f} A\", voltage = \"230 V\", start_current = \"{:.2f} A\"{} }}\n",
            i, box == 0 ? std::string() : std::to_string(box), lines[i % 3], motor, amps, 6 * amps,
            factor ? fmt::format(", power_factor = {:.3f}", 0.6 + 0.4 * (i % 97) / 97) : "");
    }
    return plan;
}

/// All loads as one declared set.
inline std::string as_one_set(std::string plan, int count) {
    plan += "[[together]]\nname = \"all\"\nloads = [\n";
    for (int i = 0; i < count; ++i) plan += fmt::format("\"l{}\",\n", i);
    return plan + "]\n";
}

/// Seconds that the quickest of so many rounds takes.
inline double time_of(const std::function<void()>& work, int rounds = 3) {
    double best = 1e9;
    for (int round = 0; round < rounds; ++round) {
        const auto start = std::chrono::steady_clock::now();
        work();
        best =
            std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return best;
}

}  // namespace benchfeed::bench
