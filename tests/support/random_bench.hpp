#pragma once
// Random benches with everything that decides who may run together: shared cords, switches, outlets in
// turns, changeover, machines with sockets, loads that start by themselves or with others, twins.
#include <fmt/format.h>

#include <random>
#include <string>
#include <vector>

namespace benchfeed::test {

struct BenchDice {
    std::mt19937 engine;
    explicit BenchDice(unsigned seed) : engine(seed) {}
    double between(double a, double b) { return std::uniform_real_distribution<double>(a, b)(engine); }
    int from(int a, int b) { return std::uniform_int_distribution<int>(a, b)(engine); }
    bool chance(double p) { return between(0, 1) < p; }
    template <class T>
    const T& one_of(const std::vector<T>& list) {
        return list[static_cast<std::size_t>(from(0, static_cast<int>(list.size()) - 1))];
    }
};

struct BenchOptions {
    std::string system = "230 V";
    std::string region = {};  ///< "" = EU, or US for its systems
    bool whole = false;       ///< with site, wall outlet, residual device and what a hand does at a switch
    int loads = 6;
    bool factors_known = false;  ///< a power factor on every plate; otherwise on some
    bool factors_absent = false;
    bool extras =
        true;  ///< turns, changeover, sockets, loads that start others or by themselves, unknown plates
};

class RandomBench {
public:
    RandomBench(BenchDice& random, const BenchOptions& options) : random_(random), options_(options) {}

    std::string plan() {
        us_ = options_.system.starts_with("120");
        one_line_ = options_.system == "230 V" || options_.system == "240 V" || options_.system == "120 V";
        if (options_.region.empty()) options_.region = us_ ? "US" : "EU";
        head();
        for (made_ = 0; made_ < options_.loads;) add_place();
        return text_;
    }

private:
    void head() {
        // One figure at a time: compilers differ in the order in which they make arguments.
        const double source = random_.between(0.1, 0.5);
        const int rating = random_.one_of<int>({10, 16, 20, 32});
        const char* lines = one_line_ ? "L1-N" : options_.system == "120/240 V" ? "L1-L2-N" : "L1-L2-L3-N";
        text_ += fmt::format(
            "format = 1\n[plan]\nregion = \"{}\"\nmounting = \"{}\"\n{}[supply.s]\nsystem = \"{}\"\n"
            "earthing = \"{}\"\nline_impedance = \"{:.2f} ohm\"\nloop_impedance = \"0.6 ohm\"\n"
            "fault_current = \"2 kA\"\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\n"
            "conductors = \"{}\"\nrating = \"{} A\"\n",
            options_.region, options_.whole && one_line_ ? "mobile" : "fixed", options_.whole ? site() : "",
            options_.system,
            us_                                     ? "TN-C-S"
            : options_.whole && random_.chance(0.2) ? "TT"
                                                    : "TN-S",
            source, lines, rating);
        if (!us_) text_ += fmt::format("curve = \"{}\"\n", random_.one_of<std::string>({"B", "C", "D"}));
        if (options_.whole && random_.chance(0.7))
            text_ +=
                us_ ? "residual = { trip = \"5 mA\" }\n" : "residual = { trip = \"30 mA\", wave = \"A\" }\n";
        stock("cord");
        stock("run");
        const bool wall = options_.whole && one_line_;
        if (wall) wall_outlet(rating);
        text_ += fmt::format(
            "[box.main]\nfrom = \"{}\"\nconductors = \"{}\"\ncable = {{ stock = \"cord\", length = "
            "\"{:.1f} m\""
            " }}\n",
            wall ? "outlet.wall" : "device.d", lines, random_.between(1, 25));
        if (wall) text_ += fmt::format("plug = \"{}\"\n", plug());
        if (options_.whole)
            text_ += fmt::format("material = \"{}\"\nterminals = \"{}\"\n",
                                 random_.one_of<std::string>({"plastic", "metal"}),
                                 random_.one_of<std::string>({"lever", "screw", "push-in"}));
    }
    std::string site() {
        const auto use = random_.one_of<std::string>({"dwelling", "school", "workplace"});
        const auto room = random_.one_of<std::string>({"garage", "basement", "outbuilding", "workshop"});
        return fmt::format("ambient = \"{} degC\"\n[site]\nuse = \"{}\"\nroom = \"{}\"\n",
                           random_.from(20, 45), use, room);
    }
    void wall_outlet(int rating) {
        const std::string section = us_ ? random_.one_of<std::string>({"14 AWG", "12 AWG"})
                                        : random_.one_of<std::string>({"1.5 mm2", "2.5 mm2", "4 mm2"});
        text_ += fmt::format("[stock.house]\ntype = \"{}\"\nsection = \"{}\"\ncores = 3\nexisting = true\n",
                             us_ ? "NM-B" : "PVC sheathed", section);
        const auto method = us_ ? std::string("cable") : random_.one_of<std::string>({"A2", "B2", "C"});
        const double length = random_.between(2, 30);
        text_ += fmt::format(
            "[outlet.wall]\nfrom = \"device.d\"\npattern = \"{}\"\nearth = \"tested\"\nexisting = true\n"
            "cable = {{ stock = \"house\", length = \"{:.1f} m\", method = \"{}\" }}\n",
            us_ && rating > 15 ? "5-20" : pattern("L1-N"), length, method);
    }
    std::string plug() const {
        if (us_) return "5-15";
        if (options_.region == "CH") return "T12";
        return options_.region == "EU" ? "CEE 7/7" : options_.region == "UK" ? "BS 1363" : "AS 3112 10 A";
    }
    void stock(const char* name) {
        text_ += fmt::format("[stock.{}]\ntype = \"{}\"\nsection = \"{}\"\ncores = 5\n", name,
                             us_ ? "SOOW" : "H07RN-F",
                             us_ ? random_.one_of<std::string>({"16 AWG", "14 AWG", "12 AWG"})
                                 : random_.one_of<std::string>({"1 mm2", "1.5 mm2", "2.5 mm2"}));
    }
    std::string cable() {
        return fmt::format("cable = {{ stock = \"run\", length = \"{:.1f} m\" }}\n", random_.between(0.5, 6));
    }
    std::string pair() {
        if (one_line_) return "L1-N";
        if (options_.system == "120/240 V") return random_.one_of<std::string>({"L1-N", "L2-N", "L1-L2"});
        return random_.one_of<std::string>({"L1-N", "L2-N", "L3-N", "L1-L2"});
    }
    std::string pattern(const std::string& conductors) const {
        if (options_.region == "UK") return "BS 1363";
        if (options_.region == "CH") return "T13";
        if (options_.region == "AU") return "AS 3112 10 A";
        if (!us_) return "CEE 7/3";
        return conductors == "L1-L2" ? "6-15" : "5-15";
    }

    void add_place() {
        const bool extras = options_.extras && one_line_;
        const std::string up =
            boxes_.empty() || random_.chance(0.6) ? "box.main" : random_.one_of<std::string>(boxes_);
        if (random_.chance(0.25)) {
            const std::string box = fmt::format("b{}", boxes_.size());
            text_ += fmt::format("[box.{}]\nfrom = \"{}\"\n{}", box, up, cable());
            if (!one_line_)
                text_ += fmt::format("conductors = \"{}\"\n",
                                     options_.system == "120/240 V" ? "L1-L2-N" : "L1-L2-L3-N");
            boxes_.push_back("box." + box);
            return;
        }
        if (extras && random_.chance(0.08) && made_ + 2 <= options_.loads) return changeover(up);
        const std::string conductors = pair();
        const bool between_lines = conductors == "L1-L2";
        if (between_lines && !us_) return load("load.l", up, conductors, "");
        const std::string from = random_.chance(0.5) ? a_switch(up, conductors) : up;
        const std::string outlet = an_outlet(from, conductors, 1);
        if (extras && random_.chance(0.12) && made_ + 2 <= options_.loads) {  // two tools, one way
            load("load.l", outlet, conductors, "");
            load("load.l", outlet, conductors, "");
        } else if (extras && random_.chance(0.12) && made_ + 2 <= options_.loads) {  // a socket on a machine
            const int carrier = made_;
            load("load.l", outlet, conductors, "kind = \"extractor\"\n");
            const std::string socket = fmt::format("outlet.s{}", outlets_++);
            text_ += fmt::format("[{}]\nfrom = \"load.l{}\"\npattern = \"{}\"\nlimit = \"{} A\"\n", socket,
                                 carrier, pattern("L1-N"), random_.from(3, 10));
            load("load.l", socket, conductors, "");
        } else {
            load("load.l", outlet, conductors, "");
        }
    }
    void changeover(const std::string& up) {
        const std::string name = fmt::format("switch.c{}", switches_++), cable_text = cable();
        const int motors = random_.from(4, 14);
        text_ += fmt::format(
            "[{}]\nfrom = \"{}\"\n{}poles = 2\nrating = \"16 A\"\nmotor_rating = \"{} A\"\n"
            "changeover = true\n",
            name, up, cable_text, motors);
        for (int i = 0; i < 2; ++i) load("load.l", an_outlet(name, "L1-N", 1), "L1-N", "");
    }
    std::string a_switch(const std::string& up, const std::string& conductors) {
        const std::string name = fmt::format("switch.w{}", switches_++);
        const int rating = random_.one_of<int>({6, 10, 16});
        text_ += fmt::format("[{}]\nfrom = \"{}\"\n{}poles = 2\nrating = \"{} A\"\nconductors = \"{}\"\n",
                             name, up, cable(), rating, conductors);
        if (random_.chance(0.6)) text_ += fmt::format("motor_rating = \"{} A\"\n", random_.from(3, rating));
        return name;
    }
    std::string an_outlet(const std::string& from, const std::string& conductors, int ways) {
        const std::string name = fmt::format("outlet.o{}", outlets_++);
        text_ += fmt::format("[{}]\nfrom = \"{}\"\npattern = \"{}\"\nconductors = \"{}\"\nways = {}\n", name,
                             from, pattern(conductors), conductors, ways);
        if (random_.chance(0.15)) text_ += fmt::format("limit = \"{} A\"\n", random_.from(2, 12));
        return name;
    }
    void load(const std::string& prefix, const std::string& from, const std::string& conductors,
              const std::string& more) {
        const bool between_lines = conductors == "L1-L2";
        const int volts = options_.system == "240 V" ? 240
                          : us_ ? (between_lines ? (options_.system == "120/208 V" ? 208 : 240) : 120)
                          : between_lines ? 400
                                          : 230;
        text_ += fmt::format("[{}{}]\nfrom = \"{}\"\nconductors = \"{}\"\n{}", prefix, made_, from,
                             conductors, more);
        const bool extras = options_.extras && one_line_ && more.empty();
        if (extras && made_ > 0 && random_.chance(0.08))
            text_ += fmt::format("starts_with = \"l{}\"\n", random_.from(0, made_ - 1));
        else if (extras && random_.chance(0.06))
            text_ += "self_starting = true\n";
        // Twins now and then: the plate of the load before.
        if (plates_.empty() || !random_.chance(0.35) || !one_line_) {
            const auto motor = random_.one_of<std::string>({"universal", "induction", "electronic", "none"});
            const double amps = random_.between(0.3, 9);
            std::string plate = fmt::format(
                "motor = \"{}\"\nplate = {{ current = \"{:.1f} A\", voltage = \"{} V\"", motor, amps, volts);
            if (options_.factors_known || (!options_.factors_absent && random_.chance(0.4)))
                plate += fmt::format(", power_factor = {:.2f}", random_.between(0.5, 1));
            plates_.push_back(plate + " }\n");
        }
        if (extras && random_.chance(0.03))
            text_ += "motor = \"universal\"\nplate = { current = \"unknown\" }\n";
        else
            text_ += plates_.back();
        if (random_.chance(0.2)) text_ += "duty = \"hours\"\n";
        if (options_.whole) hand();
        ++made_;
    }

    /// What stays on by itself, what cuts, and what drops out.
    void hand() {
        for (const char* field : {"latched", "cutter", "no_volt"})
            if (random_.chance(0.6)) text_ += fmt::format("{} = {}\n", field, random_.chance(0.5));
        if (random_.chance(0.5)) text_ += fmt::format("class = \"{}\"\n", random_.chance(0.5) ? "I" : "II");
    }

    BenchDice& random_;
    BenchOptions options_;
    bool us_ = false, one_line_ = true;
    std::string text_;
    std::vector<std::string> boxes_, plates_;
    int made_ = 0, outlets_ = 0, switches_ = 0;
};

inline std::string random_bench(BenchDice& random, const BenchOptions& options) {
    return RandomBench(random, options).plan();
}

}  // namespace benchfeed::test
