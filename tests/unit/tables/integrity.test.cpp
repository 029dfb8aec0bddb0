// What physics fixes is recomputed from every table; each cell that deviates stands by name in a list, with its
// reason. A deviation that is not listed fails, and so does a listed one that no longer deviates.
#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <set>

#include "support/prints_as.hpp"
#include "tables/catalogue.hpp"

using namespace benchfeed;
using tables::Table;

namespace {

const tables::Catalogue& catalogue() {
    static const tables::Catalogue all;
    return all;
}
const Table& table(std::string_view id) {
    const Table* found = catalogue().table(id);
    REQUIRE_MESSAGE(found != nullptr, std::string(id));
    return *found;
}

/// Collects deviating cells and compares them with the list.
class Deviations {
public:
    explicit Deviations(std::map<std::string, std::string> listed) : listed_(std::move(listed)) {}
    void look(const std::string& cell, bool fits) {
        if (!fits) found_.insert(cell);
        ++looked_;
    }
    ~Deviations() {
        CHECK(looked_ > 0);
        for (const auto& cell : found_) CHECK_MESSAGE(listed_.contains(cell), "deviates and is not listed: " << cell);
        for (const auto& [cell, why] : listed_) CHECK_MESSAGE(found_.contains(cell), "listed but does not deviate: " << cell << " (" << why << ")");
    }

private:
    std::map<std::string, std::string> listed_;
    std::set<std::string> found_;
    int looked_ = 0;
};

std::string cell_name(const Table& t, std::size_t row, std::string_view column) {
    return t.cite(row, *t.column(column)).table + " " + t.cite(row, *t.column(column)).cell;
}

bool rounds_to(double value, double printed, double unit_of_last_digit) {
    return std::abs(value - printed) <= 0.5 * unit_of_last_digit + 1e-9;
}

}  // namespace

TEST_CASE("every table is read, and every source is used") {
    for (const auto& problem : catalogue().problems()) FAIL_CHECK(problem.message);
    CHECK(catalogue().ids().size() >= 140);
    std::set<std::string> used;
    for (const auto id : catalogue().ids()) used.insert(table(id).source_key);
    for (const auto& source : catalogue().sources()) CHECK_MESSAGE(used.contains(source.key), source.key);
}

// Physics: losses equal heat flow, so k = sqrt((Tc - Ta) / (Tc - 30)), printed to two decimals.
TEST_CASE("ambient factors follow the square-root law") {
    struct Column {
        const char *table, *column;
        double conductor;
    };
    Deviations deviations({
        {"bs-4f3a-ambient-60 55 degC, factor", ""},
    });
    for (const Column& c : {Column{"iec-b52-14", "pvc_70", 70}, Column{"iec-b52-14", "xlpe_90", 90}, Column{"bs-4f3a-ambient-60", "factor", 60},
                            Column{"nec-310-15-b-1", "f_60", 60}, Column{"nec-310-15-b-1", "f_75", 75}, Column{"nec-310-15-b-1", "f_90", 90}}) {
        const Table& t = table(c.table);
        for (std::size_t row = 0; row < t.rows.size(); ++row) {
            const auto ambient = t.number(row, "ambient"), factor = t.number(row, c.column);
            if (!factor) continue;
            const double law = std::sqrt(std::max(0.0, (c.conductor - *ambient) / (c.conductor - 30)));
            deviations.look(cell_name(t, row, c.column), rounds_to(law, *factor, 0.01));
        }
    }
}

// Physics: IEC 60228 allows more than 17.241 ohm mm2/km because of lay and tolerance, within narrow bounds.
TEST_CASE("resistances of IEC 60228 lie just above the resistivity of copper") {
    const double copper = table("iec-60028").number(0, "factor").value_or(0) * 17.241;
    REQUIRE(test::agrees(copper, 17.241, 1e-9));
    Deviations deviations({});
    for (const char* id : {"iec-60228-class-1-2", "iec-60228-class-5"}) {
        const Table& t = table(id);
        for (std::size_t row = 0; row < t.rows.size(); ++row) {
            const double ratio = *t.number(row, "max_r") * *t.number(row, "section") / copper;
            deviations.look(cell_name(t, row, "max_r"), ratio > 1.0 && ratio < 1.18);
        }
    }
}

// Source   NEC chapter 9 table 8; AWG by ASTM B258; copper 10.371 ohm cmil/ft at 20 degC, alpha 0.00393.
TEST_CASE("NEC conductor properties follow from gauge and resistivity") {
    const Table& t = table("nec-ch9-8");
    Deviations deviations({});
    for (std::size_t row = 0; row < t.rows.size(); ++row) {
        const Section size = t.section(row, "size")->value;
        const double mils = in(unit::circular_mil, size.area);
        deviations.look(cell_name(t, row, "area_cmil") + " area", test::agrees(*t.number(row, "area_cmil"), mils, 0.004));
        const double kft = *t.number(row, "r_cu"), km = *t.number(row, "r_cu_metric");
        deviations.look(cell_name(t, row, "r_cu") + " units", test::agrees(km, kft * 3.28084, 0.006));
        const double stranding = *t.number(row, "strands") > 1 ? 1.02 : 1.0;
        const double by_resistivity = 10.371 * 1000 / mils * (1 + 0.00393 * 55) * stranding;
        deviations.look(cell_name(t, row, "r_cu") + " resistivity", test::agrees(kft, by_resistivity, 0.012));
    }
}

// Source   BS 7671 4D1B, 4F3B: mV/A/m = 2 (or sqrt 3) x resistance at conductor temperature.
TEST_CASE("drops per ampere and metre follow from IEC 60228") {
    struct Pair {
        const char *drops, *resistances;
        double temperature;
    };
    Deviations deviations({
        {"bs-4d1b 1 mm2, single_phase", "printed 44, computes 43.3"},
        {"bs-4d1b 6 mm2, single_phase", "printed 7.3, computes 7.37"},
        {"bs-4d1b 4 mm2, three_phase", "printed 9.5, computes 9.55"},
        {"bs-4e1b 10 mm2, three_phase", "printed 4.0, computes 4.04: prints one decimal"},
    });
    for (const Pair& p : {Pair{"bs-4d1b", "iec-60228-class-1-2", 70}, Pair{"bs-4e1b", "iec-60228-class-1-2", 90}, Pair{"bs-4f3b", "iec-60228-class-5", 60}}) {
        const Table &drops = table(p.drops), &resistances = table(p.resistances);
        for (std::size_t row = 0; row < drops.rows.size(); ++row) {
            const auto there = resistances.row_of("section", *drops.number(row, "section"));
            if (!there) continue;  // 1.25 mm2 is no size of IEC 60228
            const double r = *resistances.number(*there, "max_r") * (1 + 0.00393 * (p.temperature - 20));
            for (const auto& [column, factor] : {std::pair{"single_phase", 2.0}, std::pair{"three_phase", std::sqrt(3.0)}}) {
                const auto printed = drops.number(row, column);
                if (!printed) continue;
                const double unit = *printed >= 10 ? 1 : 0.1;
                deviations.look(cell_name(drops, row, column), rounds_to(factor * r, *printed, unit));
            }
        }
    }
}

TEST_CASE("ampacities and ratings rise with the section, factors fall with heat and company") {
    Deviations deviations({});
    const auto monotone = [&](const char* id, std::initializer_list<const char*> columns, bool rising) {
        const Table& t = table(id);
        for (const char* column : columns) {
            std::optional<double> last;
            for (std::size_t row = 0; row < t.rows.size(); ++row) {
                const auto here = t.number(row, column);
                if (!here) continue;
                if (last) deviations.look(cell_name(t, row, column), rising ? *here >= *last : *here <= *last);
                last = here;
            }
        }
    };
    for (const char* id : {"iec-b52-2", "iec-b52-3", "iec-b52-4", "iec-b52-5"}) monotone(id, {"A1", "A2", "B1", "B2", "C", "D1"}, true);
    monotone("iec-b52-10", {"E_2", "E_3"}, true);
    monotone("bs-4f3a", {"single_phase", "three_phase"}, true);
    monotone("vde-0298-4-11", {"loaded_2", "loaded_3"}, true);
    monotone("nec-310-16", {"cu_60", "cu_75", "cu_90", "al_60", "al_75", "al_90"}, true);
    monotone("nec-400-5-a-1", {"a_3ccc", "b_2ccc", "heater"}, true);
    monotone("nec-430-248", {"v115", "v200", "v208", "v230"}, true);
    monotone("nec-430-250", {"v200", "v208", "v230", "v460", "v575"}, true);
    monotone("iec-b52-14", {"pvc_70", "xlpe_90"}, false);
    monotone("iec-b52-17", {"bunched", "single_layer_wall_floor", "under_ceiling", "perforated_tray", "ladder_cleats"}, false);
    monotone("nec-310-15-c-1", {"factor"}, false);
    monotone("nec-400-5-a-3", {"factor"}, false);
}

// Source   BS 7671 Table 41.3: 0.95 x 230 V / (5, 10 or 20 In); NEC 430.251(A): 6 x 430.248; UL 943: (20/I)^1.43.
TEST_CASE("tables that follow from a formula follow from it") {
    Deviations deviations({});
    const Table& zs = table("bs-41-3");
    for (std::size_t row = 0; row < zs.rows.size(); ++row)
        for (const auto& [column, times] : {std::pair{"B", 5.0}, std::pair{"C", 10.0}, std::pair{"D", 20.0}})
            deviations.look(cell_name(zs, row, column), std::abs(0.95 * 230 / (times * *zs.number(row, "rating")) - *zs.number(row, column)) <= 0.0051);
    const Table &locked = table("nec-430-251-a"), &running = table("nec-430-248");
    for (std::size_t row = 0; row < locked.rows.size(); ++row) {
        const auto there = running.row_of("hp", *locked.number(row, "hp"));
        REQUIRE(there.has_value());
        for (const char* column : {"v115", "v230"})
            deviations.look(cell_name(locked, row, column), test::agrees(*locked.number(row, column), 6 * *running.number(*there, column), 1e-9));
    }
    const Table& gfci = table("ul-943");
    for (std::size_t row = 0; row < gfci.rows.size(); ++row)
        deviations.look(cell_name(gfci, row, "max_trip_s"), test::agrees(*gfci.number(row, "max_trip_s"), std::pow(20 / *gfci.number(row, "fault_ma"), 1.43), 0.01));
    const Table& boxes = table("nec-314-16-b");
    for (std::size_t row = 0; row < boxes.rows.size(); ++row)
        deviations.look(cell_name(boxes, row, "volume"), test::agrees(*boxes.number(row, "volume") * 16.387, *boxes.number(row, "volume_metric"), 0.003));
    const Table& letters = table("nec-430-7-b");
    for (std::size_t row = 1; row < letters.rows.size(); ++row) {
        const auto below = letters.number(row - 1, "kva_hp_max"), from = letters.number(row, "kva_hp_min");
        deviations.look(cell_name(letters, row, "kva_hp_min"), below && std::abs(*from - *below - 0.01) < 1e-9);
    }
}
