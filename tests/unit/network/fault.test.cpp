#include <benchfeed/network/fault.hpp>

#include <doctest/doctest.h>

#include <complex>
#include <numbers>
#include <string>

#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using network::Extreme;
using network::Loop;
using network::Return;
using test::agrees;
using test::catalogue;
using test::judged;
using test::prints_as;

namespace {

const std::string tn = "earthing = \"TN-C-S\"\n";

/// A plan of a supply and what hangs on it; `run` is 2.5 mm2 house cable, `lead` a 1.5 mm2 cord.
class Bench {
public:
    Bench(const std::string& supply, const std::string& elements, const std::string& system = "230 V")
        : plan_(judged(
              "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + system +
              "\"\n" + supply +
              "[stock.run]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 3\n"
              "[stock.thin]\ntype = \"PVC sheathed\"\nsection = \"1.5 mm2\"\ncores = 3\n"
              "[stock.five]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = 5\n"
              "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n"
              "[stock.two]\ntype = \"H05VV-F\"\nsection = \"1.0 mm2\"\ncores = 2\nprotective = false\n" +
              elements)) {}

    [[nodiscard]] const plan::Plan& plan() const { return plan_.plan(); }
    [[nodiscard]] plan::Index find(plan::Kind kind, const std::string& name) const {
        return plan_.plan().find(kind, name);
    }
    [[nodiscard]] Loop loop(plan::Index element, Return back, Extreme extreme) const {
        return network::fault_loop(plan_.plan(), catalogue(), plan_.situation().network, element, back,
                                   extreme);
    }
    /// Ohms to the box `b`; negative where the loop is not known.
    [[nodiscard]] double ohms(Return back, Extreme extreme) const {
        const Loop found = loop(find(plan::Kind::box, "b"), back, extreme);
        return found.known() ? in(unit::ohm, found.impedance()) : -1;
    }
    /// Highest current where the feed of an element starts [A]; negative where it is not known.
    [[nodiscard]] double most(plan::Index element) const {
        const auto found =
            network::most_fault_current(plan_.plan(), catalogue(), plan_.situation().network, element);
        return found ? in(unit::ampere, *found) : -1;
    }
    [[nodiscard]] double least(plan::Index element, Return back) const {
        const auto found =
            network::least_fault_current(plan_.plan(), catalogue(), plan_.situation().network, element, back);
        return found ? in(unit::ampere, *found) : -1;
    }

private:
    Judged plan_;
};

std::string box(const std::string& stock, const std::string& length,
                const std::string& more = ", method = \"C\"") {
    return "[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"" + stock + "\", length = \"" + length + "\"" +
           more + " }\n[load.x]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n";
}
std::string metres(int length) {
    return std::to_string(length) + " m";
}

}  // namespace

TEST_CASE("a loop is the source and both ways of the run, warm or cold") {
    // IEC 60228: 7.41 ohm/km at 20 degC; 20 m out and back: 0.2964 ohm; at 70 degC times 1.1965: 0.3546 ohm.
    const Bench bench(tn + "loop_impedance = \"0.5 ohm\"\n", box("run", "20 m"));
    CHECK(prints_as(bench.ohms(Return::protective, Extreme::most), "0.796"));
    CHECK(prints_as(bench.ohms(Return::protective, Extreme::least), "0.855"));
    // 0.95 * 230 V / 0.8547 ohm.
    CHECK(prints_as(bench.least(bench.find(plan::Kind::box, "b"), Return::protective), "256"));
}

TEST_CASE("a longer or thinner cable never lowers a loop, and a warm one is never below a cold one") {
    double before = 0;
    for (const int length : {1, 2, 5, 11, 30, 49}) {
        const Bench bench(tn + "loop_impedance = \"0.3 ohm\"\n", box("run", metres(length)));
        const Bench thin(tn + "loop_impedance = \"0.3 ohm\"\n", box("thin", metres(length)));
        for (const Return back : {Return::neutral, Return::protective}) {
            CHECK(bench.ohms(back, Extreme::least) > bench.ohms(back, Extreme::most));
            CHECK(thin.ohms(back, Extreme::most) > bench.ohms(back, Extreme::most));
        }
        CHECK(bench.ohms(Return::protective, Extreme::most) > before);
        before = bench.ohms(Return::protective, Extreme::most);
    }
}

TEST_CASE("beside a transformer the highest fault current holds every angle of the source") {
    // 6 kA at 230 V are 0.0383 ohm; 20 m of 7.41 ohm/km twice 0.2964 ohm and 0.0032 ohm. |Z e^(j phi) + R +
    // jX| for phi from 0 (resistance) to 90 degrees (reactance), by hand.
    const Bench bench(tn + "fault_current = \"6 kA\"\n", box("run", "20 m"));
    const double most = bench.most(bench.find(plan::Kind::load, "x"));
    for (int degrees = 0; degrees <= 90; degrees += 5) {
        const auto source = std::polar(230.0 / 6000, degrees * std::numbers::pi / 180);
        CHECK(230 / std::abs(source + std::complex<double>(0.2964, 0.0032)) <= most * (1 + 1e-9));
    }
    CHECK(prints_as(most, "768"));  // 230 V / sqrt(0.2964^2 + 0.0415^2)
    // At 1 kA the supply's own cables are most of it: 230 V / (0.23 + 0.2964) ohm.
    const Bench weak(tn + "fault_current = \"1 kA\"\n", box("run", "20 m"));
    CHECK(prints_as(weak.most(weak.find(plan::Kind::load, "x")), "437"));
}

TEST_CASE("more impedance of the source never raises a fault current") {
    double most_before = 1e9, least_before = 1e9;
    for (const char* source : {"0.05 ohm", "0.2 ohm", "0.35 ohm", "0.8 ohm", "5 ohm"}) {
        const Bench bench(tn + "loop_impedance = \"" + source + "\"\n", box("run", "12 m"));
        const auto load = bench.find(plan::Kind::load, "x"), at = bench.find(plan::Kind::box, "b");
        CHECK(bench.most(load) < most_before);
        CHECK(bench.least(at, Return::protective) < least_before);
        CHECK(bench.most(load) > bench.least(at, Return::protective));
        most_before = bench.most(load);
        least_before = bench.least(at, Return::protective);
    }
}

TEST_CASE("the source of each earthing") {
    // TN: the earth loop also bounds the line; TT: it holds the electrode and says nothing of the line.
    const std::string loop = "loop_impedance = \"0.4 ohm\"\n", run = box("run", "10 m");
    const Bench in_tn(tn + loop, run);
    CHECK(in_tn.ohms(Return::neutral, Extreme::least) > 0.4);
    const Bench in_tt("earthing = \"TT\"\nloop_impedance = \"90 ohm\"\n", run);
    CHECK(prints_as(in_tt.ohms(Return::protective, Extreme::least), "90.2"));
    CHECK(in_tt.ohms(Return::neutral, Extreme::least) < 0);
    CHECK(in_tt.most(in_tt.find(plan::Kind::load, "x")) < 0);
    const Bench line("earthing = \"TT\"\nloop_impedance = \"90 ohm\"\nline_impedance = \"0.6 ohm\"\n", run);
    CHECK(prints_as(line.ohms(Return::neutral, Extreme::most), "0.75"));
    CHECK(prints_as(line.most(line.find(plan::Kind::box, "b")), "383"));  // 230 V / 0.6 ohm
    // The stated current is the highest; the weakest source is the larger impedance of the two.
    const Bench both(tn + loop + "fault_current = \"3 kA\"\n", run);
    CHECK(agrees(both.most(both.find(plan::Kind::box, "b")), 3000, 1e-12));
    CHECK(agrees(both.ohms(Return::neutral, Extreme::least), in_tn.ohms(Return::neutral, Extreme::least),
                 1e-12));
    const Bench weak(tn + loop + "fault_current = \"230 A\"\n", run);
    CHECK(prints_as(weak.ohms(Return::neutral, Extreme::least), "1.18"));
    const Bench current_alone(tn + "fault_current = \"3 kA\"\n", run);
    CHECK(current_alone.ohms(Return::neutral, Extreme::least) < 0);
}

TEST_CASE("the source for a dip is never the strongest one alone") {
    const auto source = [](const std::string& supply) {
        const Bench bench(supply, box("run", "10 m"));
        const auto found = network::line_source(bench.plan(), bench.find(plan::Kind::supply, "s"));
        return found ? in(unit::ohm, *found) : -1;
    };
    CHECK(source(tn + "fault_current = \"6 kA\"\n") < 0);
    CHECK(source("earthing = \"TT\"\nloop_impedance = \"80 ohm\"\n") < 0);
    CHECK(agrees(source(tn + "loop_impedance = \"0.3 ohm\"\nfault_current = \"230 A\"\n"), 1, 1e-12));
    CHECK(agrees(source(tn + "loop_impedance = \"0.3 ohm\"\nline_impedance = \"0.2 ohm\"\n"), 0.2, 1e-12));
}

TEST_CASE("a reading at an outlet replaces what lies before it") {
    const auto with = [](const std::string& measured, const std::string& length) {
        return Bench(tn + "loop_impedance = \"0.3 ohm\"\n",
                     "[outlet.wall]\nfrom = \"supply.s\"\npattern = \"CEE 7/3\"\ncable = { stock = \"run\", "
                     "length = \"" +
                         length + "\", method = \"C\" }\n" + measured +
                         "[box.b]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\ncable = { stock = \"lead\", "
                         "length = \"5 m\" }\n"
                         "[load.x]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n");
    };
    const std::string measured = "measured = { loop = \"0.9 ohm\" }\n";
    const Bench bench = with(measured, "20 m"), longer = with(measured, "40 m"), without = with("", "20 m");
    const auto wall = bench.find(plan::Kind::outlet, "wall");
    // The meter found it cold: warm it may be 0.9 / 0.8.
    CHECK(agrees(in(unit::ohm, bench.loop(wall, Return::protective, Extreme::most).impedance()), 0.9, 1e-12));
    CHECK(agrees(in(unit::ohm, bench.loop(wall, Return::protective, Extreme::least).impedance()), 1.125,
                 1e-12));
    CHECK(bench.ohms(Return::protective, Extreme::least) == longer.ohms(Return::protective, Extreme::least));
    // Behind it the lead counts: 13.7 ohm/km tinned, 5 m, both ways, 60 degC: 0.1585 ohm.
    CHECK(prints_as(bench.ohms(Return::protective, Extreme::least), "1.284"));
    CHECK(bench.loop(bench.find(plan::Kind::box, "b"), Return::protective, Extreme::least).read_at == wall);
    // Of the loop to neutral it says nothing.
    CHECK(bench.ohms(Return::neutral, Extreme::least) == without.ohms(Return::neutral, Extreme::least));
    const Bench line = with("measured = { line = \"0.8 ohm\" }\n", "20 m");
    CHECK(agrees(in(unit::ohm, line.loop(wall, Return::neutral, Extreme::least).impedance()), 1.0, 1e-12));
    CHECK(line.ohms(Return::protective, Extreme::least) == without.ohms(Return::protective, Extreme::least));
}

TEST_CASE("the highest current takes strands as plain, the lowest as tinned") {
    const Bench bench(
        tn + "loop_impedance = \"0.3 ohm\"\nline_impedance = \"0.3 ohm\"\n" + "fault_current = \"500 A\"\n",
        box("lead", "10 m", ""));
    const auto at = bench.find(plan::Kind::box, "b");
    // IEC 60228 class 5, 1.5 mm2: 13.3 ohm/km plain, 13.7 ohm/km tinned.
    CHECK(agrees(in(unit::ohm, bench.loop(at, Return::neutral, Extreme::most).resistance), 2 * 10 * 13.3e-3,
                 1e-12));
    CHECK(agrees(in(unit::ohm, bench.loop(at, Return::neutral, Extreme::least).resistance),
                 2 * 10 * 13.7e-3 * (1 + 0.00393 * 40), 1e-3));
}

TEST_CASE("of figures that contradict each other the strongest source counts for the highest current") {
    const std::string box_here = box("lead", "10 m", "");
    const Bench bench(tn + "line_impedance = \"0.1 ohm\"\nfault_current = \"1 kA\"\n", box_here);
    const auto at = bench.find(plan::Kind::box, "b");
    CHECK(agrees(in(unit::ohm, *bench.loop(at, Return::neutral, Extreme::most).source), 0.1, 1e-12));
    const Bench weak(tn + "line_impedance = \"0.45 ohm\"\nfault_current = \"1 kA\"\n", box_here);
    CHECK(agrees(in(unit::ohm, *weak.loop(at, Return::neutral, Extreme::most).source), 0.23, 1e-12));
}

TEST_CASE("a loop without a protective core is broken, one of unknown length is uncertain") {
    const Bench two(tn + "loop_impedance = \"0.3 ohm\"\n", box("two", "3 m", ""));
    const auto at = two.find(plan::Kind::box, "b");
    CHECK(two.loop(at, Return::protective, Extreme::least).broken == at);
    CHECK(two.ohms(Return::protective, Extreme::least) < 0);
    CHECK(two.ohms(Return::neutral, Extreme::least) > 0.3);
    const Bench unknown(tn + "loop_impedance = \"0.3 ohm\"\n", box("run", "unknown"));
    CHECK(unknown.loop(unknown.find(plan::Kind::box, "b"), Return::protective, Extreme::least).uncertain ==
          unknown.find(plan::Kind::box, "b"));
    // 1 m cold to 30 m warm of 2.5 mm2.
    CHECK(prints_as(unknown.ohms(Return::protective, Extreme::most), "0.315"));
    CHECK(prints_as(unknown.ohms(Return::protective, Extreme::least), "0.832"));
}

TEST_CASE("a ring counts a quarter; a looped switch passes the line twice and the neutral not at all") {
    const Bench once(tn + "loop_impedance = \"0.1 ohm\"\nfault_current = \"6 kA\"\n", box("run", "40 m"));
    const Bench ring(tn + "loop_impedance = \"0.1 ohm\"\nfault_current = \"6 kA\"\n",
                     box("run", "40 m", ", method = \"C\", ring = true"));
    const auto runs = [](const Bench& bench, Return back) {
        return in(unit::ohm, bench.loop(bench.find(plan::Kind::box, "b"), back, Extreme::least).resistance);
    };
    for (const Return back : {Return::neutral, Return::protective})
        CHECK(agrees(runs(ring, back) * 4, runs(once, back), 1e-12));
    const Bench looped(
        tn + "loop_impedance = \"0.3 ohm\"\n",
        "[switch.w]\nfrom = \"supply.s\"\nwiring = \"loop\"\npoles = 1\ncable = { stock = \"run\", length = "
        "\"40 m\", method = \"C\" }\n[load.x]\nfrom = \"switch.w\"\nmotor = \"none\"\nplate = { current = "
        "\"1 A\" }\n");
    const auto sw = looped.find(plan::Kind::switch_, "w");
    const Loop through = looped.loop(sw, Return::protective, Extreme::least);
    CHECK(agrees(in(unit::ohm, through.resistance), runs(once, Return::protective), 1e-12));
    CHECK(through.known());
}

TEST_CASE("three lines: the highest current is that between the lines") {
    const std::string device =
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"16 A\"\ncurve = \"C\"\n"
        "standard = \"IEC 60898\"\n[box.b]\nfrom = \"device.d\"\ncable = { stock = \"five\", length = \"20 "
        "m\", "
        "method = \"C\" }\n[load.x]\nfrom = \"box.b\"\nconductors = \"L1-L2-L3\"\nmotor = \"none\"\nplate = "
        "{ current = \"1 A\" }\n"
        "[load.y]\nfrom = \"box.b\"\nconductors = \"L1-N\"\nmotor = \"none\"\nplate = { current = \"1 A\" "
        "}\n";
    const Bench stated("fault_current = \"3 kA\"\n" + tn, device, "230/400 V");
    const auto three = stated.find(plan::Kind::load, "x"), one = stated.find(plan::Kind::load, "y");
    // 230 V / (230 V / 3 kA + 20 m * 7.41 ohm/km) one way; out and back for one line.
    CHECK(prints_as(stated.most(three), "1023"));
    CHECK(prints_as(stated.most(one), "616"));
    // Impedance of a line and its return at the panel: between lines half of it counts, as inspectors double
    // the current.
    const Bench measured("loop_impedance = \"0.4 ohm\"\n" + tn, device, "230/400 V");
    const auto board = measured.find(plan::Kind::device, "d");
    CHECK(agrees(measured.most(board), 2 * 230 / 0.4, 1e-12));
    CHECK(agrees(measured.most(measured.find(plan::Kind::load, "x")),
                 2 * measured.most(measured.find(plan::Kind::load, "y")), 1e-3));
}

TEST_CASE("two lines without a neutral: the lowest current is that between the lines") {
    const auto bench = [](const char* system, const char* conductors) {
        return Bench(tn + "loop_impedance = \"0.2 ohm\"\n",
                     std::string("[box.b]\nfrom = \"supply.s\"\nconductors = \"") + conductors +
                         "\"\ncable = { stock = \"five\", length = \"20 m\", method = \"C\" "
                         "}\n[load.x]\nfrom = \"box.b\"\n"
                         "motor = \"none\"\nplate = { current = \"1 A\" }\n",
                     system);
    };
    const Bench lines = bench("230/400 V", "L1-L2-L3");
    const auto at = lines.find(plan::Kind::box, "b");
    // 0.95 * 400 V / 2 over the source and one line: 0.2 + 0.1773 ohm.
    CHECK(prints_as(lines.least(at, Return::neutral), "501"));
    // The highest, cold: 230 V over half of the 0.2 ohm, and the whole of one line: 0.1 + 0.1482 ohm.
    CHECK(prints_as(lines.most(lines.find(plan::Kind::load, "x")), "927"));
    // The line to earth keeps its 230 V, and the way back: 0.2 + 0.3546 ohm.
    CHECK(prints_as(lines.least(at, Return::protective), "394"));
}
