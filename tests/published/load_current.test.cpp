// Published worked examples about load current, overload and motors. Each names its source beside the check
// and compares digits as printed. Ids are those of the list in coverage.test.cpp.
#include <doctest/doctest.h>

#include <algorithm>

#include <benchfeed/check.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include "published/circuits.hpp"
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;
using test::agrees;
using test::catalogue;
using test::prints_as;

namespace {

/// The load current of a plate in a region.
network::LoadCurrent current_of(const std::string& region, const std::string& system,
                                const std::string& load) {
    const std::string plan = "format = 1\n[plan]\nregion = \"" + region +
                             "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"" + system +
                             "\"\n[load.x]\nfrom = \"supply.s\"\n" + load;
    static std::vector<Judged> keep;
    auto result = check(text::Document("example.toml", plan), catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&result)) FAIL(problems->front().message);
    keep.push_back(std::move(std::get<Judged>(result)));
    const auto s = keep.back().situation();
    return network::load_current(s.plan, catalogue(), s.practice(), s.plan.find(plan::Kind::load, "x"));
}
double amps(const network::LoadCurrent& found) {
    return in(unit::ampere, found.current);
}

}  // namespace

TEST_CASE("lc-1ph-motor-01: single-phase motor by shaft power") {
    // Source   UK electrical training blog, volt drop worked example: 4.5 kW, efficiency 0.75, 230 V, pf 0.7.
    const auto found = current_of("UK", "230 V",
                                  "motor = \"induction\"\nplate = { power_out = \"4.5 kW\", efficiency = "
                                  "0.75, power_factor = 0.7, voltage = \"230 V\" }\n");
    CHECK(prints_as(amps(found), "37.3"));
    const Power taken = found.voltage * found.current * found.power_factor;
    CHECK(prints_as(in(unit::watt, taken), "6000"));
    CHECK(found.from == network::CurrentFrom::power_out);
}

TEST_CASE("lc-heater-01: a 3 kW heater at 230 V draws 13 A") {
    // Source   Trade press answer on an immersion heater from a socket-outlet.
    CHECK(
        prints_as(amps(current_of("UK", "230 V",
                                  "kind = \"heater\"\nmotor = \"none\"\nplate = { power_in = \"3 kW\" }\n")),
                  "13"));
}

TEST_CASE("lc-1ph-motor-02: 15 A at 220 V are 3300 W, so 3 hp at the shaft has efficiency 0.678") {
    // Source   US Army correspondence course IT0348, p. 1-24 (1 hp = 746 W, power factor taken as 1).
    network::Circuit circuit = test::one_line(220.0 * unit::volt);
    const auto motor = test::add_run(circuit, plan::nowhere, test::ohms(0));
    test::add_load(circuit, motor, network::ConstantCurrent{test::at(15.0 * unit::ampere, 0)});
    const Power taken = real_part(test::power_on_l1(network::solve(circuit), motor));
    CHECK(prints_as(in(unit::watt, taken), "3300"));
    CHECK(prints_as(in(unit::one, Ratio(3.0 * unit::horsepower / taken)), "0.678"));
    CHECK(prints_as(in(unit::horsepower, taken), "4.42"));
}

TEST_CASE("mot-nec-1hp-01, mot-nec-5hp-01: full-load currents by horsepower come from Table 430.248") {
    // Source   EC&M, Motor calculations part 2 (1 hp, 115 V: 16 A); online NEC lesson (5 hp, 230 V: 28 A).
    const auto one = current_of("US", "120 V",
                                "motor = \"induction\"\nplate = { horsepower = \"1 hp\", horsepower_kind = "
                                "\"rated\", voltage = \"115 V\" }\n");
    CHECK(prints_as(amps(one), "16"));
    const auto five =
        electrical::motor_table_current({catalogue()}, false, 5.0 * unit::horsepower, 230.0 * unit::volt);
    REQUIRE(five.has_value());
    CHECK(prints_as(in(unit::ampere, five->value), "28"));
    // 430.22: 125 % of it: 20 A, carried by 12 AWG at 60 degC; 35 A, by 10 AWG at 75 degC. 430.52: 250 %: 40
    // A and 70 A.
    const double factor =
        in(unit::one, catalogue().table("nec-430-22")->ratio("continuous_duty_factor")->value);
    CHECK(prints_as(amps(one) * factor, "20"));
    CHECK(prints_as(in(unit::ampere, five->value) * factor, "35"));
    const auto* table = catalogue().table("nec-310-16");
    const double first = in(unit::ampere, one.current), second = in(unit::ampere, five->value);
    CHECK(table->section(*table->row_at_or_above("cu_60", first * factor), "size")->value.gauge == Awg{12});
    CHECK(table->section(*table->row_at_or_above("cu_75", second * factor), "size")->value.gauge == Awg{10});
    const auto* devices = catalogue().table("nec-430-52");
    const double share = *devices->number(0, "inverse_time_breaker") / 100;
    CHECK(prints_as(first * share, "40"));
    CHECK(prints_as(second * share, "70"));
    const auto* ratings = catalogue().table("nec-240-6-a");
    CHECK(*ratings->number(*ratings->row_at_or_above("rating", first * share), "rating") == 40);
    CHECK(*ratings->number(*ratings->row_at_or_above("rating", second * share), "rating") == 70);
}

TEST_CASE("a peak horsepower is never used, and nothing is guessed") {
    const auto found =
        current_of("US", "120 V",
                   "motor = \"universal\"\nplate = { horsepower = \"6 hp\", horsepower_kind = \"peak\" }\n");
    CHECK(found.from == network::CurrentFrom::unknown);
}

TEST_CASE("cont-125-01, cont-125-02: continuous load counts 1.25") {
    // Source   EC&M, sizing the circuit breaker: 50 A continuous + 125 A: 187.5 A, device 200 A; 200 A: 250
    // A.
    const double factor = in(unit::one, catalogue().table("nec-210-20")->ratio("continuous_factor")->value);
    const auto* ratings = catalogue().table("nec-240-6-a");
    CHECK(prints_as(125 + 50 * factor, "187.5"));
    CHECK(prints_as(200 * factor, "250"));
    CHECK(*ratings->number(*ratings->row_at_or_above("rating", 125 + 50 * factor), "rating") == 200);
    CHECK(*ratings->number(*ratings->row_at_or_above("rating", 200 * factor), "rating") == 250);
}

TEST_CASE("ov-bs-motor-01: In 40 A, It = In / Ca, and the drop of 30 m stays below 5 V") {
    // Source   UK electrical training blog: the motor of lc-1ph-motor-01, Ca 0.94, 10 mm2 at 4.4 mV/A/m, 30
    // m.
    const double drawn =
        amps(current_of("UK", "230 V",
                        "motor = \"induction\"\nplate = { power_out = \"4.5 kW\", efficiency = 0.75, "
                        "power_factor = 0.7, voltage = \"230 V\" }\n"));
    const auto* ratings = catalogue().table("iec-60898-ratings");
    const double device = *ratings->number(*ratings->row_at_or_above("rating", drawn), "rating");
    CHECK(prints_as(device, "40"));
    const auto* drops = catalogue().table("bs-4d1b");
    const auto row = drops->row_of(section_of(10.0 * unit::mm2));
    const double per_amp_metre =
        in(unit::ohm_per_metre, drops->impedance_per_length(*row, "single_phase")->value);
    CHECK(per_amp_metre * drawn * 30 < 5);
    CHECK(prints_as(per_amp_metre * drawn * 30, "4.92"));
    const auto* ambient = catalogue().table("iec-b52-14");
    CHECK(prints_as(device / *ambient->number(*ambient->row_of("ambient", 35.0), "pvc_70"), "42.55"));
}

TEST_CASE("ov-bs-fuse3036-01: a rewirable fuse asks for 1/0.725 of its rating") {
    // Source   Exercises of sizing cable: 16 kW at 400 V, 35 degC, 30 A fuse: It = 30 / (0.94 * 0.725)
    // = 44.02 A, 10 mm2 by 57 A.
    CHECK(prints_as(amps(current_of("UK", "230/400 V",
                                    "conductors = \"L1-L2-L3\"\nmotor = \"none\"\nplate = { power_in = "
                                    "\"16 kW\", voltage = \"400 V\" }\n")),
                    "23.094"));
    const double factor = in(unit::one, catalogue().table("bs-3036")->ratio("factor")->value);
    const auto* ambient = catalogue().table("iec-b52-14");
    // 30 A is the fuse that the exercise chooses.
    CHECK(prints_as(30 / (*ambient->number(*ambient->row_of("ambient", 35.0), "pvc_70") * factor), "44.02"));
    // The smallest of the printed sizes that heat.cable-unprotected lets stand behind the fuse.
    std::string smallest;
    for (const char* size : {"10", "6", "4", "2.5", "1.5"}) {
        const Judged plan = test::judged(
            std::string(
                "format = 1\n[plan]\nregion = \"UK\"\nmounting = \"fixed\"\nambient = \"35 degC\"\n"
                "[supply.s]\nsystem = \"230/400 V\"\n[device.f]\nfrom = \"supply.s\"\nkind = \"fuse\"\n"
                "standard = \"BS 3036\"\nconductors = \"L1-L2-L3\"\nrating = \"30 A\"\n[stock.c]\ntype = "
                "\"PVC sheathed\"\ncores = 4\nsection = \"") +
            size +
            " mm2\"\n[box.b]\nfrom = \"device.f\"\ncable = { stock = \"c\", length = \"3 m\", method = "
            "\"C\" }\n[load.x]\nfrom = \"box.b\"\nconductors = \"L1-L2-L3\"\nmotor = \"none\"\nplate = { "
            "power_in = \"16 kW\", voltage = \"400 V\" }\n");
        const auto& outcomes = plan.judgement().outcomes;
        const bool fails = std::any_of(outcomes.begin(), outcomes.end(), [](const rules::Outcome& o) {
            return rules::registry()[o.rule].id == "heat.cable-unprotected" &&
                   o.verdict == rules::Verdict::fail;
        });
        if (fails) break;
        smallest = size;
    }
    CHECK(smallest == "10");
}
