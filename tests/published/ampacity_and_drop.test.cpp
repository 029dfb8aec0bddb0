// Published worked examples about ampacity, correction, cords and voltage drop: source beside each check,
// digits as printed.
#include <doctest/doctest.h>

#include <benchfeed/check.hpp>
#include <benchfeed/network/ambient.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/conductor.hpp>
#include "published/circuits.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::agrees;
using test::catalogue;
using test::prints_as;

namespace {

double cell(std::string_view table, std::string_view size, std::string_view column) {
    const auto* t = catalogue().table(table);
    REQUIRE(t != nullptr);
    const auto row = t->row_of("size", size);
    REQUIRE(row.has_value());
    return *t->number(*row, column);
}
double factor_in(std::string_view table, double count) {
    const auto* t = catalogue().table(table);
    const auto row = t->row_in_range("from", "to", count);
    REQUIRE(row.has_value());
    return *t->number(*row, "factor");
}

/// What the product itself says of one cable.
network::Ampacity ampacity_of(const std::string& region, const std::string& system, const std::string& stock,
                              const std::string& cable, const std::string& ambient) {
    const std::string plan =
        "format = 1\n[plan]\nregion = \"" + region + "\"\nmounting = \"fixed\"\nambient = \"" + ambient +
        "\"\n[supply.s]\nsystem = \"" + system + "\"\n[stock.c]\n" + stock +
        "\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"3 m\"" + cable +
        " }\n[load.x]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n";
    auto result = check(text::Document("example.toml", plan), catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&result)) FAIL(problems->front().message);
    const auto& judged = std::get<Judged>(result);
    return network::ampacity(judged.plan(), catalogue(), judged.situation().network,
                             judged.plan().find(plan::Kind::box, "b"));
}

/// Volts that are lost between two lines, and between a line and the neutral, on a run with this impedance in
/// each line.
struct Lost {
    double between_lines = 0, to_neutral = 0;
};
Lost lost_on_three_lines(double ohms, double amps) {
    network::Circuit circuit = test::three_lines(400.0 * unit::volt);
    const auto end = test::add_run(circuit, plan::nowhere, test::ohms(ohms));
    test::add_balanced(circuit, end, amps * unit::ampere, 0);
    const auto solution = network::solve(circuit);
    const auto l1 = test::index(plan::Conductor::l1), l2 = test::index(plan::Conductor::l2);
    const auto& left = solution.volts[end];
    return {400 - in(unit::volt, magnitude(VoltagePhasor(left[l1] - left[l2]))),
            in(unit::volt, magnitude(circuit.source[l1])) - in(unit::volt, magnitude(left[l1]))};
}
/// The same of one line and its neutral; `ohms` of both together.
double lost_on_one_line(double ohms, double amps) {
    network::Circuit circuit = test::one_line(230.0 * unit::volt);
    const auto end = test::add_run(circuit, plan::nowhere, test::ohms(ohms));
    test::add_load(circuit, end, network::ConstantCurrent{test::at(amps * unit::ampere, 0)});
    const auto solution = network::solve(circuit);
    return 230 - in(unit::volt, magnitude(solution.volts[end][test::index(plan::Conductor::l1)]));
}

/// Circular mils with which a run loses no more than the allowed volts: what a core of 100 000 loses, scaled.
double circular_mils(double lost, double allowed) {
    return 100'000 * lost / allowed;
}

}  // namespace

TEST_CASE("amp-nec-amb-02: 10 AWG, 90 degC, at 120 degF carries 32.8 A before its terminals end it") {
    // Source   J. Stallcup, applying correction factors.
    const auto found = ampacity_of("US", "120 V", "type = \"THHN\"\nsection = \"10 AWG\"\ncores = 3",
                                   ", method = \"conduit\"", "120 degF");
    REQUIRE(found.value.has_value());
    REQUIRE(found.factors.size() == 1);
    CHECK(
        prints_as(in(unit::ampere, found.base.value) * in(unit::one, found.factors[0].figure.value), "32.8"));
    CHECK(prints_as(in(unit::ampere, *found.value), "30"));  // 110.14(C): the 60 degC column
}

TEST_CASE("amp-nec-grp-01, amp-nec-grp-03: 12 AWG with 9 and with 12 current-carrying conductors") {
    // Source   J. Stallcup, EC&M Code Quiz: 21 A and 15 A from the 90 degC column.
    CHECK(prints_as(cell("nec-310-16", "12 AWG", "cu_90") * factor_in("nec-310-15-c-1", 9), "21"));
    CHECK(prints_as(cell("nec-310-16", "12 AWG", "cu_90") * factor_in("nec-310-15-c-1", 12), "15"));
    const auto found = ampacity_of("US", "120 V", "type = \"THHN\"\nsection = \"12 AWG\"\ncores = 3",
                                   ", method = \"conduit\", grouped = 6", "30 degC");
    REQUIRE(found.value.has_value());
    CHECK(prints_as(in(unit::ampere, *found.value), "15"));  // six circuits of two: twelve conductors
}

TEST_CASE("corr-nec-40C-01, corr-iec-temp-01: correction factors follow the square-root law") {
    // Source   NEC 40 degC base as printed by a cable distributor; IEC 60364-5-52 Table B.52.14.
    const auto law = [](double insulation, double reference, double ambient) {
        return in(unit::one, network::ambient_law(celsius(insulation), celsius(reference), celsius(ambient)));
    };
    CHECK(prints_as(law(75, 40, 50), "0.85"));
    CHECK(prints_as(law(90, 40, 50), "0.89"));
    CHECK(prints_as(law(150, 40, 50), "0.95"));
    CHECK(prints_as(law(200, 40, 50), "0.97"));
    const auto* t = catalogue().table("iec-b52-14");
    for (const double ambient : {25.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0}) {
        CAPTURE(ambient);
        const auto row = t->row_of("ambient", ambient);
        CHECK(std::abs(law(70, 30, ambient) - *t->number(*row, "pvc_70")) <= 0.0051);
        CHECK(std::abs(law(90, 30, ambient) - *t->number(*row, "xlpe_90")) <= 0.0051);
    }
}

TEST_CASE("amp-iec-eig-01: 58 A at 40 degC with four other circuits asks for 85 A") {
    // Source   Electrical Installation Guide, chapter G (answer from memory, so no sole ground).
    const auto *ambient = catalogue().table("iec-b52-14"), *group = catalogue().table("iec-b52-17");
    const double k = *ambient->number(*ambient->row_of("ambient", 40.0), "xlpe_90") *
                     *group->number(*group->row_of("circuits", 5.0), "perforated_tray");
    CHECK(prints_as(58 / k, "85"));
}

TEST_CASE("cord-nec-adj-01: a 10 AWG heater cord of six conductors carries 28 A") {
    // Source   Electrical Exam Seminars, sample question on cord ampacity (35 A x 0.80).
    CHECK(prints_as(cell("nec-400-5-a-1", "10 AWG", "heater") * factor_in("nec-400-5-a-3", 6), "28"));
}

TEST_CASE("cord-ext-len-01: cord sizes of tool manuals, 5 V at 150 % of the amps, cord ampacity as a floor") {
    // Source   Tool-manual extension cord table, 120 V; 21 cells, resistance at 20 degC.
    struct Cell {
        double amps, feet;
        int gauge;
    };
    const Cell cells[] = {{2, 100, 18}, {2, 150, 16},  {3.4, 75, 18}, {3.4, 100, 16}, {3.4, 150, 14},
                          {5, 50, 18},  {5, 75, 16},   {5, 100, 14},  {5, 150, 12},   {7, 50, 16},
                          {7, 75, 14},  {7, 100, 12},  {7, 150, 12},  {12, 25, 16},   {12, 50, 14},
                          {12, 75, 12}, {12, 100, 10}, {16, 25, 14},  {16, 50, 12},   {16, 75, 10},
                          {20, 25, 12}};
    const auto *resistance = catalogue().table("nec-ch9-8"), *cords = catalogue().table("nec-400-5-a-1"),
               *coefficient = catalogue().table("conductor-temperature");
    const auto alpha = coefficient->per_kelvin("alpha_cu_75");
    for (const Cell& c : cells) {
        CAPTURE(c.amps);
        CAPTURE(c.feet);
        int smallest = 0;
        for (const int gauge : {18, 16, 14, 12, 10}) {
            const Section size = section_of(Awg{gauge});
            const auto row = resistance->row_of(size);
            const auto r = network::resistance_at(resistance->impedance_per_length(*row, "r_cu")->value,
                                                  celsius(75), alpha->value, celsius(20));
            const Voltage drop = r * (2 * c.feet * unit::foot) * (1.5 * c.amps * unit::ampere);
            const bool carries =
                in(unit::ampere, cords->current(*cords->row_of(size), "b_2ccc")->value) >= c.amps;
            if (carries && in(unit::volt, drop) <= 5.0) {
                smallest = gauge;
                break;
            }
        }
        CHECK(smallest == c.gauge);
    }
}

TEST_CASE("vd-nec-k-1ph-01, vd-nec-k-3ph-01, vd-dc-cm-01, vd-nec-exact-k-01: circular-mil sizing") {
    // Source   Electrical Exam Seminars; EC&M code basics example 2; marine chandler's sheet; 8 AWG
    // aluminium, K.
    const auto size_for = [](double circular_mils) {
        return next_awg_size(circular_mils * unit::circular_mil)->number;
    };
    const double feeder = circular_mils(lost_on_one_line(2 * 12.9 * 180 / 100'000, 30), 3.6);
    CHECK(prints_as(feeder, "38700"));
    CHECK(size_for(feeder) == 4);
    CHECK(cell("nec-310-16", "4 AWG", "cu_75") == 85);
    const double motor = circular_mils(lost_on_three_lines(12.9 * 200 / 100'000, 20).between_lines, 14.4);
    CHECK(prints_as(motor, "6207"));
    CHECK(size_for(motor) == 12);
    CHECK(size_for(circular_mils(lost_on_one_line(10.75 * 10 / 100'000, 21), 0.36)) == 12);
    // K is what one foot of one circular mil has: the stranded row.
    const auto* t = catalogue().table("nec-ch9-8");
    std::size_t row = *t->row_of("size", "8 AWG");
    while (t->number(row, "strands") != 7.0) ++row;
    REQUIRE(t->text(row, "size") == "8 AWG");
    const Impedance foot = t->impedance_per_length(row, "r_al")->value * (1.0 * unit::foot);
    CHECK(prints_as(in(unit::ohm, foot) * *t->number(row, "area_cmil"), "21.1328"));
}

TEST_CASE("vd-nec-t8-01: 100 ft of 16 AWG, 4 A at 24 V lose 4.0 V") {
    // Source   Electrician training course, Table 8 resistance 4.99 ohm/kft.
    const auto* t = catalogue().table("nec-ch9-8");
    const auto r = t->impedance_per_length(*t->row_of("r_cu", 4.99), "r_cu");
    REQUIRE(r.has_value());
    const Voltage drop = r->value * (200.0 * unit::foot) * (4.0 * unit::ampere);
    CHECK(prints_as(in(unit::volt, drop), "4.0"));
    CHECK(std::abs(in(unit::volt, drop) / 24 * 100 - 16.7) <= 0.1);
}

TEST_CASE("vd-nec-t9-z-01: effective impedance at power factor 0.85 in steel conduit") {
    // Source   NEC chapter 9 table 9 as used in EC&M: 10 AWG 1.1, 12 AWG 1.7 ohm/kft.
    const auto z = [](const char* size) {
        return cell("nec-ch9-9", size, "r_cu_steel") * 0.85 +
               cell("nec-ch9-9", size, "x_steel") * std::sqrt(1 - 0.85 * 0.85);
    };
    CHECK(prints_as(z("10 AWG"), "1.1"));
    CHECK(prints_as(z("12 AWG"), "1.7"));
}

TEST_CASE("vd-bs-mvam-01: mV/A/m are 2 or sqrt 3 times 1.2 times the resistance at 20 degC") {
    // Source   BS 7671 Tables 4D1B/4D2B against IEC 60228; ten cells.
    const auto* r20 = catalogue().table("iec-60228-class-1-2");
    const auto mv = [&](double section, double wires) {
        return wires * 1.2 * *r20->number(*r20->row_of("section", section), "max_r");
    };
    const double two = 2, three = std::sqrt(3.0);
    CHECK(prints_as(mv(1.5, two), "29"));
    CHECK(prints_as(mv(2.5, two), "18"));
    CHECK(prints_as(mv(4, two), "11"));
    CHECK(prints_as(mv(10, two), "4.4"));
    CHECK(prints_as(mv(16, two), "2.8"));
    CHECK(prints_as(mv(1.5, three), "25"));
    CHECK(prints_as(mv(2.5, three), "15"));
    CHECK(prints_as(mv(6, three), "6.4"));
    CHECK(prints_as(mv(10, three), "3.8"));
    CHECK(prints_as(mv(16, three), "2.4"));
}

TEST_CASE("vd-iec-eig-2008, vd-iec-unit-01, vd-bs-3ph-01: unit drops") {
    // Source   Electrical Installation Guide 2008 p. G23 example 2; 2008 and 2018 unit drops; UK
    // distributor's page.
    // A unit drop between lines is sqrt 3 times the resistance of one.
    const Lost feeder = lost_on_three_lines(0.55 / std::sqrt(3.0) * 0.050, 150);
    CHECK(prints_as(feeder.between_lines, "4.125"));
    CHECK(prints_as(feeder.to_neutral, "2.38"));
    const double final_run = lost_on_one_line(18 * 0.020, 20);
    CHECK(prints_as(final_run, "7.2"));
    CHECK(prints_as(feeder.to_neutral + final_run, "9.6"));
    CHECK(prints_as((feeder.to_neutral + final_run) / 230 * 100, "4.2"));
    // One ampere over one kilometre; ohm mm2 / km over mm2.
    const auto rho = [](Section section, double milliohm_mm2_per_metre) {
        return milliohm_mm2_per_metre / in(unit::mm2, section.area);
    };
    const Section small = section_of(2.5 * unit::mm2), large = section_of(70.0 * unit::mm2);
    CHECK(prints_as(lost_on_one_line(2 * rho(small, 22.5), 1), "18"));
    CHECK(prints_as(lost_on_one_line(2 * rho(small, 23.7), 1), "19"));
    CHECK(prints_as(lost_on_three_lines(rho(large, 23.7), 1).between_lines, "0.59"));
    // 10.5 V are allowed; what 1 mV/A/m loses says how many mV/A/m that is.
    const auto distributor = [](double millivolts) {
        return lost_on_three_lines(millivolts / 1000 / std::sqrt(3.0) * 150, 100).between_lines;
    };
    CHECK(prints_as(distributor(1.1), "16.5"));
    CHECK(prints_as(10.5 / distributor(1), "0.7"));
}

TEST_CASE("the network itself: one cable, one load, against the printed drop per ampere and metre") {
    // Source   BS 7671 Table 4F3B: 1.5 mm2 cord 32 mV/A/m at 60 degC (both conductors); Table 4D1B: 2.5 mm2
    // 18 mV/A/m.
    struct Run {
        const char *type, *section, *more, *printed;
    };
    for (const Run& run :
         {Run{"H07RN-F", "1.5 mm2", "", "32"}, Run{"H07RN-F", "2.5 mm2", "", "19"},
          Run{"H07RN-F", "1.0 mm2", "", "46"}, Run{"PVC sheathed", "2.5 mm2", ", method = \"C\"", "18"},
          Run{"PVC sheathed", "1.5 mm2", ", method = \"C\"", "29"}}) {
        CAPTURE(run.section);
        const std::string plan =
            std::string(
                "format = 1\n[plan]\nregion = \"UK\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 "
                "V\"\n[stock.c]\ntype = \"") +
            run.type + "\"\nsection = \"" + run.section +
            "\"\ncores = 3\n[box.b]\nfrom = \"supply.s\"\ncable = { stock = \"c\", length = \"10 m\"" +
            run.more +
            " }\n[load.x]\nfrom = \"box.b\"\nmotor = \"none\"\nplate = { current = \"10 A\", voltage = \"230 "
            "V\" }\n";
        auto result = check(text::Document("run.toml", plan), catalogue());
        REQUIRE(std::holds_alternative<Judged>(result));
        const auto& judged = std::get<Judged>(result);
        rules::Limit limit;
        limit.reach = {rules::Reach::Kind::left_at, judged.plan().find(plan::Kind::load, "x")};
        const double left =
            number(rules::evaluate(judged.situation(), limit, judged.plan().everything.loads).value);
        CHECK(prints_as((230 - left) * 1000 / (10 * 10), run.printed));
    }
}
